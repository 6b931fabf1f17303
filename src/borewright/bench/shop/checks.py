"""The checks of one instrument, to be ticked with a finger at the bench."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Any

from nicegui import ui
from nicegui.elements.mixins.text_element import TextElement

from borewright.bench.page import Page
from borewright.bench.shop.board import subject_words
from borewright.bench.shop.book import opened, write
from borewright.bench.shop.check_line import CheckLine
from borewright.bench.shop.record_words import upper
from borewright.bench.shop.records import look_at
from borewright.bench.widgets import button, heading, text
from borewright.bench.words import _
from borewright.ledger import Proof, WaitKind, names_of, proof_of, sign_off
from borewright.ledger.certifying import undone_words
from borewright.ledger.kinds.proving import NEEDED_CHECKS
from borewright.ledger.waiting import before_sign_off
from borewright.tasks.ledger.instrument_papers import issued_words

if TYPE_CHECKING:
    from borewright.ledger import Ledger


class ChecksCard:
    """The chosen serial number: what it waits for, its checks, the sign-off.

    :meth:`refresh` brings it up to date; a reading that is being typed stays, and so does
    which kinds of check are unfolded.
    """

    def __init__(self, page: Page) -> None:
        self.page = page
        self._drawn: tuple[str, tuple[tuple[str, str], ...]] | None = None
        self._lines: dict[tuple[str, str], CheckLine] = {}
        self._summaries: dict[str, TextElement] = {}
        self._box = ui.element("div")
        self.refresh()

    def refresh(self) -> None:
        """Show what the ledger says now."""
        page, serial = self.page, self.page.selected.get("serial", "")
        if not serial:
            self._drawn = None
            self._box.clear()
            with self._box:
                heading(_("Checks"))
                text(_("Choose a serial number above."))
            return
        book = opened(page.workbench)
        record = book.get("instrument", serial)
        design = book.get("design", str(record["design"]))
        proof = proof_of(book, serial)
        rows = {row["code"]: row for row in book.records("check", {"instrument": serial})}
        newest = {
            (check.subject.value, check.feature or ""): rows[check.code]
            for check in proof.readings
            if check.code in rows
        }
        asked = tuple(
            (subject, feature)
            for subject in NEEDED_CHECKS
            for feature in _features(subject, design, newest)
        )
        if self._drawn != (serial, asked):
            self._draw(serial, asked, newest)
            self._drawn = serial, asked
        for key, line in self._lines.items():
            line.show(newest.get(key))
        for subject, summary in self._summaries.items():
            mine = [newest.get(key) for key in asked if key[0] == subject]
            good = sum(bool(done and done["passed"]) for done in mine)
            words = _("{good} of {all} passed", good=good, all=len(mine))
            summary.set_text(upper(f"{subject_words()[subject]}: {words}"))
        self._next.set_text(
            _("Next: {what}", what=_.tell(proof.waits[0].words))
            if proof.waits
            else _("Delivered; nothing is waited for.")
        )
        self._end.clear()
        with self._end:
            _sign_off(page, proof)

    def _draw(
        self, serial: str, asked: tuple[tuple[str, str], ...], newest: dict[Any, Any]
    ) -> None:
        """Everything anew: another instrument, or other things to check."""
        unfolded = {
            subject: any(not (newest.get(key) or {"passed": False})["passed"] for key in asked
                         if key[0] == subject)
            for subject in NEEDED_CHECKS
        }  # fmt: skip
        self._box.clear()
        self._lines, self._summaries = {}, {}
        with self._box:
            heading(_("Checks of {serial}", serial=serial))
            with ui.element("div").classes("bw-row"):
                self._next = text("").props('data-mark="next"')
                button(
                    _("Look at it"), partial(look_at, self.page, "instrument", serial),
                    label=_("Look at the record of {serial}", serial=serial),
                    mark="look-serial",
                )  # fmt: skip
            for subject in NEEDED_CHECKS:
                features = [feature for about, feature in asked if about == subject]
                with ui.element("details").classes("bw-subject") as fold:
                    if unfolded[subject]:
                        fold.props["open"] = True
                    self._summaries[subject] = TextElement(tag="summary", text="").props(
                        f'data-mark="subject-{subject}"'
                    )
                    with ui.element("ul").classes("bw-checks"):
                        for feature in features:
                            line = CheckLine(self.page, serial, subject, feature)
                            self._lines[subject, feature] = line
                    if features == [""] and subject != "leak":
                        text(_("Readings of single notes, keys or stations come with a table: see "
                               "'borewright ledger add check --csv'."), small=True)  # fmt: skip
            self._end = ui.element("div")


def _features(
    subject: str, design: dict[str, Any], newest: dict[tuple[str, str], Any]
) -> list[str]:
    """What of a check is asked for: every sealed joint for leaks, else what was read so far."""
    if subject == "leak":
        return names_of(str(design["sealed_parts"] or "")) or [""]
    known = [feature for about, feature in newest if about == subject]
    return known or [""]


def _sign_off(page: Page, proof: Proof) -> None:
    serial, signed = proof.serial, proof.sign_off
    if signed is not None:
        why, words = undone_words(signed), _("Signed off by {who}.", who=signed.check.who)
        if why is not None:
            words = _("The sign-off by {who} does not hold any more: {why}.",
                      who=signed.check.who, why=_.tell(why))  # fmt: skip
        text(words).props('data-mark="signed"')
    for each in proof.issued:
        words = _.tell(issued_words(each))
        mark = f"certificate-{each.certificate.code}"
        text(_("Certificate {words}", words=words)).props(f'data-mark="{mark}"')
    if not any(wait.kind is WaitKind.SIGN_OFF for wait in proof.waits):
        return
    before = before_sign_off(proof.waits)
    if before:
        waits = "; ".join(_.tell(each.words) for each in before)
        text(_("Before the sign-off it waits for: {what}.", what=waits), small=True)

    def act(book: Ledger, who: str) -> None:
        sign_off(book, serial, who=who)

    button(
        _("Sign {serial} off", serial=serial),
        lambda: write(page, act),
        primary=not before,
        mark="sign-off",
    ).classes("bw-big")

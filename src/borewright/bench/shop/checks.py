"""The checks of one instrument, to be ticked with a finger at the bench."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Any

from nicegui import ui
from nicegui.elements.mixins.text_element import TextElement

from borewright.bench.page import Page
from borewright.bench.shop.board import subject_words
from borewright.bench.shop.book import opened, write
from borewright.bench.widgets import button, heading, text
from borewright.bench.widgets.number_field import TextField
from borewright.bench.words import _
from borewright.ledger import names_of, record_check, sign_off, waiting_for
from borewright.ledger.checking import USUAL_LIMITS
from borewright.ledger.kinds.proving import NEEDED_CHECKS, SIGN_OFF

if TYPE_CHECKING:
    from borewright.ledger import Ledger


class ChecksCard:
    """The chosen serial number: what it waits for, its checks, the sign-off.

    :meth:`fill` draws it anew; which kinds of check are unfolded is kept meanwhile.
    """

    def __init__(self, page: Page) -> None:
        self.page = page
        self._unfolded: dict[str, bool] = {}

    def fill(self) -> None:
        """Draw the card into the slot that is open."""
        page, serial = self.page, self.page.selected.get("serial", "")
        if not serial:
            heading(_("Checks"))
            text(_("Choose a serial number above."))
            return
        book = opened(page.workbench)
        record = book.get("instrument", serial)
        design = book.get("design", str(record["design"]))
        needs = waiting_for(book, [serial]).get(serial, [])
        heading(_("Checks of {serial}", serial=serial))
        if needs:
            text(_("Next: {what}", what=needs[0])).props('data-mark="next"')
        else:
            text(_("Delivered; nothing is waited for.")).props('data-mark="next"')
        newest = {
            (str(each["subject"]), str(each["feature"] or "")): each
            for each in book.records("check", {"instrument": serial})
        }
        for subject in NEEDED_CHECKS:
            features = _features(subject, design, newest)
            self._subject(serial, subject, {f: newest.get((subject, f)) for f in features})
        _sign_off(page, serial, needs, newest.get((SIGN_OFF, "")))

    def _subject(self, serial: str, subject: str, checks: dict[str, Any]) -> None:
        """One kind of check, folded where everything of it is well."""
        good = sum(bool(done and done["passed"]) for done in checks.values())
        unfolded = self._unfolded.get(subject, good < len(checks))

        def toggled(event: Any) -> None:
            self._unfolded[subject] = bool(event.args)

        with ui.element("details").classes("bw-subject") as fold:
            if unfolded:
                fold.props["open"] = True
            fold.on("toggle", toggled, js_handler="(event) => emit(event.target.open)")
            words = _("{good} of {all} passed", good=good, all=len(checks))
            summary = TextElement(tag="summary", text=f"{subject_words()[subject]}: {words}")
            summary.props(f'data-mark="subject-{subject}"')
            with ui.element("ul").classes("bw-checks"):
                for feature, done in checks.items():
                    _check(self.page, serial, subject, feature, done)
                if checks.keys() != {""} or subject == "leak":
                    return
                text(_("Readings of single notes, keys or stations come with a table: see "
                       "'borewright ledger add check --csv'."), small=True, tag="li")  # fmt: skip


def _features(
    subject: str, design: dict[str, Any], newest: dict[tuple[str, str], Any]
) -> list[str]:
    """What of a check is asked for: every sealed joint for leaks, else what was read so far."""
    if subject == "leak":
        return names_of(str(design["sealed_parts"] or "")) or [""]
    known = [feature for about, feature in newest if about == subject]
    return known or [""]


def _limits(subject: str, done: Any) -> tuple[float | None, float | None, str] | None:
    """Limits of the newest reading, else the usual ones; None where a look decides."""
    if done is not None and (done["lowest"], done["highest"]) != (None, None):
        return done["lowest"], done["highest"], str(done["unit"] or "")
    return USUAL_LIMITS.get(subject)


def _check(page: Page, serial: str, subject: str, feature: str, done: Any) -> None:
    passed = None if done is None else bool(done["passed"])
    state = "" if passed is None else ("bw-passed" if passed else "bw-failed")
    limits = _limits(subject, done)
    with ui.element("li").classes(state).props(f'data-mark="check-{subject}-{feature}"'):
        title = feature or subject_words()[subject]
        with ui.element("div").classes("bw-check-words"):
            text(title, tag="strong")
            if done is None:
                text(_("not done"), tag="span")
            else:
                verdict = _("passed") if passed else _("FAILED")
                text(f"{verdict} · {_reading(done)}{done['who']}", tag="span")
            if limits:
                words = " … ".join("" if x is None else f"{x:g}" for x in limits[:2])
                text(_("allowed: {limits} {unit}", limits=words, unit=limits[2]), small=True)
        act = partial(_record, page, serial, subject, feature)
        if limits:
            label = _("Reading, {unit}", unit=limits[2])
            value = TextField(label, "", mark=f"value-{subject}-{feature}")
            kept = {
                name: f"{limit:g}"
                for name, limit in zip(("lowest", "highest"), limits[:2], strict=True)
                if limit is not None
            } | {"unit": limits[2]}
            _act(
                _("Write down"),
                title,
                lambda: act(value=value.value, **kept),
                f"write-{subject}-{feature}",
            )
        else:
            _act(_("✓ Passed"), title, partial(act, passed="yes"), f"pass-{subject}-{feature}")
            _act(_("✗ Failed"), title, partial(act, passed="no"), f"fail-{subject}-{feature}")


def _act(words: str, title: str, act: Any, mark: str) -> None:
    button(words, act, label=f"{words}: {title}", mark=mark).classes("bw-big")


def _reading(done: Any) -> str:
    if done["value"] is None:
        return ""
    unit = f" {done['unit']}" if done["unit"] else ""
    return f"{done['value']:g}{unit} · "


def _record(page: Page, serial: str, subject: str, feature: str, **said: str) -> None:
    values = {"instrument": serial, "subject": subject, "feature": feature, **said}

    def act(book: Ledger, who: str) -> None:
        record_check(book, values, who=who)

    write(page, act)


def _sign_off(page: Page, serial: str, needs: list[str], signed: Any) -> None:
    if signed is not None:
        text(_("Signed off by {who}.", who=signed["who"])).props('data-mark="signed"')
    if not needs or SIGN_OFF not in needs:
        return
    before = needs[: needs.index(SIGN_OFF)]
    if before:
        text(_("Before the sign-off it waits for: {what}.", what="; ".join(before)), small=True)

    def act(book: Ledger, who: str) -> None:
        sign_off(book, serial, who=who)

    button(
        _("Sign {serial} off", serial=serial),
        lambda: write(page, act),
        primary=not before,
        mark="sign-off",
    ).classes("bw-big")

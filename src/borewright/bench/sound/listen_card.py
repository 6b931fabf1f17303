"""Listening: this instrument beside another, at one loudness, with what such a sound can tell."""

from __future__ import annotations

from nicegui import ui

from borewright.bench.jobs import Task
from borewright.bench.page import Page, outliving
from borewright.bench.print.making import digest
from borewright.bench.sound.listening import Heard, add_addresses, heard_before, render
from borewright.bench.sound.others import others
from borewright.bench.sound.wishes import keep, wishes_of
from borewright.bench.widgets import Choice, JobBar, button, heading, text
from borewright.bench.widgets.number_field import TextField
from borewright.bench.widgets.units import decimal
from borewright.bench.words import _
from borewright.bench.workbench import Change
from borewright.model.results.listening import SoundFile

_CHANGE = "listening"


class ListenCard:
    """Choosing notes and the other instrument; the players; the cautions."""

    def __init__(self, page: Page) -> None:
        self.page, self.bench = page, page.workbench
        add_addresses(self.bench)
        with ui.element("section").classes("bw-card bw-apart").props('data-mark="listening"'):
            heading(_("Listen"))
            text(_("A few notes, or the scale, of this instrument and of another: the same breath, "
                   "reed and loudness for both."))  # fmt: skip
            with ui.element("div").classes("bw-row"):
                now, offered = wishes_of(self.bench), others(self.bench)
                chosen = now.listen_against if now.listen_against in offered else ""
                self._other = Choice(
                    _("Beside"), offered, chosen,
                    lambda key: keep(page, listen_against=key), mark="listen-against",
                )  # fmt: skip
                self._notes = TextField(
                    _("Notes, with commas between"), now.listen_notes,
                    lambda typed: keep(page, listen_notes=typed),
                    placeholder=_("empty: the scale"), mark="listen-notes",
                )  # fmt: skip
                button(_("Render"), self._run, primary=True, mark="render-sound")
            self._bar = JobBar(_("The former sounds stay."))
            text(_("Turn the volume down before you listen.")).classes("bw-caution")
            self._outcome = ui.element("div")
        page.on_change(self._changed)
        self._bar.resume(self.bench.jobs, Task.LISTEN)
        self._show()

    def _changed(self, change: Change) -> None:
        if change.job is not None and change.job.task is Task.LISTEN:
            self._bar.show(change.job)
        elif change.what == "files":
            offered = others(self.bench)
            kept = self._other.value
            self._other.set(kept if kept in offered else "", offered)
        elif change.what in (_CHANGE, "instrument"):
            self._show()

    @outliving
    async def _run(self) -> None:
        bench = self.bench
        if bench.jobs.running(Task.LISTEN):
            return
        if bench.fingerings is None:
            self.page.tell(_("No fingering table: name one in the file to see pitches."))
            return
        against, notes = self._other.value, self._notes.value
        job = await bench.jobs.run(Task.LISTEN, lambda job: render(job, bench, against, notes))
        if job.error is not None:
            self.page.fail(job.error)
        elif job.result is not None:
            self.page.clear_message()
            bench.tell(Change(_CHANGE, self.page))

    def _show(self) -> None:
        if self._outcome.is_deleted:
            return
        self._outcome.clear()
        heard = heard_before(self.bench)
        if heard is None:
            return
        with self._outcome:
            if heard.of != digest(self.bench.path):
                text(_("The instrument was changed since: render it again.")).props('role="status"')
            with ui.element("div").classes("bw-players"):
                for letter, words, file, address in zip(
                    "AB",
                    (heard.file, heard.against),
                    heard.listening.files,
                    heard.addresses,
                    strict=False,
                ):
                    _player(letter, words, file, address)
            for notice in heard.listening.notices:
                text(_.tell(notice))
            _cautions(heard)


def _player(letter: str, words: str, file: SoundFile, address: str) -> None:
    with ui.element("figure").classes("bw-player"):
        with ui.element("figcaption"):
            text(f"{letter}: {file.instrument} ({words})", tag="strong")
        audio = ui.element("audio").props("controls preload=metadata").classes("bw-audio")
        audio.props["src"] = address
        audio.props["aria-label"] = _("Listen to {name}", name=f"{letter}, {words}")
        audio.props["data-mark"] = f"player-{letter}"
        text(
            _(
                "{notes}; {seconds} s; loudness {loudness} LUFS; the model gives {level} dB at "
                "the listener.",
                notes=", ".join(dict.fromkeys(note.fingering for note in file.notes)),
                seconds=decimal(file.seconds, 1),
                loudness=decimal(file.loudness_lufs, 1),
                level=decimal(file.level_at_listener_db, 0),
            ),
            small=True,
        )


def _cautions(heard: Heard) -> None:
    text(
        _(
            "It can tell how notes lie to each other, which are dull or bright beside their "
            "neighbours, which speak from a plain attack, and one design against another."
        )
    )
    text(_("It cannot tell how the instrument will sound to you: no room, mouth, tongue, breath "
           "noise or slurs, a reed from memory, smooth rigid walls, nothing new above 6 kHz. A "
           "difference that is only heard here, and not in a blind comparison of printed "
           "instruments, is none.")).props('data-mark="cannot-tell"')  # fmt: skip
    text(_("Start softly and turn it up to what you would call speech. Steady tones in headphones "
           "can harm hearing without seeming loud; keep sessions short."))  # fmt: skip
    text(
        _(
            "Blown with: {player}; listener at {distance} m.",
            player=_.tell(heard.listening.player),
            distance=_.number(heard.listening.distance_m, "g"),
        ),
        small=True,
    )

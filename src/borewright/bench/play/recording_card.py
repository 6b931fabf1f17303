"""The form before the microphone, and the place where recordings are dropped."""

from __future__ import annotations

import asyncio
import tempfile
from functools import partial
from pathlib import Path

from nicegui import ui
from nicegui.elements.mixins.text_element import TextElement

from borewright.bench.jobs import Task
from borewright.bench.page import Page
from borewright.bench.play.notes_file import names_of, notes_of, recording_of, save_notes
from borewright.bench.play.sitting import FREE, OWN, SCALE, keep, sitting_of
from borewright.bench.play.tracks import keep_track, measure
from borewright.bench.widgets import Choice, FileDrop, NumberField, heading, text
from borewright.bench.widgets.number_field import TextField
from borewright.bench.words import _
from borewright.bench.workbench import Change
from borewright.errors import BorewrightError, PlayingError, RefusedValue
from borewright.model import Instrument
from borewright.model.pulled import drawn_apart, pulled_text
from borewright.playing.phone_formats import SUFFIXES
from borewright.words import say

#: A take of half an hour in CD quality is 317 MB; most are far smaller.
MOST_BYTES = 350_000_000


def recording_card(page: Page) -> None:
    """Who plays what, in which room; then the recordings."""
    now = sitting_of(page)
    heading(_("1. Record"))
    text(
        _(
            "Three takes or more of one order of notes, two seconds a note, at an even loudness, "
            "no tuner in sight. Write down the room's temperature."
        )
    )
    with ui.element("div").classes("bw-row"):
        TextField(
            _("What is played"),
            now.instrument,
            lambda value: keep(page, instrument=value.strip()),
            mark="played",
        )
        TextField(
            _("Player"), now.player, lambda value: keep(page, player=value.strip()), mark="player"
        )
        TextField(
            _("Mouthpiece"),
            now.mouthpiece,
            lambda value: keep(page, mouthpiece=value.strip()),
            mark="mouthpiece",
        )
        TextField(_("Day"), now.day, lambda value: keep(page, day=value.strip()), mark="day")
        NumberField(
            _("Room"),
            now.temperature_c,
            lambda value: keep(page, temperature_c=value),
            unit="°C",
            decimals=1,
            low=-10,
            high=50,
            mark="temperature",
        )
        NumberField(
            _("Reference A"),
            now.a4_hz,
            lambda value: keep(page, a4_hz=value),
            unit="Hz",
            decimals=1,
            low=380,
            high=480,
            mark="a4",
        )

        def choose(value: str) -> None:
            keep(page, order=value)
            own.set_visibility(value == OWN)

        Choice(
            _("Order"),
            {
                FREE: _("any (nearest semitone)"),
                SCALE: _("all standard fingerings, upwards"),
                OWN: _("a list of notes"),
            },
            now.order,
            choose,
            help=_("A planned order also finds squeaks and notes that never came."),
            mark="order",
        )
        own = TextField(
            _("Notes in the order of playing"),
            now.own_order,
            lambda value: keep(page, own_order=value.strip()),
            placeholder="E3, F3, G3",
            mark="own-order",
        )
        own.set_visibility(now.order == OWN)
    _joints(page)
    FileDrop(
        _("Recordings of this sitting"),
        SUFFIXES,
        MOST_BYTES,
        partial(_received, page),
        many=True,
        mark="recordings",
    )


def _joints(page: Page) -> None:
    """How far the joints are drawn apart in the takes; folded away until one is."""
    instrument = page.workbench.instrument
    if instrument is None or len(instrument.parts) < 2:
        return
    now = sitting_of(page).pulled

    def pull(part: str, by_mm: float) -> None:
        gaps = {**sitting_of(page).pulled, part: by_mm}
        keep(page, pulled={name: mm for name, mm in gaps.items() if mm > 0})

    with ui.element("details").props('data-mark="joints"') as box:
        if now:
            box.props("open")
        TextElement(tag="summary", text=_("Joints pulled"))
        text(
            _("A take with a joint drawn apart is compared with that state, not with the drawing."),
            small=True,
        )
        with ui.element("div").classes("bw-row"):
            for part in instrument.parts[:-1]:
                NumberField(
                    _("{part} pulled by", part=part.name),
                    now.get(part.name, 0.0),
                    partial(pull, part.name),
                    units=page.units,
                    low=0,
                    high=20,
                    mark=f"pulled-{part.name}",
                )


def pulled_now(page: Page, instrument: Instrument) -> str:
    """Joints of the sitting as the table of notes tells them.

    Raises
    ------
    PlayingError
        Where one is drawn further than its tenon holds.
    """
    parts = {part.name for part in instrument.parts}
    gaps = {name: mm for name, mm in sitting_of(page).pulled.items() if name in parts}
    try:
        drawn_apart(instrument, gaps)
    except RefusedValue as error:
        raise PlayingError(error.cause, place=say("Joints pulled"), remedy=error.remedy) from error
    return pulled_text(gaps)


async def _received(page: Page, name: str, data: bytes) -> None:
    """Refuse what is no recording before it is kept; then keep and measure it."""
    bench = page.workbench
    _check_new(page, name)
    await asyncio.to_thread(_inspect, name, data)
    bench.folder.receive(name, data)
    bench.tell(Change("files", page))
    await measure_take(page, name)


def _check_new(page: Page, name: str) -> None:
    if name in {recording_of(record) for record in notes_of(page.workbench)}:
        raise PlayingError(
            say("the table of notes holds a take of this name already"),
            place=name,
            remedy=say("Give every recording a name of its own."),
        )


def _inspect(name: str, data: bytes) -> None:
    from borewright.playing.recording import inspect

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"take{Path(name).suffix}"
        path.write_bytes(data)
        try:
            inspect(path)
        except BorewrightError as error:
            raise error.named(str(path), name) from error


async def measure_take(page: Page, name: str) -> bool:
    """Measure a recording of the folder in a job, and put its notes into the table."""
    from borewright.playing import records_of
    from borewright.tasks.playing.recordings import pitch_at, planned_order

    bench, now = page.workbench, sitting_of(page)
    instrument, table = bench.instrument, bench.fingerings
    if instrument is None or table is None:
        raise PlayingError(
            say("the instrument has no fingerings, so notes cannot be told"),
            place=bench.file,
            remedy=say("Name a fingering table in the instrument's file."),
        )
    pulled = pulled_now(page, instrument)
    pitch, order = pitch_at(instrument, now.a4_hz), planned_order(now.planned, table)
    path = bench.folder.path(name)
    job = await bench.jobs.run(
        Task.MEASURE,
        lambda job: measure(job, path, name, pitch, now.temperature_c, order, table),
        say("Measuring {name}", name=name),
    )
    if job.error is not None:
        raise job.error
    if job.result is None:
        return False
    take, track = job.result
    keep_track(bench, take, track)
    records = [
        *notes_of(bench),
        *records_of(
            take,
            instrument=now.instrument or instrument.name,
            player=now.player,
            mouthpiece=now.mouthpiece,
            day=now.day,
            pulled=pulled,
        ),
    ]
    _check_new(page, name)
    if not save_notes(page, records, say("measure {name}", name=name)):
        return False
    page.select(take=name)
    if take.missing:
        page.tell(_("Not found: {notes}", notes=", ".join(map(_.tell, take.missing))))
    return True


def known_instruments(page: Page) -> list[str]:
    """Names under which takes are in the table; empty where it cannot be read."""
    try:
        return names_of(notes_of(page.workbench))
    except BorewrightError:
        return []

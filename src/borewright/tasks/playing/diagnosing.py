"""A diagnosis from files: design, takes and readings in, causes and the next reading out."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from borewright.errors import PlayingError
from borewright.model import load
from borewright.model.results.causes import Diagnosis
from borewright.tasks.inputs import fingerings_of
from borewright.tasks.playing.measured import measured_takes
from borewright.tasks.progress import Cancel, Progress, tell
from borewright.words import say


def diagnose_file(
    file: Path,
    notes: Path,
    *,
    readings: Path | None = None,
    name: str = "",
    player_cents: float | None = None,
    fingerings: Path | None = None,
    pulled: Sequence[str] = (),
    progress: Progress | None = None,
    cancel: Cancel | None = None,
) -> Diagnosis:
    """What is wrong with an instrument that was played, in the room of its takes.

    ``player_cents`` is one standard deviation of the player's own pitch, None the usual one.
    ``pulled`` names joints that were drawn apart in takes that tell nothing of it, each as
    ``PART=MM``.
    ``progress`` is told of each step; ``cancel`` is asked whether to stop.
    """
    from borewright.playing import as_built, diagnose, read_readings
    from borewright.playing.causes.unknowns import PLAYER_CENTS
    from borewright.playing.readings import LEAKS

    if player_cents is not None and player_cents < 0:
        raise PlayingError(
            say("the player's cents are below 0"),
            place="--player-cents",
            remedy=say("Give one standard deviation, such as 3."),
        )
    design = load(file)
    table = fingerings_of(design, file, fingerings)
    found = read_readings(readings) if readings else []
    played = measured_takes(notes, name, design, table, pulled)
    design = played.design
    as_built(design, table, found)  # refuses slips and names that there are not
    built = as_built(design, table, [each for each in found if each.item in LEAKS])
    instrument = built.instrument
    if played.room_c is not None:
        climate = instrument.climate.model_copy(update={"room_c": played.room_c})
        instrument = instrument.model_copy(update={"climate": climate})

    def told(done: int, steps: int) -> None:
        tell(progress, cancel, done / steps, say("what goes with takes and readings"))

    return diagnose(
        instrument,
        built.fingerings,
        played.notes,
        shared_cents=played.shared_cents,
        player_cents=PLAYER_CENTS if player_cents is None else player_cents,
        readings=found,
        leaks=built.leaks,
        room_known=played.room_c is not None,
        progress=told,
    )

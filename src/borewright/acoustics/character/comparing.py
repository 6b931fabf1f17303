"""Two instruments side by side: what differs, on which notes most, in plain words."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

import numpy as np

from borewright.acoustics.character.evenness import QUANTITIES
from borewright.model import (
    CharacterTable,
    Differences,
    NoteCharacter,
    NoteDifference,
    Register,
    RegisterDifference,
    Twelfth,
    Use,
)
from borewright.words import Message, Said, Text, joined, say

Read = Callable[[NoteCharacter], float | None]

#: Figure: unit, the step that a player may plausibly notice (common practice), how to read it,
#: and the words for more and for less of it.
FIGURES: dict[str, tuple[str, float, Read, Message, Message]] = {
    "pitch": ("cents", 5.0, lambda note: note.cents, say("sharper"), say("flatter")),
    "lattice cut-off": (
        "Hz",
        50.0,
        lambda note: note.lattice.cutoff_hz,
        say("brighter, more open"),
        say("darker, more covered"),
    ),
    "sounding peak": (
        "dB",
        1.0,
        QUANTITIES["peak"][2],
        say("firmer, harder to bend"),
        say("looser, easier to bend"),
    ),
    "out of alignment": (
        "cents",
        10.0,
        lambda note: None if note.alignment_cents is None else abs(note.alignment_cents),
        say("less focused"),
        say("more focused"),
    ),
    "radiated at 1250 Hz": (
        "dB",
        1.0,
        QUANTITIES["projection"][2],
        say("gives more of its upper sound away"),
        say("keeps more of its upper sound"),
    ),
    "venting": (
        "dB",
        1.0,
        QUANTITIES["venting"][2],
        say("the twelfth speaks more readily"),
        say("the twelfth speaks less readily"),
    ),
}
FIGURE_WORDS = {
    "pitch": say("pitch"),
    "lattice cut-off": say("lattice cut-off"),
    "sounding peak": say("sounding peak"),
    "out of alignment": say("out of alignment"),
    "radiated at 1250 Hz": say("radiated at 1250 Hz"),
    "venting": say("venting"),
}
_HEADS = {
    Register.CHALUMEAU: say("Chalumeau"),
    Register.THROAT: say("Throat"),
    Register.CLARION: say("Clarion"),
    Register.ALTISSIMO: say("Altissimo"),
}
_SAME = say("much the same")


def differences(first: CharacterTable, second: CharacterTable) -> Differences:
    """What the second instrument has that the first has not, fingering by fingering.

    Parameters
    ----------
    first, second
        Character tables; fingerings are matched by their names.

    Returns
    -------
    Differences
        Second less first. The size of a note's difference is the root of the sum of squares
        of its differences, each over the step in ``steps``.
    """
    ours = {note.fingering: note for note in first.notes}
    theirs = {note.fingering: note for note in second.notes}
    both = [name for name in ours if name in theirs]
    notes = [_note(ours[name], theirs[name]) for name in both]
    registers = [row for register in Register if (row := _register(register, notes))]
    twelfths = _twelfths(first.twelfths, second.twelfths)
    return Differences(
        first=first.instrument,
        second=second.instrument,
        units={name: row[0] for name, row in FIGURES.items()},
        steps={name: row[1] for name, row in FIGURES.items()},
        notes=notes,
        registers=registers,
        twelfths=twelfths,
        only_first=[name for name in ours if name not in theirs],
        only_second=[name for name in theirs if name not in ours],
        sentences=_sentences(notes, registers, twelfths),
        first_table=first,
        second_table=second,
    )


def _note(one: NoteCharacter, other: NoteCharacter) -> NoteDifference:
    found = {}
    for name, (_, _, read, _, _) in FIGURES.items():
        before, after = read(one), read(other)
        if before is not None and after is not None:
            found[name] = after - before
    return NoteDifference(
        fingering=one.fingering,
        register=one.register_,
        use=one.use,
        differences=found,
        size=_size(found),
        words=_words(found),
    )


def _size(found: dict[str, float]) -> float:
    return math.sqrt(sum((value / FIGURES[name][1]) ** 2 for name, value in found.items()))


def _words(found: dict[str, float]) -> Said:
    """Words for whatever differs by a noticeable step or more, the most first."""
    told = sorted(
        (name for name, value in found.items() if abs(value) >= FIGURES[name][1]),
        key=lambda name: -abs(found[name]) / FIGURES[name][1],
    )
    return joined([_tell(name, found[name]) for name in told], "; ") if told else _SAME


def _tell(name: str, value: float) -> Message:
    unit, _, _, more, less = FIGURES[name]
    words = more if value > 0 else less
    if unit == "Hz":
        return say(
            "{words} ({figure} {value:+.0f} {unit})",
            words=words, figure=FIGURE_WORDS[name], value=value, unit=unit,
        )  # fmt: skip
    return say(
        "{words} ({figure} {value:+.1f} {unit})",
        words=words, figure=FIGURE_WORDS[name], value=value, unit=_unit(unit),
    )  # fmt: skip


def _unit(unit: str) -> Text:
    return say("cents") if unit == "cents" else unit


def _register(register: Register, notes: Sequence[NoteDifference]) -> RegisterDifference | None:
    own = [note for note in notes if note.register_ is register and note.use is Use.STANDARD]
    own = own or [note for note in notes if note.register_ is register]
    if not own:
        return None
    means = {}
    for name in FIGURES:
        values = [note.differences[name] for note in own if name in note.differences]
        if values:
            means[name] = float(np.mean(values))
    return RegisterDifference(
        register=register, differences=means, size=float(np.mean([note.size for note in own]))
    )


def _twelfths(first: Sequence[Twelfth], second: Sequence[Twelfth]) -> list[Twelfth]:
    """Twelfths of both, with how much wider they are in the second."""
    ours = {(each.low, each.high): each.stretch_cents for each in first}
    return [
        each.model_copy(update={"stretch_cents": each.stretch_cents - ours[each.low, each.high]})
        for each in second
        if (each.low, each.high) in ours
    ]


def _sentences(
    notes: Sequence[NoteDifference],
    registers: Sequence[RegisterDifference],
    twelfths: Sequence[Twelfth],
) -> list[Said]:
    if not notes:
        return [say("The two have no fingering in common.")]
    sentences: list[Said] = []
    for row in registers:
        sentences.append(
            say(
                "{register}: {words}.",
                register=_HEADS[row.register_],
                words=_words(row.differences),
            )
        )
    standard = [note for note in notes if note.use is Use.STANDARD] or list(notes)
    ranked = sorted(standard, key=lambda note: -note.size)[:5]
    if ranked[0].size < 1:
        sentences.append(say("No standard note differs by what a player may plausibly notice."))
    else:
        names = ", ".join(note.fingering for note in ranked if note.size >= 1)
        sentences.append(say("The standard notes that differ most: {names}.", names=names))
    if twelfths:
        mean = float(np.mean([each.stretch_cents for each in twelfths]))
        most = max(twelfths, key=lambda each: abs(each.stretch_cents))
        sentences.append(
            say(
                "Twelfths: {mean:+.1f} cents wider on average, most at {low} to {high} "
                "({most:+.1f}).",
                mean=mean,
                low=most.low,
                high=most.high,
                most=most.stretch_cents,
            )
        )
    return sentences

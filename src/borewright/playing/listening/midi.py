"""A short MIDI file as a score of one voice."""

from __future__ import annotations

from pathlib import Path

from borewright.errors import PlayingError
from borewright.model import PitchStandard
from borewright.model.pitch import note_name, note_number
from borewright.playing.listening.score import ScoreNote, checked
from borewright.words import say

#: Nothing shorter can be blown (s); velocities move the pressure by this share either way.
_SHORTEST_S, _SWING = 0.12, 0.12
_DRUMS = 9
_MOST_BYTES = 1_000_000


def midi_score(path: Path | str, pitch: PitchStandard, known: list[str]) -> list[ScoreNote]:
    """Read a MIDI file as one voice: where two notes sound at once, the later one is heard.

    Parameters
    ----------
    path
        Standard MIDI file, type 0 or 1. Its notes are sounding ones; drums are left out, and
        pedals, bends and programs say nothing here.
    pitch
        The instrument's transposition, to find what must be fingered.
    known
        Written notes that the fingering tables have.

    Raises
    ------
    PlayingError
        For a file that cannot be read, holds no notes or too many, or notes that the
        instrument has no fingering for.
    """
    path = Path(path)
    spelling = {note_number(name): name for name in known}
    score: list[ScoreNote] = []
    for number, start, end, velocity in _one_voice(_notes(path)):
        written = number - pitch.written_to_sounding_semitones
        if written not in spelling:
            lowest, highest = (
                note_name(each + pitch.written_to_sounding_semitones)
                for each in (min(spelling), max(spelling))
            )
            raise PlayingError(
                say(
                    "holds the sounding note {note} at {start_s:.1f} s, which has no fingering",
                    note=note_name(number),
                    start_s=start,
                ),
                place=str(path),
                remedy=say(
                    "Transpose it into {lowest} to {highest} (sounding).",
                    lowest=lowest,
                    highest=highest,
                ),
            )
        strength = 1 + _SWING * (velocity - 64) / 63
        score.append(ScoreNote(spelling[written], start, max(end - start, _SHORTEST_S), strength))
    if score:
        first = score[0].start_s  # a silence at the start would only be waited for
        score = [note._replace(start_s=note.start_s - first) for note in score]
    return checked(score, str(path))


def _notes(path: Path) -> list[tuple[int, float, float, int]]:
    """Number, start, end (s) and velocity of every note."""
    import mido

    if not path.is_file():
        raise PlayingError(say("is not a file"), place=str(path), remedy=say("Check the name."))
    if path.stat().st_size > _MOST_BYTES:
        raise PlayingError(say("is too large"), place=str(path), remedy=say("Give a short tune."))
    notes: list[tuple[int, float, float, int]] = []
    sounding: dict[tuple[int, int], tuple[float, int]] = {}
    now = 0.0
    try:
        for message in mido.MidiFile(str(path)):
            now += float(message.time)
            if message.type not in ("note_on", "note_off") or message.channel == _DRUMS:
                continue
            key = (message.channel, message.note)
            if key in sounding:
                start, velocity = sounding.pop(key)
                notes.append((message.note, start, now, velocity))
            if message.type == "note_on" and message.velocity > 0:
                sounding[key] = (now, message.velocity)
    except (OSError, EOFError, ValueError, TypeError, KeyError, IndexError) as error:
        raise PlayingError(
            say("is not a MIDI file that can be read"),
            place=str(path),
            remedy=say("Export it as a Standard MIDI File of type 0 or 1."),
        ) from error
    notes += [(key[1], start, now, velocity) for key, (start, velocity) in sounding.items()]
    return sorted(notes, key=lambda note: (note[1], note[0]))


def _one_voice(
    notes: list[tuple[int, float, float, int]],
) -> list[tuple[int, float, float, int]]:
    """The highest of notes that start together, each cut where the next starts."""
    tops: list[tuple[int, float, float, int]] = []
    for note in notes:
        if tops and note[1] - tops[-1][1] < 0.02:
            tops[-1] = note  # sorted: the higher one comes later
        else:
            tops.append(note)
    following = [note[1] for note in tops[1:]] + [float("inf")] * bool(tops)
    return [
        (number, start, min(end, cut), velocity)
        for (number, start, end, velocity), cut in zip(tops, following, strict=True)
    ]

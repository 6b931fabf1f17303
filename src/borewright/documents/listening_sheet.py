"""The sheet that goes with rendered sounds: what they can tell, and what they cannot."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from borewright.documents._page import (
    Block,
    Column,
    Facts,
    Heading,
    Page,
    Paragraph,
    Points,
    Table,
)
from borewright.documents.cautions import CAUTIONS, Hazard
from borewright.model.results.blowing import Speaking
from borewright.model.results.listening import Listening, SoundFile
from borewright.words import Reader

CAN_TELL = (
    ("Pitch", "where notes lie, and how they lie to each other, as far as the tuning model is "
     "right; the reed's part in it follows the stated reed, not yours."),
    ("Brightness from note to note", "which notes are dull or bright beside their neighbours, for "
     "tone holes, bore and bell shape what leaves the instrument."),
    ("One design against another", "the same breath, reed and loudness for both: what differs "
     "comes from the bores and holes alone."),
    ("Ease", "which notes speak from a plain attack and which had to be prepared or helped."),
)  # fmt: skip
CANNOT_TELL = (
    ("How it will sound to you", "no room, no player's head, mouth or tongue, no breath noise, no "
     "slurs; the listener stands in free air."),
    ("What your reed does", "the reed is one mass on one spring with numbers from memory until "
     "they are fitted to recordings."),
    ("Loud playing", "losses of fast air at hole edges and in the register vent are left out; the "
     "loudest notes are too bright, and the vent works too well or too badly."),
    ("Above 6 kHz", "the model ends there; what is heard up to 10 kHz is its continuation."),
    ("Wall material", "walls are rigid and smooth here."),
    ("Small differences", "a difference that is only heard here, and that nobody hears in a blind "
     "comparison of printed instruments, is none."),
)  # fmt: skip
_LEVEL = (
    "Before you listen: turn the volume down, start the sound, then turn it up to what you would "
    "call speech. Steady tones in headphones can harm hearing without seeming loud; keep "
    "sessions short."
)


@dataclass(frozen=True)
class ListeningSheet:
    """The sheet of one rendering or comparison."""

    listening: Listening

    @property
    def file_stem(self) -> str:
        """The files' name."""
        return "listening-sheet"

    @property
    def code(self) -> str:
        """No code: the sheet belongs to a folder."""
        return ""

    def page(self, words: Reader) -> Page:
        """What stands on the sheet."""
        done = self.listening
        hearing = next(str(each.text) for each in CAUTIONS if each.hazard is Hazard.HEARING)
        blocks: list[Block] = [
            Paragraph(_LEVEL, lead=True),
            Paragraph(hearing),
            Heading("What these sounds can tell"),
            Points(CAN_TELL),
            Heading("What they cannot tell"),
            Points(CANNOT_TELL),
            Heading("Files"),
            _files(done.files),
            Facts(
                (
                    ("Blown with", done.player),
                    ("Listener", f"{done.distance_m:g} m in front of the body, in free air"),
                    (
                        "Loudness",
                        "integrated, ITU-R BS.1770; the same for all files of this folder",
                    ),
                )
            ),
        ]
        if len(done.files) > 1:
            blocks.append(
                Paragraph(
                    "Compare blind: let someone else start the files in an order you do not know, "
                    "and write down what you hear before you look. Twelve right of sixteen is what "
                    "guessing reaches in fewer than one of twenty tries."
                )
            )
        for notice in done.notices:
            blocks.append(Paragraph(notice))
        for file in done.files:
            blocks.append(_notes(file))
        names = " and ".join(file.instrument for file in done.files)
        return Page("Listening sheet", names, blocks)


def _files(files: Sequence[SoundFile]) -> Table:
    columns = (
        Column("file", is_text=True),
        Column("instrument", is_text=True, share=1.5),
        Column("seconds"),
        Column("LUFS"),
        Column("true peak, dB"),
        Column("level at listener, dB"),
    )
    rows = [
        (
            file.path.replace("\\", "/").rsplit("/", 1)[-1],
            file.instrument,
            f"{file.seconds:.1f}",
            f"{file.loudness_lufs:.1f}",
            f"{file.true_peak_db:.1f}",
            f"{file.level_at_listener_db:.0f}",
        )
        for file in files
    ]
    return Table("Files, and the level the model itself gives at the listener.", columns, rows)


def _notes(file: SoundFile) -> Table:
    columns = (
        Column("note", is_text=True),
        Column("at, s"),
        Column("playing, Hz"),
        Column("heard, Hz"),
        Column("apart, cents"),
        Column("how it speaks", is_text=True, share=2.0),
    )
    rows = [
        (
            note.fingering,
            f"{note.start_s:.2f}",
            "" if note.hz is None else f"{note.hz:.2f}",
            "" if note.heard_hz is None else f"{note.heard_hz:.2f}",
            "" if note.apart_cents is None else f"{note.apart_cents:+.2f}",
            "" if note.speaking is Speaking.BY_ITSELF else note.speaking.value,
        )
        for note in file.notes
    ]
    return Table(
        f"{file.instrument}: the model's playing frequency, and what a pitch tracker heard.",
        columns,
        rows,
    )

"""The sheet that goes with rendered sounds: what they can tell, and what they cannot."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from borewright.documents._page import (
    Block,
    Column,
    Facts,
    Heading,
    PaperPage,
    Paragraph,
    Points,
    Table,
)
from borewright.documents.cautions import CAUTIONS, Hazard
from borewright.model.results.blowing import Speaking
from borewright.model.results.listening import Listening, SoundFile
from borewright.words import ENGLISH, Reader, listed, say

CAN_TELL = (
    (
        say("Pitch"),
        say(
            "where notes lie, and how they lie to each other, as far as the tuning model is right; "
            "the reed's part in it follows the stated reed, not yours."
        ),
    ),
    (
        say("Brightness from note to note"),
        say(
            "which notes are dull or bright beside their neighbours, for tone holes, bore and bell "
            "shape what leaves the instrument."
        ),
    ),
    (
        say("One design against another"),
        say(
            "the same breath, reed and loudness for both: what differs comes from the bores and "
            "holes alone."
        ),
    ),
    (
        say("Ease"),
        say("which notes speak from a plain attack and which had to be prepared or helped."),
    ),
)
CANNOT_TELL = (
    (
        say("How it will sound to you"),
        say(
            "no room, no player's head, mouth or tongue, no breath noise, no slurs; the listener "
            "stands in free air."
        ),
    ),
    (
        say("What your reed does"),
        say(
            "the reed is one mass on one spring with numbers from memory until they are fitted to "
            "recordings."
        ),
    ),
    (
        say("Loud playing"),
        say(
            "losses of fast air at hole edges and in the register vent are left out; the loudest "
            "notes are too bright, and the vent works too well or too badly."
        ),
    ),
    (
        say("Above 6 kHz"),
        say("the model ends there; what is heard up to 10 kHz is its continuation."),
    ),
    (say("Wall material"), say("walls are rigid and smooth here.")),
    (
        say("Small differences"),
        say(
            "a difference that is only heard here, and that nobody hears in a blind comparison of "
            "printed instruments, is none."
        ),
    ),
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

    def page(self, words: Reader = ENGLISH) -> PaperPage:
        """What stands on the sheet, in the reader's language."""
        done = self.listening
        hearing = next(each.text for each in CAUTIONS if each.hazard is Hazard.HEARING)
        level = words(
            "Before you listen: turn the volume down, start the sound, then turn it up to what "
            "you would call speech. Steady tones in headphones can harm hearing without seeming "
            "loud; keep sessions short."
        )
        blocks: list[Block] = [
            Paragraph(level, lead=True),
            Paragraph(words.tell(hearing)),
            Heading(words("What these sounds can tell")),
            Points([(words.tell(about), words.tell(text)) for about, text in CAN_TELL]),
            Heading(words("What they cannot tell")),
            Points([(words.tell(about), words.tell(text)) for about, text in CANNOT_TELL]),
            Heading(words("Files")),
            _files(done.files, words),
            Facts(
                (
                    (words("Blown with"), words.tell(done.player)),
                    (
                        words("Listener"),
                        words(
                            "{distance_m:g} m in front of the body, in free air",
                            distance_m=done.distance_m,
                        ),
                    ),
                    (
                        words("Loudness"),
                        words("integrated, ITU-R BS.1770; the same for all files of this folder"),
                    ),
                )
            ),
        ]
        if len(done.files) > 1:
            blocks.append(
                Paragraph(
                    words(
                        "Compare blind: let someone else start the files in an order you do not "
                        "know, and write down what you hear before you look. Twelve right of "
                        "sixteen is what guessing reaches in fewer than one of twenty tries."
                    )
                )
            )
        blocks += [Paragraph(words.tell(notice)) for notice in done.notices]
        blocks += [_notes(file, words) for file in done.files]
        names = words.tell(listed(file.instrument for file in done.files))
        return PaperPage(words("Listening sheet"), names, blocks, words.language)


def _files(files: Sequence[SoundFile], words: Reader) -> Table:
    columns = (
        Column(words("file"), is_text=True),
        Column(words("instrument"), is_text=True, share=1.5),
        Column(words("seconds")),
        Column("LUFS"),
        Column(words("true peak, dB")),
        Column(words("level at listener, dB")),
    )
    rows = [
        (
            file.path.replace("\\", "/").rsplit("/", 1)[-1],
            file.instrument,
            words.number(file.seconds, ".1f"),
            words.number(file.loudness_lufs, ".1f"),
            words.number(file.true_peak_db, ".1f"),
            words.number(file.level_at_listener_db, ".0f"),
        )
        for file in files
    ]
    caption = words("Files, and the level the model itself gives at the listener.")
    return Table(caption, columns, rows)


def _notes(file: SoundFile, words: Reader) -> Table:
    columns = (
        Column(words("note"), is_text=True),
        Column(words("at, s")),
        Column(words("playing, Hz")),
        Column(words("heard, Hz")),
        Column(words("apart, cents")),
        Column(words("how it speaks"), is_text=True, share=2.0),
    )
    rows = [
        (
            note.fingering,
            words.number(note.start_s, ".2f"),
            "" if note.hz is None else words.number(note.hz, ".2f"),
            "" if note.heard_hz is None else words.number(note.heard_hz, ".2f"),
            "" if note.apart_cents is None else words.number(note.apart_cents, "+.2f"),
            "" if note.speaking is Speaking.BY_ITSELF else words.tell(note.speaking.words),
        )
        for note in file.notes
    ]
    caption = words(
        "{instrument}: the model's playing frequency, and what a pitch tracker heard.",
        instrument=file.instrument,
    )
    return Table(caption, columns, rows)

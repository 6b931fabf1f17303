"""Long use cases tell how far they are, and a cancel stops them with nothing written."""

from __future__ import annotations

import ast
import threading
from pathlib import Path

import numpy as np
import pytest
import soundfile

import borewright
from borewright.errors import Stopped
from borewright.model import read_fingerings
from borewright.playing.records import Record, write_records
from borewright.tasks.bores.perturbing import perturb_file
from borewright.tasks.character import character_file, differences_files
from borewright.tasks.examples import Example, copy_example
from borewright.tasks.playing.correcting import correct_file
from borewright.tasks.playing.recordings import measure_takes
from borewright.tasks.printing.coupon import make_coupon
from borewright.tasks.sound.blowing import blow_file
from borewright.tasks.sound.rendering import sound_files
from borewright.words import Reader

TASKS = Path(borewright.__file__).parent / "tasks"


@pytest.fixture
def chalumeau(tmp_path):
    return copy_example(Example.CHALUMEAU, tmp_path / "chalumeau")[0]


def correct(file, out, **more):
    notes = file.parent / "notes.csv"
    table = read_fingerings(file.parent / "fingerings.csv")
    write_records(
        [Record(instrument="C", take="one.wav#1", note=each.name, cents=-20.0)
         for each in table.fingerings],
        notes,
    )  # fmt: skip
    return correct_file(
        file, notes, readings=None, name="", next_print=False, build_up=False, steps=3,
        player_cents=0.0, fingerings=None, **more,
    )  # fmt: skip


def takes(file, out, **more):
    recordings = []
    for number in range(2):
        recordings.append(file.parent / f"Fuß & Söhne {number}.wav")
        tone = 0.3 * np.sin(2 * np.pi * 440 * np.arange(16_000) / 16_000)
        soundfile.write(recordings[-1], tone, 16_000)
    return measure_takes(
        recordings, file, 20.0, a4=None, order="", name="", player="", mouthpiece="", day="",
        output=out, plot=None, fingerings=None, **more,
    )  # fmt: skip


#: How each is called with a file and a place for what it writes, and what it tells first.
LONG = {
    "correct": (correct, "die Aufnahmen im Klima des Entwurfs"),
    "character": (
        lambda file, out, **more: character_file(file, output=out, **more),
        "Spitzen und Grenzfrequenz",
    ),
    "differences": (
        lambda file, out, **more: differences_files(file, file, output=out, **more),
        "Class chalumeau",
    ),
    "perturb": (lambda file, out, **more: perturb_file(file, plot=out, **more), "die Bohrung"),
    "blowing": (
        lambda file, out, **more: blow_file(
            file, pressure=0.5, embouchure=0.3, distance=1.0, output=out, **more
        ),
        "Resonanzen und Schwellen",
    ),
    "sound": (
        lambda file, out, **more: sound_files(file, out, scale=True, **more),
        "Resonanzen und Schwellen",
    ),
    "takes": (takes, "Fuß & Söhne 0.wav"),
    "coupon": (lambda file, out, **more: make_coupon(out, "lot 1", **more), None),
}


@pytest.mark.parametrize("name", LONG)
def test_a_cancel_at_the_first_word_stops_it_with_nothing_written(name, chalumeau, tmp_path):
    use_case, first = LONG[name]
    out = tmp_path / "out"
    cancel, told = threading.Event(), []

    def progress(share, said):
        told.append((share, said))
        cancel.set()

    with pytest.raises(Stopped):
        use_case(chalumeau, out, progress=progress, cancel=cancel)
    [(share, said)] = told  # it looked at the cancel as soon as it had told
    assert share is None or 0 <= share < 1
    assert not out.exists() or not any(out.iterdir())
    if first is not None:  # data, told in whatever language reads it
        assert Reader("de").tell(said) == first


def test_the_shares_of_several_recordings_rise_to_the_end(chalumeau, tmp_path):
    told = []
    found = takes(
        chalumeau, tmp_path / "notes.csv", progress=lambda share, said: told.append((share, said))
    )
    assert len(found.takes) == 2
    shares = [share for share, _ in told]
    assert shares == sorted(shares)
    assert {str(said) for _, said in told} == {f"Fuß & Söhne {number}.wav" for number in range(2)}


def test_who_tells_can_be_stopped():
    """A use case takes progress and cancel together, by these names and with nothing given."""
    alone = []
    for path in TASKS.rglob("*.py"):
        for node in ast.parse(path.read_text(encoding="utf-8")).body:
            if not isinstance(node, ast.FunctionDef) or path.name in ("progress.py", "running.py"):
                continue
            names = [each.arg for each in node.args.kwonlyargs]
            if ("progress" in names) != ("cancel" in names):
                alone.append(f"{path.name}: {node.name}")
    assert alone == []


def test_a_trade_off_cut_short_is_no_trade_off():
    """A report shows all designs or none: a stop in their midst is passed on, not swallowed."""
    from borewright.tasks.fitting import designs_of

    cancel = threading.Event()
    cancel.set()
    folder = Path(borewright.__file__).parent / "examples" / "class-chalumeau"
    instrument = borewright.load(folder / "chalumeau.toml")
    table = read_fingerings(folder / "fingerings.csv")
    with pytest.raises(Stopped):
        designs_of(instrument, table, None, cancel=cancel)

"""Readings revise the design, and the revision is predicted as such."""

from __future__ import annotations

import csv
import io
import math

import pytest

from borewright.acoustics import tuning
from borewright.documents import Tolerances, inspection_rows, write_inspection
from borewright.errors import PlayingError
from borewright.playing import as_built, read_readings
from borewright.playing.readings import orifice_mm, reading


def test_readings_from_a_spreadsheet(clarinet, tmp_path):
    path = tmp_path / "readings.csv"
    path.write_text(
        "item;part;hole;station_mm;value\n"
        "bore;barrel;;0;15,00\nbore;barrel;;65;14,95\n"
        "diameter;;L3;;7,60\ndiameter;;L3;;7,64\nheight;;R1;;8,5\nlift;;AE;;3,0\n"
        "length;barrel;;;65,5\nsocket_top;barrel;;;22,45\n"
        "leak;upper joint;;;0,8\nleak;lower joint;;;0,2\n",
        encoding="utf-8",
    )
    built = as_built(*clarinet, read_readings(path))
    part = built.instrument.part("barrel")
    assert part.length_mm == 65.5
    assert part.socket_top.diameter_mm == 22.45
    assert part.bore_diameter_at(0) == pytest.approx(15.0)
    assert part.bore[-1] == pytest.approx((65.5, 14.95))
    upper = built.instrument.part("upper joint")
    assert upper.hole("L3").diameter_mm == pytest.approx(7.62)
    lower = built.instrument.part("lower joint")
    assert lower.tube_height_mm(lower.hole("R1")) == pytest.approx(8.5)
    assert lower.hole("AE").pad.lift_mm == 3.0
    [leak] = built.leaks
    assert "unknown" in str(leak.place)
    assert all(leak.hole in each.open_holes for each in built.fingerings.fingerings)
    assert upper.tube_height_mm(upper.hole(leak.hole)) == pytest.approx(1.0)
    assert "0.20 mm" in str(built.notices[0])
    assert len(built.applied) == 7


def test_a_longer_barrel_and_a_leak_are_heard(clarinet):
    """Trade figures: a barrel 1 mm longer lowers E3 by 2.9 and open G4 by 7.1 cents."""
    before = tuning(*clarinet)
    longer = as_built(*clarinet, [reading("length", 66.0, part="barrel")])
    after = tuning(longer.instrument, longer.fingerings)
    for note, lowered in (("E3", 2.9), ("C4", 4.7), ("G4", 7.1)):
        assert before.note(note).cents - after.note(note).cents == pytest.approx(lowered, rel=0.15)
    leaky = as_built(*clarinet, [reading("leak", 1.0, hole="RV")])
    changed = tuning(leaky.instrument, leaky.fingerings)
    # A hole high up shortens the column for the low register: every low note rises.
    assert all(
        changed.note(note).cents > before.note(note).cents + 0.5 for note in ("E3", "A3", "D4")
    )


def test_orifice_of_a_flow():
    """Bernoulli backwards: 1 mm at 20 hPa passes 0.6 x 0.785 mm² x 57.7 m/s = 1632 ml/min."""
    flow = 0.6 * math.pi / 4 * 1e-6 * math.sqrt(2 * 2000 / 1.2) * 6e7
    assert orifice_mm(flow, 20.0) == pytest.approx(1.0, rel=1e-6)


@pytest.mark.parametrize(
    ("item", "value", "more", "cause"),
    [
        ("width", 3.0, {}, "is no item"),
        ("diameter", None, {"hole": "L3"}, "missing"),
        ("diameter", 3.0, {}, "name of a hole"),
        ("bore", 15.0, {"part": "barrel"}, "needs station_mm"),
        ("bore", 15.0, {"part": "barrel", "station_mm": 99.0}, "beyond part .* runs from 0 to"),
        ("lift", 3.0, {"hole": "L3"}, "has no pad"),
        ("diameter", 7.5, {"hole": "L9"}, "has no hole 'L9'"),
        ("diameter", 75.0, {"hole": "L3"}, "lost decimal point. Write 7.5"),
        ("leak", 1.0, {}, "part or a hole"),
        ("tenon_top", 21.8, {}, "name of a part"),
        ("tenon_bottom", 21.8, {"part": "barrel"}, "'barrel' has no bottom tenon"),
        ("socket_top", 224.0, {"part": "barrel"}, "lost decimal point. Write 22.4"),
        ("leak_flow", 1.0, {"part": "barrel"}, "pressure_hpa"),
    ],
)
def test_slips_are_refused(clarinet, item, value, more, cause):
    with pytest.raises(PlayingError, match=cause):
        as_built(*clarinet, [reading(item, value, **more)])


def test_a_whole_inspection_table_is_a_revision(clarinet, tmp_path):
    """Every row that a drawing's sheet asks for is one that can be read back, tenons' bores too."""
    instrument, _ = clarinet
    rows = [row for part in instrument.parts for row in inspection_rows(part, Tolerances())]
    path = write_inspection(rows, tmp_path / "i.csv")
    lines = list(csv.DictReader(io.StringIO(path.read_text(encoding="utf-8"))))
    for line in lines:
        line["value"] = f"{float(line['nominal_mm']) + 0.02:.3f}"
    out = io.StringIO()
    writer = csv.DictWriter(out, lines[0])
    writer.writeheader()
    writer.writerows(lines)
    path.write_text(out.getvalue(), encoding="utf-8")
    built = as_built(*clarinet, read_readings(path))
    assert len(built.applied) == len(rows)
    upper, old = built.instrument.part("upper joint"), instrument.part("upper joint")
    assert upper.bore_diameter_at(-16.0) == pytest.approx(old.bore_diameter_at(-16.0) + 0.02)
    assert upper.tenon_top.diameter_mm == pytest.approx(old.tenon_top.diameter_mm + 0.02)

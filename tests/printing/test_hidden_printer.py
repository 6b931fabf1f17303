"""A coupon printed by an unknown printer says what to draw so that whole parts come out true.

The printer here knows nothing of lines and kinds and is reckoned on its own: plastic shrinks
towards the middle by one share and towards the bed by another, the first layer is squeezed, every
wall is laid wider than it is drawn, and what is bridged over a hole comes down.
"""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass, field

import numpy as np
import pytest

from borewright.documents import Tolerances, inspection_rows, write_inspection
from borewright.errors import PrintingError
from borewright.printing import (
    FeatureKind,
    MeasuredFeature,
    calibrate,
    compensated,
    coupon_features,
    coupon_instrument,
    coupon_posts,
    coupon_sheet,
    printer_named,
    read_gauged,
    read_sheets,
    standings,
)
from borewright.solids import plan_posts
from borewright.tasks.printing.gauging import Drawn, gauged_rows

#: One standard deviation of a printed size, and of a reading of a calliper (mm).
PRINT_MM, READING_MM = 0.015, 0.01


@dataclass
class HiddenPrinter:
    """Errors drawn from a seed: everything in mm, shares of 1."""

    seed: int
    random: np.random.Generator = field(init=False)

    def __post_init__(self):
        self.random = random = np.random.default_rng(self.seed)
        self.along, self.across = random.uniform(-0.006, 0.001, 2)
        self.squeezed = random.uniform(-0.12, 0.05)
        self.wider = random.uniform(0.0, 0.12)
        self.narrower = random.uniform(0.02, 0.25)
        self.hole_narrower = random.uniform(0.02, 0.3)
        self.pilot_narrower = random.uniform(0.02, 0.3)
        self.floor_up = random.uniform(0.0, 0.05)
        self.crown_down, self.of_span = random.uniform(0.0, 0.2), random.uniform(0.0, 0.012)

    # What is printed, on the mean.

    def height(self, drawn):
        """Of a face or a hole's middle above the bed."""
        return 0.0 if drawn == 0 else self.squeezed + drawn * (1 + self.along)

    def outside(self, drawn):
        return drawn * (1 + self.across) + self.wider

    def hollow(self, drawn):
        return drawn * (1 + self.across) - self.narrower

    def pilot(self, drawn):
        return drawn * (1 + self.across) - self.pilot_narrower

    def hole(self, height, wide, lift):
        """(width, floor's height, crown's height) of a side hole about a drawn height."""
        half, wide = (wide + max(0.0, lift)) / 2, wide + max(0.0, -lift)
        crown = self.height(height + half) - self.crown_down - self.of_span * wide
        floor = self.height(height - half) + self.floor_up
        return wide * (1 + self.across) - self.hole_narrower, floor, crown

    def part(self, part, down, lifts):
        """Every size of an upright part by name, as printed; stations from the top shoulder."""
        top = -(part.tenon_top.length_mm if part.tenon_top else 0.0)
        end = part.length_mm + (part.tenon_bottom.length_mm if part.tenon_bottom else 0.0)

        def lifted(station):
            return round(station - top if down == "top" else end - station, 6)

        def height(station):
            return self.height(lifted(station))

        found = {"length": abs(height(part.length_mm) - height(0.0))}
        for kind, at in (("bore", self.hollow), ("outside", self.outside)):
            for number, (station, size) in enumerate(getattr(part, kind)):
                found[f"{kind} {number}"] = at(size)
                if 0 < station < part.length_mm:
                    found[f"{kind} {number} at"] = abs(height(station) - height(0.0))
        for name, shoulder, out in (("top", 0.0, -1), ("bottom", part.length_mm, 1)):
            if tenon := getattr(part, f"tenon_{name}"):
                found[f"{name} tenon"] = self.outside(tenon.diameter_mm)
                tip = height(shoulder + out * tenon.length_mm)
                found[f"{name} tenon length"] = abs(tip - height(shoulder))
            if socket := getattr(part, f"socket_{name}"):
                found[f"{name} socket"] = self.hollow(socket.diameter_mm)
                floor = height(shoulder - out * socket.depth_mm)
                found[f"{name} socket depth"] = abs(floor - height(shoulder))
        for hole in part.holes:
            lift = lifts.get(hole.name, 0.0)
            width, floor, crown = self.hole(lifted(hole.station_mm), hole.diameter_mm, lift)
            found[f"{hole.name} across"] = width
            found[f"{hole.name} upright"] = crown - floor
            found[f"{hole.name} station"] = abs((crown + floor) / 2 - height(0.0))
        return found

    # What is read on a coupon, with noise.

    def read(self, size):
        return size + self.random.normal(0.0, PRINT_MM) + self.random.normal(0.0, READING_MM)

    def coupon(self, instrument, pilot_mm):
        """Readings by the names of the coupon's sheet: tube on its top end, block on its bottom."""
        tube, block, ring = instrument.parts
        ledge = next(s for s, _ in tube.outside if 0 < s < tube.length_mm)
        whole = block.length_mm + block.tenon_top.length_mm
        shoulder = block.length_mm
        read = {"socket": self.hollow(tube.socket_bottom.diameter_mm)}
        for hole in tube.holes:
            width, floor, crown = self.hole(hole.station_mm, hole.diameter_mm, 0.0)
            read[f"tube hole {hole.name} across"] = width
            read[f"tube hole {hole.name} upright"] = crown - floor
            read[f"tube hole {hole.name} crown"] = self.height(ledge) - crown
        for _, size in block.bore:
            read[f"block bore {size:g}"] = self.hollow(size)
        read["tube bore"] = self.hollow(tube.bore[0][1])
        floor = self.height(tube.length_mm - tube.socket_bottom.depth_mm)
        for turn in (0, 45, 90, 135, 180, -90):
            read[f"tenon {turn}"] = self.outside(block.tenon_top.diameter_mm)
            read[f"tube outside {turn}"] = self.outside(tube.outside[0][1])
            read[f"block outside {turn}"] = self.outside(block.outside[0][1])
            read[f"ring outside {turn}"] = self.outside(ring.outside[0][1])
            read[f"ring bore {turn}"] = self.hollow(ring.bore[0][1])
            read[f"pilot {turn:+d}"] = self.pilot(pilot_mm)
            read[f"tube length {turn}"] = self.height(tube.length_mm)
            read[f"tube above ledge {turn}"] = self.height(tube.length_mm) - self.height(ledge)
            read[f"tube below ledge {turn}"] = self.height(ledge)
            read[f"socket depth {turn}"] = self.height(tube.length_mm) - floor
            read[f"block length {turn}"] = self.height(whole)
            read[f"block body {turn}"] = self.height(shoulder)
            read[f"tenon length {turn}"] = self.height(whole) - self.height(shoulder)
        return {name: self.read(size) for name, size in read.items()}


MODELS = range(20)


class Exact(HiddenPrinter):
    """No errors: what is wanted, measured in the same way."""

    def __post_init__(self):
        super().__post_init__()
        self.along = self.across = self.squeezed = self.wider = self.narrower = 0.0
        self.hole_narrower = self.pilot_narrower = self.floor_up = 0.0
        self.crown_down = self.of_span = 0.0


@pytest.fixture(scope="module")
def coupon():
    instrument = coupon_instrument()
    return instrument, coupon_posts(instrument)[0].hole_mm, coupon_features()


@pytest.fixture(scope="module")
def downs(clarinet):
    tall = printer_named("tall frame")
    return {part.name: standings(clarinet, part, tall)[0].down for part in clarinet.parts}


def readings_of(printer, coupon):
    instrument, pilot, features = coupon
    read = printer.coupon(instrument, pilot)
    return [MeasuredFeature(one, read[one.feature]) for one in features]


def misses(printer, clarinet, drawn, downs, lifts):
    """Printed less wanted (mm), by part and size."""
    exact, found = Exact(0), {}
    for old, new in zip(clarinet.parts, drawn.parts, strict=True):
        want = exact.part(old, downs[old.name], {})
        for name, size in printer.part(new, downs[old.name], lifts).items():
            found[old.name, name] = size - want[name]
    return found


@pytest.mark.parametrize("seed", MODELS)
def test_parts_come_back_within_five_hundredths_everywhere(seed, clarinet, keywork, coupon, downs):
    """The printer's mean; what single prints scatter about it is its own (next test)."""
    printer = HiddenPrinter(seed)
    posts = plan_posts(clarinet, keywork)
    made = compensated(clarinet, calibrate(readings_of(printer, coupon)), posts, downs)
    found = misses(printer, clarinet, made.instrument, downs, made.lifts_mm)
    assert {name: off for name, off in found.items() if abs(off) > 0.05} == {}
    assert len(found) == 133
    for before, after in zip(posts, made.posts, strict=True):
        if before.hole_mm:
            assert printer.pilot(after.hole_mm) == pytest.approx(before.hole_mm, abs=0.05)
    # Drawn as designed it would miss by far more: the test can fail.
    plain = misses(printer, clarinet, clarinet, downs, {})
    assert max(abs(off) for off in plain.values()) > 0.1


def test_single_prints_scatter_as_the_printer_does(clarinet, coupon, downs):
    """Of all sizes of 20 printed and measured instruments 98 in 100 lie within 0.05 mm: at a
    scatter of 0.015 and 0.01 mm, beside what is left on the mean, that is 2.8 of 0.018."""
    off = []
    for seed in MODELS:
        printer = HiddenPrinter(seed)
        made = compensated(clarinet, calibrate(readings_of(printer, coupon)), (), downs)
        found = misses(printer, clarinet, made.instrument, downs, made.lifts_mm)
        off += [printer.read(each) for each in found.values()]
    assert np.mean(np.abs(off) <= 0.05) > 0.98


def test_shrinkage_and_bed_lie_in_their_own_intervals(coupon):
    """At a true 95 %, 19 of 20 on the mean; fewer than 16 in both come up once in 300 sets."""
    inside = {"along": 0, "bed": 0}
    for seed in MODELS:
        printer = HiddenPrinter(seed)
        line = calibrate(readings_of(printer, coupon)).of(FeatureKind.LENGTH)
        inside["along"] += line.slope_low <= printer.along <= line.slope_high
        inside["bed"] += line.offset_low_mm <= printer.squeezed <= line.offset_high_mm
    assert min(inside.values()) >= 17, inside


def test_without_crowns_the_holes_still_come_out_round(clarinet, coupon, downs):
    """Where only diameters were measured, their middle is unsure by what the floor rose."""
    printer = HiddenPrinter(3)
    readings = [
        one for one in readings_of(printer, coupon) if one.feature.kind is not FeatureKind.CROWN
    ]
    made = compensated(clarinet, calibrate(readings), (), downs)
    found = misses(printer, clarinet, made.instrument, downs, made.lifts_mm)
    for (_, name), off in found.items():
        if name.endswith((" across", " upright")):
            assert abs(off) < 0.05
    assert FeatureKind.CROWN in made.report.refused


def gauged_body(printer, clarinet, made, downs, path):
    """The inspection table of a printed instrument, filled in with what a workshop reads."""
    drawn = Drawn(made.instrument, downs, made.lifts_mm, lot="lot 7")
    rows = []
    for part in clarinet.parts:
        new = made.instrument.part(part.name)
        sizes = printer.part(new, downs[part.name], made.lifts_mm)
        for row in gauged_rows(part, inspection_rows(part, Tolerances()), drawn):
            if row.item == "bore":
                sure = printer.hollow(row.drawn_mm)
            elif row.item == "diameter":
                sure = sizes[f"{row.hole} {row.kind.removeprefix('hole ')}"]
            else:
                what, _, end = row.item.partition("_")
                sure = sizes.get(f"{end} {what}" if end else row.item)
            rows.append((row, sure))
    text = write_inspection([row for row, _ in rows], path).read_text(encoding="utf-8")
    lines = list(csv.DictReader(io.StringIO(text)))
    for line, (_, sure) in zip(lines, rows, strict=True):
        line["value"] = "" if sure is None else f"{printer.read(sure):.3f}"
    out = io.StringIO()
    writer = csv.DictWriter(out, lines[0].keys(), lineterminator="\n")
    writer.writeheader()
    writer.writerows(lines)
    path.write_text(out.getvalue(), encoding="utf-8")
    return path


def coupon_file(printer, coupon, path, lot="lot 7"):
    instrument, pilot, _ = coupon
    read = printer.coupon(instrument, pilot)
    path.write_text(coupon_sheet(lambda one: read[one.feature], lot=lot), encoding="utf-8")
    return path


@pytest.mark.parametrize("seed", range(5))
def test_a_first_body_makes_the_next_one_surer(seed, clarinet, coupon, downs, tmp_path):
    printer = HiddenPrinter(seed)
    sheet = coupon_file(printer, coupon, tmp_path / "coupon.csv")
    first = calibrate(read_sheets([sheet]))
    made = compensated(clarinet, first, (), downs)
    body = gauged_body(printer, clarinet, made, downs, tmp_path / "inspection.csv")
    second = calibrate(read_sheets([sheet, body]))
    before, after = (one.of(FeatureKind.LENGTH) for one in (first, second))
    assert after.readings == before.readings + len(clarinet.parts)
    # Four bodies' lengths beside the coupon's eighteen: 244 mm of lever instead of 156.
    assert after.slope_sure < 0.85 * before.slope_sure
    again = compensated(clarinet, second, (), downs)
    found = misses(printer, clarinet, again.instrument, downs, again.lifts_mm)
    assert max(abs(off) for off in found.values()) <= 0.05


def test_sheets_of_two_lots_are_refused(clarinet, coupon, downs, tmp_path):
    printer = HiddenPrinter(1)
    one = coupon_file(printer, coupon, tmp_path / "one.csv")
    other = coupon_file(printer, coupon, tmp_path / "other.csv", lot="lot 8")
    with pytest.raises(PrintingError, match=r"other.csv.*two lots.*'lot 7', 'lot 8'"):
        read_sheets([one, other])


def test_a_gauged_body_is_refused_with_line_and_column(clarinet, coupon, downs, tmp_path):
    printer = HiddenPrinter(2)
    calibration = calibrate(readings_of(printer, coupon))
    made = compensated(clarinet, calibration, (), downs)
    path = gauged_body(printer, clarinet, made, downs, tmp_path / "inspection.csv")
    lines = path.read_text(encoding="utf-8").splitlines()
    at = next(number for number, line in enumerate(lines) if line.startswith("diameter"))
    for column, wrong, words in ((8, "65", "lost decimal point"), (10, "boar", "no kind of size")):
        cells = next(csv.reader([lines[at]]))
        cells[column] = wrong
        spoilt = [*lines[:at], ",".join(f'"{cell}"' for cell in cells), *lines[at + 1 :]]
        path.write_text("\n".join(spoilt), encoding="utf-8")
        with pytest.raises(PrintingError, match=rf"line {at + 1}.*{words}"):
            read_gauged(path)

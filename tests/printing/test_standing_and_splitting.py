import math

import pytest

from borewright.errors import PrintingError
from borewright.model import Socket, SolidPart, SurveyItem, Tenon, ToneHole
from borewright.printing import (
    MATERIALS,
    PRINTERS,
    ReamingAllowance,
    estimate,
    find_printer,
    hole_overhangs,
    material_named,
    plan_supports,
    printer_named,
    reaming_sequence,
    seam_advice,
    split_to_fit,
    standings,
    support_advice,
    undersized,
)
from borewright.words import joined

PLA = MATERIALS["plain PLA"]


def test_the_lower_joint_fits_the_tall_printer_only(clarinet):
    lower = clarinet.part("lower joint")
    tall = standings(clarinet, lower, PRINTERS["tall frame"])[0]
    assert tall.fits
    # 244 shoulder to shoulder and a tenon of 16: the trade notes say the same of a 250 machine.
    assert tall.height_mm == pytest.approx(260)
    low = standings(clarinet, lower, PRINTERS["cube 250"])[0]
    assert not low.fits
    assert "260 mm tall" in str(low.reason)


def test_a_socket_stands_up_and_a_bell_on_its_rim(clarinet):
    barrel, *_ = standings(clarinet, clarinet.parts[0], PRINTERS["cube 250"])
    # Either end down, one socket's floor hangs over: (22.4 - bore) / 2 of it.
    assert barrel.overhang_mm == pytest.approx((22.4 - 14.85) / 2, abs=0.1)
    bell, *_ = standings(clarinet, clarinet.part("bell"), PRINTERS["cube 250"])
    lower, *_ = standings(clarinet, clarinet.part("lower joint"), PRINTERS["tall frame"])
    assert lower.down == "bottom"
    assert str(bell.reason).startswith("stands on its")
    part, tall = clarinet.part("lower joint"), PRINTERS["tall frame"]
    words = str(
        joined(support_advice(part, lower, tall, plan_supports(clarinet, part, lower, tall)))
    )
    assert "A brim of 8 mm is in the file" in words
    assert "A collar round the tenon" in words
    assert "seam" in str(joined(seam_advice(part)))


def test_split_pieces_fit_and_hold_everything(clarinet, keywork):
    printer = PRINTERS["small cube"]
    done = split_to_fit(clarinet, printer, PLA, keywork)
    assert {split.part for split in done.splits} == {"upper joint", "lower joint"}
    assert done.instrument.length_mm == pytest.approx(clarinet.length_mm)
    for part in done.instrument.parts:
        assert standings(done.instrument, part, printer)[0].fits
    before = {hole.name: at for _, hole, at in clarinet.placed_holes()}
    after = {hole.name: at for _, hole, at in done.instrument.placed_holes()}
    assert after == pytest.approx(before)
    for part in clarinet.parts:
        start = clarinet.offset_mm(part.name)
        for station in range(1, int(part.length_mm)):
            piece, local = _piece(done.instrument, start + station)
            assert piece.bore_diameter_at(local) == pytest.approx(part.bore_diameter_at(station))
    for old, new in zip(keywork.rows, done.survey.rows, strict=True):
        where = done.instrument.offset_mm(new.part) + new.station_mm
        assert where == pytest.approx(clarinet.offset_mm(old.part) + old.station_mm)
    for split in done.splits:
        joint = done.instrument.offset_mm(split.lower)
        near = [at for at in after.values() if joint <= at <= joint + split.tenon_length_mm]
        assert near == []
        posts = [
            done.instrument.offset_mm(row.part) + row.station_mm
            for row in done.survey.rows
            if row.item is SurveyItem.POST
        ]
        assert not any(joint <= at <= joint + split.tenon_length_mm for at in posts)


def _piece(instrument, at):
    for part in instrument.parts:
        offset = instrument.offset_mm(part.name)
        if offset <= at < offset + part.length_mm:
            return part, at - offset
    raise AssertionError(at)


def test_a_part_that_fits_is_not_cut(clarinet):
    done = split_to_fit(clarinet, PRINTERS["tall frame"], PLA)
    assert done.splits == []
    assert done.instrument == clarinet


def test_what_cannot_be_split_is_told(one_part, clarinet):
    holes = [ToneHole(name=f"h{n}", station_mm=10 + 12.0 * n, diameter_mm=5) for n in range(19)]
    crowded = one_part(*holes, length_mm=240, bore=[(0, 15), (240, 15)],
                       outside=[(0, 30), (240, 30)])  # fmt: skip
    with pytest.raises(PrintingError, match="no place is found"):
        split_to_fit(crowded, PRINTERS["small cube"], PLA)
    thin = one_part(length_mm=240, bore=[(0, 15), (240, 15)], outside=[(0, 20), (240, 20)])
    with pytest.raises(PrintingError, match="no place is found"):
        split_to_fit(thin, PRINTERS["small cube"], PLA)
    flat = PRINTERS["small cube"].model_copy(update={"build_mm": (60, 60, 300)})
    done = split_to_fit(clarinet, flat, PLA)
    assert done.left_out == ["bell"]
    assert "more than the printer's bed" in str(done.too_large[0].what)
    assert done.instrument == clarinet


def test_what_nearly_serves_is_told(one_part):
    # 7 mm of clear wall in the middle: 5.5 and 7 around the holes of 8, 5 and 1.5 kept off each.
    holes = [ToneHole(name=f"h{n}", station_mm=s, diameter_mm=8)
             for n, s in enumerate([*range(10, 111, 10), *range(128, 230, 10)])]  # fmt: skip
    crowded = one_part(*holes, length_mm=240, bore=[(0, 15), (240, 15)],
                       outside=[(0, 30), (240, 30)])  # fmt: skip
    with pytest.raises(PrintingError) as told:
        split_to_fit(crowded, PRINTERS["small cube"], PLA)
    # From 110 + 4 + 1.5 to 128 - 4 - 1.5 there are 7 mm, 0.4 of them for the floor's slack.
    assert "at 115.5 mm" in str(told.value)
    assert "by 1.5 mm" in str(told.value)
    assert "244 mm tall" in str(told.value)


def test_three_pieces_where_two_find_no_place(one_part):
    # Clear wall only near the ends: a joint at 60 leaves 190 below it, one at 150 as much above.
    tall = [*range(8, 60, 8), *range(85, 150, 8), *range(175, 236, 8)]
    holes = [ToneHole(name=f"h{n}", station_mm=s, diameter_mm=5) for n, s in enumerate(tall)]
    body = one_part(*holes, length_mm=240, bore=[(0, 15), (240, 15)],
                    outside=[(0, 30), (240, 30)])  # fmt: skip
    printer = PRINTERS["small cube"].model_copy(update={"build_mm": (180.0, 180.0, 145.0)})
    done = split_to_fit(body, printer, PLA)
    assert [part.name[-1] for part in done.instrument.parts] == ["A", "B", "C"]
    assert done.instrument.length_mm == pytest.approx(240)
    after = {hole.name: at for _, hole, at in done.instrument.placed_holes()}
    assert after == pytest.approx({hole.name: hole.station_mm for hole in holes})
    for part in done.instrument.parts:
        assert standings(done.instrument, part, printer)[0].fits
    for split in done.splits:
        for at in after.values():
            assert not split.station_mm - 4 < at < split.station_mm + split.tenon_length_mm + 4


def test_wide_side_holes_are_told_to_sag(clarinet):
    found = hole_overhangs(clarinet.part("lower joint"), PRINTERS["tall frame"])
    assert {finding.place[1].value("hole") for finding in found} == {
        "R1",
        "RP",
        "R3",
        "AE",
        "FC",
        "FS",
        "EB",
    }
    # 12 mm: the part of a circle flatter than 45° is 12/√2 wide.
    assert "8.49 mm" in next(str(one.what) for one in found if one.place[1].value("hole") == "EB")


def test_the_estimate_is_its_stated_method():
    part = SolidPart.model_validate(
        {
            "part": "p", "step": "", "stl": "", "3mf": "", "volume_mm3": 100_000.0,
            "watertight": True, "valid": True, "bounding_box_mm": (30, 30, 120),
        }
    )  # fmt: skip
    printer = PRINTERS["tall frame"]
    found = estimate([part, part], printer, PLA)
    assert found.parts[0].mass_g == pytest.approx(124.0)
    # A kilogram of 1.75 mm PLA is some 335 m: 124 g are 41.6 m.
    assert found.parts[0].filament_m == pytest.approx(100_000 / (math.pi * 0.875**2) / 1000)
    # A bead of 0.45 by 0.12 mm with round sides, at 45 mm/s, 86 % of the time.
    flow = (0.12 * (0.45 - 0.12) + math.pi * 0.06**2) * 45 * 0.86
    hours = (100_000 / flow + 1000 * 0.5) / 3600 + 8 / 60
    assert found.parts[0].hours == pytest.approx(hours)
    assert found.hours == pytest.approx(2 * hours)
    assert "times the material's density" in str(found.method)


def test_every_material_figure_has_its_source():
    for material in MATERIALS.values():
        low, high = material.density_range
        assert low <= material.density_g_cm3 <= high
        low, high = material.glass_transition_range
        assert low <= material.glass_transition_c <= high
        for figure in (
            "density_g_cm3",
            "glass_transition_c",
            "expansion_per_k",
            "water_growth",
            "modulus_gpa",
        ):
            assert material.sources[figure]
    # Plain PLA by the published table named in the profile's module.
    assert PLA.density_range == (1.22, 1.26)
    assert PLA.glass_transition_range == (55.0, 65.0)


def test_unknown_printers_and_materials_list_the_known():
    with pytest.raises(PrintingError, match="tall frame"):
        printer_named("huge")
    with pytest.raises(PrintingError, match="wood-filled PLA"):
        material_named("lead")


def test_undersized_bodies_keep_their_rims(clarinet):
    small = undersized(clarinet, ReamingAllowance(bore_mm=0.3, hole_mm=0.2))
    for before, after in zip(clarinet.parts, small.parts, strict=True):
        assert after.outside == before.outside
        assert [s for s, _ in after.bore] == [s for s, _ in before.bore]
        assert after.bore[0][1] == pytest.approx(before.bore[0][1] - 0.3)
        for old, new in zip(before.holes, after.holes, strict=True):
            less = 0.0 if old.into_bore_mm else 0.2
            assert new.diameter_mm == pytest.approx(old.diameter_mm - less)
            assert new.chimney_mm == old.chimney_mm
    steps = reaming_sequence(clarinet, ReamingAllowance(bore_mm=0.3))
    text = "\n".join(map(str, steps))
    assert "2 passes" in text
    assert text.index("Bore of upper joint") < text.index("Holes of upper joint")
    assert "L1 6.50" in text
    with pytest.raises(PrintingError, match="of it"):
        undersized(clarinet, ReamingAllowance(hole_mm=4.5))


def test_ceilings_follow_the_shoulders(one_part):
    instrument = one_part(
        tenon_bottom=Tenon(length_mm=16, diameter_mm=22),
        socket_top=Socket(depth_mm=16, diameter_mm=22),
    )
    top, bottom = sorted(
        standings(instrument, instrument.parts[0], PRINTERS["tall frame"]), key=lambda s: s.down
    )[::-1]
    # On its top a socket's floor of 3.5 mm hangs over, on its bottom the shoulder of 4 mm.
    assert (top.down, bottom.down) == ("top", "bottom")
    assert top.overhang_mm == pytest.approx(3.5)
    assert bottom.overhang_mm == pytest.approx(4.0)


def body_of(volume_mm3, height):
    return SolidPart.model_validate(
        {
            "part": "p", "step": "", "stl": "", "3mf": "", "volume_mm3": volume_mm3,
            "watertight": True, "valid": True, "bounding_box_mm": (30, 30, height),
        }
    )  # fmt: skip


def test_finished_prints_calibrate_the_next_ones_time():
    """A printer that is slower than from memory, its pauses as told: hours by hand."""
    plain = PRINTERS["tall frame"]
    busy = 0.37

    def hours(volume_cm3, height, layer):
        bead = layer * (0.45 - layer) + math.pi * layer**2 / 4
        laying = volume_cm3 * 1000 / (bead * 45 * busy)
        return (laying + math.ceil(height / layer) * 0.5 + 8 * 60) / 3600

    finished = [
        {"volume_cm3": v, "height_mm": h, "hours": round(hours(v, h, layer) * off, 3),
         "layer_mm": layer}
        for v, h, layer, off in ((20, 65, 0.12, 1.04), (71, 217, 0.2, 0.97), (90, 260, 0.12, 1.0))
    ]  # fmt: skip
    printer = type(plain).model_validate({**plain.model_dump(), "finished": finished})
    found = estimate([body_of(50_000.0, 180)], printer, PLA)
    assert found.hours == pytest.approx(hours(50, 180, 0.12), rel=0.03)
    assert estimate([body_of(50_000.0, 180)], plain, PLA).hours < 0.75 * found.hours
    assert "calibrated by 3 finished prints" in str(found.method)
    assert "37%" in str(found.method) or "37 %" in str(found.method)
    alone = type(plain).model_validate({**plain.model_dump(), "finished": finished[:1]})
    assert "missed by" not in str(estimate([body_of(50_000.0, 180)], alone, PLA).method)


def test_hours_that_cannot_be_are_refused(tmp_path):
    plain = PRINTERS["tall frame"]
    slip = [{"volume_cm3": 71.0, "height_mm": 217, "hours": 980.0}]
    printer = type(plain).model_validate({**plain.model_dump(), "finished": slip})
    with pytest.raises(PrintingError, match="cannot be those of their bodies"):
        estimate([body_of(50_000.0, 180)], printer, PLA)
    profile = tmp_path / "mine.toml"
    profile.write_text(
        'name = "mine"\nbuild_mm = [220, 220, 300]\n'
        "[[finished]]\nvolume_cm3 = 71\nheight_mm = 217\nhours = 98000\n",
        encoding="utf-8",
    )
    with pytest.raises(PrintingError, match=r"mine\.toml"):
        find_printer(str(profile))

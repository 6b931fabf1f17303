"""Printing in a browser: choose, make, see where a finding is, take the files along."""

from __future__ import annotations

import json
import random
from importlib.resources import files

import pytest

from borewright.bench.print.making import Made, made_before
from borewright.bench.print.places import places_of
from borewright.bench.workbench import Workbench
from borewright.model import Finding, SolidsReport, SurveyItem, load
from borewright.printing import read_measured
from borewright.printing.coupon_features import FeatureKind, coupon_features, coupon_sheet
from borewright.tasks.checking import check_file
from borewright.tasks.inputs import survey_of
from borewright.words import Reader, say

CLARINET = files("borewright") / "examples" / "loan-clarinet" / "clarinet.toml"


def make(page, url: str) -> None:
    page.goto(f"{url}?view=print")
    page.click("[data-mark=make]")
    page.wait_for_selector("[data-mark=result] .bw-findings")


@pytest.mark.slow
def test_everything_is_made_and_a_finding_shows_its_place(open_bench, page, chalumeau):
    # A hole moved against its neighbour: a wall that is too thin, named with both holes.
    file = chalumeau / "chalumeau.toml"
    text = file.read_text(encoding="utf-8")
    holes = {hole.name: hole for _, hole, _ in load(file).placed_holes()}
    one, other = holes["L2"], holes["L3"]
    moved = one.station_mm + (one.diameter_mm + other.diameter_mm) / 2 + 1.0
    text = text.replace(f"station_mm = {other.station_mm}", f"station_mm = {moved:.1f}")
    file.write_text(text, encoding="utf-8")
    bench = open_bench(chalumeau)
    page.goto(f"{bench.url}?view=print")
    page.select_option("[data-mark=despite]", "yes")
    make(page, bench.url)
    row = page.locator("[data-mark=result] li.bw-fault", has_text=f"hole '{other.name}'").first
    row.locator("button").click()
    page.wait_for_selector(".bw-map-mark.shown")
    shown = set(page.locator(".bw-map-label").all_text_contents())
    assert {one.name, other.name} <= shown
    for kind in ("step", "stl", "3mf"):
        link = page.locator(f"[data-mark^='made-'][data-mark$='.{kind}']").first
        with page.expect_download() as started:
            link.click()
        assert started.value.path().stat().st_size > 1000
    with page.expect_download() as started:
        page.click("[data-mark='made-print-plan.pdf']")
    assert started.value.path().read_bytes().startswith(b"%PDF")
    # A reload in mid-work shows the same finding; a change of the design is told.
    page.reload()
    page.wait_for_selector(".bw-map-mark.shown")
    assert page.locator("[data-mark=old]").count() == 0
    file.write_text(text.replace("[instrument]", "# a word\n[instrument]"), encoding="utf-8")
    page.wait_for_selector("[data-mark=old]")


@pytest.mark.slow
def test_a_job_that_is_cancelled_leaves_nothing(open_bench, page, chalumeau):
    bench = open_bench(chalumeau)
    page.goto(f"{bench.url}?view=print")
    page.click("[data-mark=make]")
    page.wait_for_selector("[data-mark=progress]")
    page.locator("[data-mark=cancel-job]:visible").click()
    page.wait_for_selector("[data-mark=job-words]:has-text('cancelled. Nothing was written.')")
    assert page.locator("[data-mark=make]").is_enabled()
    assert not (chalumeau / "print").exists()


@pytest.mark.slow
def test_choices_are_kept_and_a_measured_coupon_is_read(open_bench, page, chalumeau, tmp_path):
    bench = open_bench(chalumeau)
    page.goto(f"{bench.url}?view=print")
    page.select_option("[data-mark=printer]", "cube 250")
    page.fill("[data-mark=ream_bore_mm]", "0,25")
    page.press("[data-mark=ream_bore_mm]", "Tab")
    page.fill("[data-mark=ream_holes_mm]", "9")
    page.press("[data-mark=ream_holes_mm]", "Tab")
    page.wait_for_selector("text=cannot be reamed")
    (tmp_path / "wrong.csv").write_text("a,b\n1,2\n", encoding="utf-8")
    page.click("text=A coupon of mine")
    page.set_input_files("[data-mark=coupon-file]", tmp_path / "wrong.csv")
    page.wait_for_selector(".bw-drop [role=alert]:has-text('wrong.csv')")
    assert not (chalumeau / "wrong.csv").exists()
    rng = random.Random(1)
    sheet = coupon_sheet(lambda one: one.nominal_mm - 0.1 + rng.gauss(0, 0.02))
    (tmp_path / "lot 7.csv").write_text(sheet, encoding="utf-8")
    page.set_input_files("[data-mark=coupon-file]", tmp_path / "lot 7.csv")
    page.wait_for_selector("[data-mark=calibration] table")
    page.reload()
    page.wait_for_selector("[data-mark=calibration] table")
    assert page.input_value("[data-mark=coupon]") == "lot 7.csv"
    assert page.input_value("[data-mark=printer]") == "cube 250"
    assert page.input_value("[data-mark=ream_bore_mm]") == "0.25"


@pytest.mark.slow
def test_a_coupon_is_typed_in_and_compensates_the_print(open_bench, page, chalumeau):
    """From measured sizes in fields to sizes drawn other than designed; nothing by hand."""
    bench = open_bench(chalumeau)
    page.goto(f"{bench.url}?view=print")
    page.click("text=Type the measured sizes in here")
    page.wait_for_selector("[data-mark=measured-name]")
    rng, features = random.Random(2), coupon_features()
    slip = features[0]
    for one in features:
        if one.kind is FeatureKind.PILOT:
            continue  # not measured
        typed = f"{one.nominal_mm - 0.15 + rng.gauss(0, 0.01):.2f}".replace(".", ",")
        page.fill(f"[data-mark='measured-{one.feature}']", typed)
    good = page.input_value(f"[data-mark='measured-{slip.feature}']")
    page.fill(f"[data-mark='measured-{slip.feature}']", good.replace(",", ""))
    page.click("[data-mark=keep-measured]")
    page.wait_for_selector("[data-mark=measured-name][aria-invalid=true]")
    page.wait_for_selector(f"[data-mark='measured-{slip.feature}'][aria-invalid=true]")
    page.wait_for_selector("[data-mark=coupon-form] [role=alert]:has-text('lost decimal point')")
    assert not list(chalumeau.glob("coupon*.csv"))
    page.fill(f"[data-mark='measured-{slip.feature}']", good)
    page.fill("[data-mark=measured-name]", "lot 7")
    page.click("[data-mark=keep-measured]")
    page.wait_for_selector("[data-mark=calibration] tr:has-text('hole across'):has-text('−0.15')")
    measured = read_measured(chalumeau / "coupon lot 7.csv")
    assert len(measured) == len(features) - 4
    assert measured[0].measured_mm == float(good.replace(",", "."))
    assert page.input_value("[data-mark=coupon]") == "coupon lot 7.csv"
    # A reload carries on with it; a size is put right, and undo takes that back.
    page.reload()
    page.click("text=Type the measured sizes in here")
    page.wait_for_selector("[data-mark=measured-name]")
    assert page.input_value("[data-mark=measured-name]") == "lot 7"
    field = page.locator(f"[data-mark='measured-{slip.feature}']")
    assert float(field.input_value()) == measured[0].measured_mm
    page.click("[data-mark=make]")
    page.click("text=Compensated sizes")
    rows = page.locator("[data-mark=result] table:has-text('designed') tbody tr")
    holes = [row for row in rows.all_inner_texts() if row.split("\t")[1].startswith("hole")]
    assert holes
    for row in holes:
        designed, drawn = map(float, row.split("\t")[2:4])
        assert drawn - designed == pytest.approx(0.15, abs=0.02)  # scatter is 0.01 mm


@pytest.mark.slow
def test_a_made_job_is_shown_from_the_folder_at_tablet_width(open_bench, new_page, chalumeau):
    """What an earlier session made is there at once, and a broken note of it does no harm."""
    bench = open_bench(chalumeau)
    (chalumeau / ".bench" / "print.json").write_text('{"file": 3', encoding="utf-8")
    page = new_page(768, 1024)
    page.goto(f"{bench.url}?view=print")
    page.wait_for_selector("[data-mark=make]")
    assert not page.locator("[data-mark=result]").is_visible()
    assert page.evaluate("document.documentElement.scrollWidth") <= 768


def test_every_finding_of_the_checks_has_a_place(tmp_path):
    """Findings of the examples, and of a clarinet whose sizes were spoilt, lead to the body."""
    from borewright.printing import assembly_findings, joint_findings
    from borewright.printing.profiles import material_named

    instrument = load(CLARINET)
    survey = survey_of(instrument, CLARINET)
    rng = random.Random(3)
    parts = [
        part.model_copy(
            update={
                "holes": [
                    hole.model_copy(update={"bearing_deg": hole.bearing_deg + rng.gauss(0, 6)})
                    for hole in part.holes
                ]
            }
        )
        for part in instrument.parts
    ]
    spoilt = instrument.model_copy(update={"parts": parts})
    found = [
        *check_file(CLARINET),
        *assembly_findings(spoilt, survey, material_named("plain PLA")),
        *joint_findings(spoilt),
    ]
    assert len(found) >= 5
    for finding in found:
        assert places_of(finding, instrument, survey).found, finding


def test_what_a_finding_names_leads_to_both_features():
    instrument = load(CLARINET)
    survey = survey_of(instrument, CLARINET)
    part, one, _ = instrument.placed_holes()[0]
    other = instrument.placed_holes()[1][1]
    finding = Finding(
        severity="fault",
        place=say("part '{part}'", part=part.name),
        what=say(
            "between {first} and {second} there is {wall_mm:.2f} mm at {station_mm:.1f}",
            first=say("hole '{hole}'", hole=one.name),
            second=say("seat of {hole}", hole=say("hole '{hole}'", hole=other.name)),
            wall_mm=0.8,
            station_mm=61.5,
        ),
        remedy=say("Move one of them."),
    )
    places = places_of(finding, instrument, survey)
    assert places.parts == (part.name,)
    assert set(places.holes) == {one.name, other.name}
    assert places.stations_mm == (61.5,)
    piece = finding.model_copy(update={"place": (say("part '{part}'", part="upper piece"),)})
    found = places_of(piece, instrument, survey, {"upper piece": part.name})
    assert found.parts == (part.name,)
    assert found.stations_mm == ()
    nowhere = Finding(severity="notice", place="fingerings", what=say("a word"), remedy=say("No."))
    assert not places_of(nowhere, instrument, survey).found


def test_a_post_named_like_a_hole_is_the_post():
    instrument = load(CLARINET)
    survey = survey_of(instrument, CLARINET)
    post = next(row.name for row in survey.rows if row.item is SurveyItem.POST)
    part = next(each for each in instrument.parts if each.holes)
    twin = part.model_copy(
        update={"holes": [part.holes[0].model_copy(update={"name": post}), *part.holes[1:]]}
    )
    named_alike = instrument.model_copy(
        update={"parts": [twin if p is part else p for p in instrument.parts]}
    )
    finding = Finding(
        severity="fault",
        place=say("post '{post}'", post=post),
        what=say("a word"),
        remedy=say("No."),
    )
    found = places_of(finding, named_alike, survey)
    assert (found.posts, found.holes) == ((post,), ())


def test_what_was_made_is_kept_as_data_and_told_in_any_language(chalumeau):
    """Over a restart too: a fault, an advice and a sum, read back and told in German."""
    from borewright.printing import plan_supports, standings, support_advice
    from borewright.printing.estimate import estimate
    from borewright.printing.profiles import material_named, printer_named

    bench = Workbench(chalumeau)
    printer, material = printer_named("tall frame"), material_named("plain PLA")
    design = bench.instrument
    best = [standings(design, part, printer)[0] for part in design.parts]
    fault = Finding(
        severity="fault",
        place=("chalumeau.toml", say("part '{part}'", part="upper or lower")),
        what=say("hole '{hole}'", hole="bell"),
        remedy=say("Choose one."),
    )
    made = Made(
        number=1, file="chalumeau.toml", of="0", folder="print/chalumeau",
        solids=SolidsReport(parts=[]), standings=best, splits=[], findings=[fault],
        advice={p.name: support_advice(p, s, printer, plan_supports(design, p, s, printer))
                for p, s in zip(design.parts, best, strict=True)},
        estimate=estimate([], printer, material), compensation=None, reaming=[], files=[],
    )  # fmt: skip
    (chalumeau / "print" / "chalumeau").mkdir(parents=True)
    data = made.model_dump(mode="json", by_alias=True, context={"messages": "data"})
    (bench.folder.keep / "print.json").write_text(json.dumps(data), encoding="utf-8")
    again = made_before(bench)
    german = Reader("de")
    assert german.place(again.findings[0].place) == "chalumeau.toml, Teil „upper or lower“"
    assert german.tell(again.findings[0].what) == "Loch „bell“"
    assert again.advice == made.advice
    assert {german.tell(each) for said in again.advice.values() for each in said}.isdisjoint(
        str(each) for said in made.advice.values() for each in said
    )
    bench.close()

"""``borewright yield``: one command, one page, German too, and what it refuses."""

from __future__ import annotations

import json
from importlib.resources import files
from pathlib import Path

import pypdfium2
import pytest

TABLES = Path(str(files("borewright"))) / "examples" / "batch-of-twelve"
OFFERS = """name,measure,common_mm,each_mm,price_once,price_each,hours_each
hole reamers,hole diameter,0,0.01,20,,
bore reamer,bore diameter,0,0.005,2000,,
"""
ASKED = ("--within", "5", "--beyond", "20", "--builds", "512", "--closed-forms",
         "--against-design")  # fmt: skip


@pytest.fixture
def workshop(type_in, tmp_path, clarinet, monkeypatch) -> Path:
    """A ledger with the invented batch of twelve as far as its costs go."""
    place = tmp_path / "w.ledger"
    monkeypatch.setenv("BOREWRIGHT_WHO", "Ada")
    monkeypatch.setenv("BOREWRIGHT_LEDGER", str(place))
    assert type_in("ledger", "start").exit_code == 0
    for kind in ("setting", "source", "quote", "lot", "printer", "expense", "order"):
        assert type_in("ledger", "add", kind, "--csv", TABLES / f"{kind}.csv").exit_code == 0
    design = ("design", "code=loan clarinet 3", "--file", clarinet)
    assert type_in("ledger", "add", *design).exit_code == 0
    for kind in ("batch", "instrument", "print_job", "labour"):
        assert type_in("ledger", "add", kind, "--csv", TABLES / f"{kind}.csv").exit_code == 0
    return place


def test_the_batch_of_twelve_on_one_page(type_in, workshop, chalumeau, tmp_path):
    """Which need hand-tuning, and is the finer nozzle worth it: one command."""
    offers = tmp_path / "offers.csv"
    offers.write_text(OFFERS, encoding="utf-8")
    words = ("yield", chalumeau, *ASKED, "--nozzle", "0.25", "--nozzle-price", "18", "--offers",
             offers, "--batch", "spring 2031", "--keep", tmp_path / "kept",
             "--output", tmp_path / "paper")  # fmt: skip
    told = type_in(*words)
    assert told.exit_code == 0, told.output
    page = told.stdout
    assert page.startswith("Class chalumeau")
    assert "Of 12 instruments, " in page
    assert "95 % interval" in page
    assert "A note off is put right by hand in 15 minutes" in page
    answer = json.loads(type_in(*words, "--json").stdout)
    assert answer["good"]["of"] == 512
    assert answer["currency"] == "EUR"
    assert 0 < answer["good_percent"] < 100
    nozzle, _, bore = answer["ways"]
    assert nozzle["name"] == "0.25 mm nozzle"
    assert nozzle["what_if"]["gained"] > 0
    assert bore["cost"]["saved"].startswith("-")  # 2,000 for a tube of one straight bore
    verdict = "Worth it" if float(nozzle["cost"]["saved"]) > 0 else "Not worth it"
    assert f"{verdict}: " in next(line for line in page.splitlines() if line.startswith("0.25 mm"))
    assert all(way["checked_cents"] < 0.5 for way in answer["ways"])
    assert answer["precision_cents"] < 0.05
    # What was kept is gone on with: nothing is solved a second time.
    assert len(list((tmp_path / "kept").glob("chunk-*.parquet"))) == 1
    german = type_in(*words, "--language", "de")
    assert "Von 12 Instrumenten genügen " in german.stdout
    # Two pages, read back from the PDF by another library.
    paper = pypdfium2.PdfDocument(tmp_path / "paper" / "yield.pdf")
    assert len(paper) == 2
    text = " ".join(page.get_textpage().get_text_range() for page in paper)
    assert "Von 12 Instrumenten" in text
    assert "Düse von 0,4 mm" in text
    paper.close()
    assert {path.name for path in (tmp_path / "paper").iterdir()} == {
        "yield.pdf", "yield-curve.svg", "culprits.svg",
    }  # fmt: skip
    refused = type_in(*words, "--seed", "2")
    assert refused.exit_code == 2
    assert "holds another study" in refused.stderr


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("--within", "0"), "do not go together"),
        (("--within", "20"), "do not go together"),
        (("--instruments", "0"), "instruments: 0 cannot be"),
        (("--wanted", "101"), "wanted yield: 101 cannot be"),
        (("--builds", "10"), "10 builds make no study"),
        (("--barrels", "99"), "no choice of barrels"),
        (("--nozzle", "4"), "the other nozzle: 4 cannot be"),
        (("--nozzle-price", "dear"), "not an amount"),
        (("--printer", "nobody's"), "there is no printer"),
        (("--offers", "absent.csv"), "absent.csv"),
        (("--seed", "-1"), "the seed -1 cannot be used"),
    ],
)
def test_wrong_wishes_are_refused_at_once(refused, chalumeau, options, words):
    assert words in refused("yield", chalumeau, "--closed-forms", *options)


def test_a_fit_for_the_batch_is_saved_with_its_weights(type_in, refused, chalumeau, tmp_path):
    new = tmp_path / "chalumeau" / "new.toml"
    words = ("batch-fit", chalumeau, "--output", new, "--closed-forms", "--builds", "256",
             "--within", "6")  # fmt: skip
    answer = json.loads(type_in(*words, "--json").stdout)
    assert answer["output"] == str(new)
    assert answer["nominal"]["share"]["of"] == 256
    assert answer["better"] == (answer["gained"] > answer["sure"] and bool(answer["weights"]))
    assert ("note_weights" in new.read_text(encoding="utf-8")) == answer["better"]
    assert "would be replaced" in refused("batch-fit", chalumeau, "--closed-forms")


def test_pitches_that_there_are_not_and_files_that_are_there_are_refused(
    refused, chalumeau, tmp_path
):
    assert "there is no pitch 'H'" in refused("siblings", chalumeau, "--only", "H")
    there = tmp_path / "bodies" / "b-flat-442-held.toml"
    there.parent.mkdir()
    there.write_text("mine", encoding="utf-8")
    line = refused("siblings", chalumeau, "--only", "B-flat 442", "--output", there.parent)
    assert "is there already" in line
    assert there.read_text(encoding="utf-8") == "mine"


def test_bores_are_tried_within_a_tables_ranges(type_in, refused, chalumeau, tmp_path):
    table = tmp_path / "features.csv"
    table.write_text("feature;from_mm;to_mm\nbody.bore;-0,2;0,2\n", encoding="utf-8")
    out = tmp_path / "chalumeau" / "bores"
    words = ("try-bores", chalumeau, "--features", table, "--closed-forms", "--tries", "8")
    told = type_in(*words, "--output", out)
    assert told.exit_code == 0, told.output
    assert "none other beats in every aim" in told.stdout
    answer = json.loads(type_in(*words, "--json").stdout)
    assert len(answer["designs"]) == 9
    best = [one["number"] for one in answer["designs"] if one["best"]]
    assert {path.name for path in out.iterdir()} == {
        "pareto.svg", "corner.svg", *(f"design-{number}.toml" for number in best),
    }  # fmt: skip
    assert type_in("tune", out / f"design-{best[0]}.toml", "--closed-forms").exit_code == 0
    assert "is not empty" in refused(*words, "--output", out)
    table.write_text("feature,from_mm,to_mm\nbore,-1,1\n", encoding="utf-8")
    assert "line 2, feature: 'bore' is no feature" in refused(*words)

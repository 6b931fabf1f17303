"""The invented batch of twelve, from quotes to delivery, run through the commands alone."""

from __future__ import annotations

import json
from importlib.resources import files
from pathlib import Path

import pytest
from typer.testing import CliRunner

from borewright.cli import app
from borewright.ledger import RECORD_KINDS, Ledger

EXAMPLES = Path(str(files("borewright"))) / "examples"
TABLES = EXAMPLES / "batch-of-twelve"
INSTRUMENT = EXAMPLES / "loan-clarinet/clarinet.toml"

MARK = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 40"><circle cx="20" cy="20" r="18" '
    'fill="none" stroke="#22303a" stroke-width="3"/><path d="M20 6v28M12 14h16M14 22h12"'
    ' stroke="#22303a" stroke-width="3"/></svg>'
)
PROTOTYPE_HOURS = {
    "reaming and finishing": 2.1, "sealing": 0.6, "fitting keywork": 6.0,
    "tuning and playing in": 1.8,
}  # fmt: skip


class Shell:
    """Runs `borewright ledger …` on one ledger; answers are JSON."""

    def __init__(self, place: str) -> None:
        self.environment = {"BOREWRIGHT_LEDGER": place, "BOREWRIGHT_WHO": "Ada"}

    def __call__(self, *arguments: str, code: int = 0) -> dict:
        line = ["ledger", *map(str, arguments), "--json"]
        done = CliRunner().invoke(app, line, env=self.environment)
        assert done.exit_code == code, (line, done.output, done.exception)
        return json.loads(done.stdout)

    def text(self, *arguments: str) -> str:
        done = CliRunner().invoke(app, ["ledger", *map(str, arguments)], env=self.environment)
        assert done.exit_code == 0, (arguments, done.output, done.exception)
        return done.stdout

    def load(self, *kinds: str) -> None:
        for kind in kinds:
            self("add", kind, "--csv", TABLES / f"{kind}.csv")


@pytest.fixture
def shell(place):
    return Shell(place)


def buy(shell: Shell, papers: Path) -> None:
    mark = papers.parent / "mark.svg"
    mark.write_text(MARK, encoding="utf-8")
    shell("add", "setting", "code=mark", "--file", mark)
    shell.load("setting", "source", "quote", "sample", "measurement", "lever", "trial")
    shell.load("criterion", "score", "lot", "printer", "expense", "order")
    survey = shell("survey", "Fernmill Keys")
    apart = {f["feature"]: f["outliers"] for f in survey["features"] if f["outliers"]}
    assert apart["FC"] == ["F4"]
    first, second = shell("compare", "--quantity", "12", "--plating", "silver")["standings"]
    assert first["source"] == "Fernmill Keys"
    assert first["total"] > second["total"]
    shell("correct", "source", first["source"], "verdict=chosen", "--reason", "least scatter")
    shell("correct", "sample", "F4", "verdict=refused", "--reason", "FC stands 0.9 mm off")
    shell("print", "keywork-order", "Q-1", "--quantity", "12", "--output", papers)


def promise(shell: Shell, papers: Path) -> None:
    shell("add", "design", "code=loan clarinet 3", "--file", INSTRUMENT)
    shell.load("batch")
    assert "no good print job" in shell("cost", "spring 2031", code=2)["error"]["cause"]
    shell.load("instrument", "print_job")
    assert any("no labour" in note for note in shell("cost", "spring 2031")["notes"])
    shell("add", "instrument", "code=LC-P1", "design=loan clarinet 3", "note=prototype")
    for step, hours in PROTOTYPE_HOURS.items():
        shell("add", "labour", f"step={step}", f"hours={hours}", "instrument=LC-P1")
    cost = shell("cost", "spring 2031", "--margin", "25", "--quantity", "24", "--plating", "nickel")
    assert float(cost["unit_cost"]) > float(cost["what_if"][0]["unit_cost"])
    assert float(cost["unit_cost"]) > float(cost["what_if"][1]["unit_cost"])
    assert cost["break_even"] <= 12
    plan = shell("plan", "spring 2031")
    # 12 of each part and a spare for the rejects on record; the lower joint fits one printer.
    assert len(plan["prints"]) == 4 * 13
    tall = {one["printer"] for one in plan["prints"] if one["part"] == "lower joint"}
    assert tall == {"north"}
    free = ("--from", "2031-03-03", "--free-weekends")
    printed = shell("print", "plan", "spring 2031", *free, "--output", papers)
    page = Path(printed["html"]).read_text(encoding="utf-8")
    assert page.count("lower joint") == 13
    assert "Mon 2031-03-03" in page
    assert "Sat 2031-03-08" not in page
    for order in ("R-101", "R-102", "R-103"):
        # The price goes from the cost sheet to the order without being typed again.
        priced = shell("price", order, "--margin", "25")
        assert (priced["unit_price"], priced["currency"]) == (cost["price_for_margin"], "EUR")
        shell("correct", "order", order, "deposit=200", "--reason", "costed")
        shell("print", "quotation", order, "--output", papers)
    for order in ("R-101", "R-102", "R-103"):
        paid = ("accepted=2031-02-10", "deposit_paid=2031-02-12")
        shell("correct", "order", order, *paid, "--reason", "order came in")


def make(shell: Shell, papers: Path) -> None:
    waits = shell("waiting", "--batch", "spring 2031")["waiting_for"]
    assert len(waits) == 12
    assert waits["LC-001"][0] == "printed barrel of loan clarinet 3"
    shell("print", "traveller", "LC-001", "--output", papers)
    shell.load("part")
    shell("withdraw", "instrument", "LC-P1", "--reason", "stays in the workshop as a pattern")
    waits = shell("waiting")["waiting_for"]
    assert waits["LC-001"][0] == "assembly of keywork, pads, springs and corks"
    shell.load("assembly", "labour")
    shell("print", "set-up", "F1", "--design", "loan clarinet 3", "--output", papers)
    keys = shell("set-up", "F1", "--design", "loan clarinet 3")["keys"]
    assert {k["key"]: k["remarks"] for k in keys if k["remarks"]}["G-sharp key"]


def prove(shell: Shell, papers: Path) -> None:
    assert "it waits for check: bore" in shell("sign-off", "LC-001", code=2)["error"]["cause"]
    shell("check", "LC-003", "leak", "feature=upper joint", "value=6", code=1)
    shell.load("check")
    shell("check", "LC-005", "leak", "feature=lower joint", "value=4", code=1)
    refused = shell("sign-off", "LC-005", code=2)["error"]["cause"]
    assert "repair and check again: leak, lower joint" in refused
    assert "not signed off" in shell(
        "print", "certificate", "LC-005", "--output", papers, code=2
    )["error"]["cause"]  # fmt: skip
    shell("check", "LC-005", "leak", "feature=lower joint", "value=31", "note=pad reseated")
    for number in range(1, 13):
        shell("sign-off", f"LC-{number:03d}")
    assert "already" in shell("sign-off", "LC-001", code=2)["error"]["cause"]
    shell("print", "certificate", "LC-005", "--output", papers)
    shell("print", "care", "LC-012", "--output", papers)
    issued = shell("show", "instrument", "LC-005")["certificates"]
    assert [(one["code"], one["void"]) for one in issued] == [("certificate-1", None)]
    shell("check", "LC-005", "leak", "feature=lower joint", "value=2", code=1)
    late = shell("print", "certificate", "LC-005", "--output", papers, code=2)["error"]["cause"]
    assert "of leak, lower joint failed afterwards" in late
    (issued,) = shell("show", "instrument", "LC-005")["certificates"]
    assert "failed afterwards" in issued["void"]
    shell("check", "LC-005", "leak", "feature=lower joint", "value=33", "note=pad replaced")
    shell("sign-off", "LC-005")
    shell("print", "certificate", "LC-005", "--output", papers)


def deliver(shell: Shell, papers: Path) -> None:
    assert shell("waiting")["waiting_for"]["LC-012"] == ["delivery of order R-103"]
    for order in ("R-101", "R-102", "R-103"):
        shell("correct", "order", order, "delivered=2031-04-28", "--reason", "handed over")
    assert not any(shell("waiting")["waiting_for"].values())
    visit = ("complaint=F key clicks", "work=end play taken up", "hours=0.4", "warranty=yes")
    shell("add", "service", "instrument=LC-002", "day=2031-09-01", *visit)
    shell("print", "batch", "spring 2031", "--output", papers)
    history = shell("show", "order", "R-101")["history"]
    assert [entry["action"] for entry in history] == ["added", *["corrected"] * 4]


@pytest.mark.slow
def test_from_quote_to_delivery(shell, place, new_place, tmp_path):
    papers = tmp_path / "papers"
    for step in (buy, promise, make, prove, deliver):
        step(shell, papers)
    assert len(list(papers.glob("*.pdf"))) == len(list(papers.glob("*.html"))) == 10
    assert all(path.read_bytes().startswith(b"%PDF-") for path in papers.glob("*.pdf"))

    shell("backup", tmp_path / "spring.backup")
    other = Shell(new_place(empty=True))
    other("restore", tmp_path / "spring.backup")
    assert other("verify") == {"wrong": []}
    assert other("show", "order", "R-101") == shell("show", "order", "R-101")

    shell("export", "--all", "--output", tmp_path / "tables")
    third = Shell(new_place())
    ledger, again = Ledger(place), Ledger(third.environment["BOREWRIGHT_LEDGER"])
    marks = {str(r["value"]) for r in ledger.records("setting", {"code": "mark"})}
    for sha256 in marks | {str(r["file"]) for r in ledger.records("design")}:
        again.keep_file(*ledger.kept_file(sha256))
    for kind in RECORD_KINDS:
        rows = ledger.records(kind, withdrawn=True)
        if rows:
            third("add", kind, "--csv", tmp_path / "tables" / f"{kind}.csv")
        versions = {"version": None}
        found = again.records(kind, withdrawn=True)
        assert [r | versions for r in rows] == [r | versions for r in found]


def test_answers_in_words(shell):
    shell.load("setting", "source", "quote", "sample", "measurement", "trial", "criterion", "score")
    shell.load("lot", "printer", "expense", "order")
    shell("add", "design", "code=loan clarinet 3", "--file", INSTRUMENT)
    shell.load("batch", "instrument", "print_job", "lever")
    assert "1. Fernmill Keys" in shell.text("compare", "--quantity", "12", "--plating", "silver")
    assert "10 × " in shell.text("compare", "--quantity", "12", "--plating", "silver")
    assert "modified z-score" in shell.text("survey", "Sallow Lane Metal")
    assert "smallest coin" in shell.text("cost", "spring 2031")
    assert "raise the lift" in shell.text("set-up", "F1", "--design", "loan clarinet 3")
    assert "waits for printed barrel" in shell.text("show", "instrument", "LC-001")
    assert "version 1 added by Ada" in shell.text("show", "instrument", "LC-001")
    assert "(and 13 more)" in shell.text("waiting")
    assert "needed" in shell.text("tables", "quote")
    assert "PLA-7" in shell.text("list", "lot")

"""Plant errors in the costing rules, one at a time, and see the fast tests catch each.

    python tools/deliberate_errors.py

Works on a copy; exit code 1 where an error goes unseen.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).parents[1]
TESTS = [f"tests/ledger/test_{name}.py" for name in ("batch_cost", "cost", "quotes")]


class Planted(NamedTuple):
    """An error: what it does wrong, in which file of the ledger, and what it puts for what."""

    what: str
    file: str
    right: str
    wrong: str


ERRORS = [
    Planted("rejects add to the material instead of dividing by the good share", "cost.py",
            "self.quantity / (ONE - self.reject_rate)", "self.quantity * (ONE + self.reject_rate)"),
    Planted("no rejects on material, hours and current", "costing.py",
            "_print_lines(prints, prices, currency, rejects.rate)",
            "_print_lines(prints, prices, currency, NONE)"),
    Planted("expenses of another plating are counted", "costing.py",
            "if row.plating not in (None, plating):", "if row.plating is False:"),
    Planted("expenses without a plating are left out", "costing.py",
            "if row.plating not in (None, plating):", "if row.plating != plating:"),
    Planted("set-up is paid for every instrument", "cost.py",
            "self.variable_cost * self.quantity + self.fixed_cost",
            "(self.variable_cost + self.fixed_cost) * self.quantity"),
    Planted("the batch's own labour is forgotten", "costing.py",
            "whole.get(row.step, 0.0) + row.hours", "whole.get(row.step, 0.0)"),
    Planted("one instrument's hours are summed over all", "costing.py",
            "exact(statistics.fmean(spent.values()))", "exact(sum(spent.values()))"),
    Planted("the price is rounded down", "money.py",
            "self._coin, ROUND_CEILING", "self._coin, ROUND_HALF_UP"),
    Planted("cents in a currency that has none", "money.py",
            "_DECIMALS.get(currency, 2)", "2"),
    Planted("halves of a coin are rounded to even", "money.py",
            "self._coin, ROUND_HALF_UP", "self._coin, 'ROUND_HALF_EVEN'"),
    Planted("a margin on the cost in place of one on the price", "cost.py",
            "(self.unit_cost / left).rounded_up", "(self.unit_cost * (2 - left)).rounded_up"),
    Planted("sets that a least order forces on the batch are not paid", "quotes.py",
            "max(0, quote.minimum_order - quantity)", "0"),
    Planted("tooling is paid for every instrument", "costing.py",
            "        fixed.append(\n            CostLine(say(\"keywork tooling\")",
            "        each.append(\n            CostLine(say(\"keywork tooling\")"),
    Planted("tax on top of the price is forgotten", "cost.py",
            "(ONE + self.tax_percent / HUNDRED)", "ONE"),
]  # fmt: skip


def main() -> int:
    """Plant and test; the exit code is 1 where an error goes unseen."""
    unseen = []
    with tempfile.TemporaryDirectory() as name:
        source = Path(name) / "src"
        shutil.copytree(ROOT / "src", source, ignore=shutil.ignore_patterns("__pycache__"))
        if not passes(source):
            print("the tests fail without any error")
            return 1
        for error in ERRORS:
            path = source / "borewright" / "ledger" / error.file
            text = path.read_text(encoding="utf-8")
            if text.count(error.right) != 1:
                raise SystemExit(f"{error.file} does not hold once: {error.right}")
            path.write_text(text.replace(error.right, error.wrong), encoding="utf-8")
            seen = not passes(source)
            path.write_text(text, encoding="utf-8")
            print(f"{'caught' if seen else 'UNSEEN'}  {error.what}", flush=True)
            if not seen:
                unseen.append(error)
    return 1 if unseen else 0


def passes(source: Path) -> bool:
    """Whether the fast tests of the ledger pass on these sources."""
    command = [sys.executable, "-B", "-m", "pytest", "-q", "-x", "-m", "not slow", *TESTS]
    environment = {**os.environ, "PYTHONPATH": str(source)}
    done = subprocess.run(command, cwd=ROOT, env=environment, capture_output=True, text=True)
    return done.returncode == 0


if __name__ == "__main__":
    sys.exit(main())

"""Two benches, each a process of its own, write at once; a restore is killed halfway."""

from __future__ import annotations

import subprocess
import sys
import time

import pytest

from borewright.ledger import Ledger, back_up, restore, verify

BENCH = """
import sys
from borewright.errors import LedgerError
from borewright.ledger import Ledger

place, name, rounds = sys.argv[1], sys.argv[2], int(sys.argv[3])
ledger = Ledger(place)
for number in range(rounds):
    ledger.add("source", {"code": f"{name} {number}"}, who=name)
    while True:
        seen = ledger.get("source", "shared")
        more = {"contact": str(int(seen["contact"]) + 1)}
        try:
            ledger.correct("source", "shared", more, who=name, reason="one more",
                           version=seen["version"])
            break
        except LedgerError as error:
            if "changed by another bench" not in str(error):
                raise
"""

RESTORE = """
import sys
from borewright.ledger import restore

print("ready", flush=True)
restore(sys.argv[1], sys.argv[2], replace=True)
"""


def bench(place, name, rounds):
    command = [sys.executable, "-c", BENCH, place, name, str(rounds)]
    return subprocess.Popen(command, stderr=subprocess.PIPE, text=True)


def test_no_update_is_lost(place):
    Ledger(place).add("source", {"code": "shared", "contact": "0"}, who="Ada")
    rounds = 20
    benches = [bench(place, name, rounds) for name in ("north", "south")]
    for one in benches:
        _, errors = one.communicate()
        assert one.returncode == 0, errors
    ledger = Ledger(place)
    assert ledger.get("source", "shared")["contact"] == str(2 * rounds)
    assert len(ledger.history("source", "shared")) == 2 * rounds + 1
    assert ledger.count("source") == 2 * rounds + 1
    assert verify(ledger) == []


@pytest.mark.slow
def test_a_restore_that_is_killed_leaves_all_or_nothing(place, new_place, tmp_path):
    full = Ledger(place)
    full.add_many("source", [{"code": f"S{n}", "note": "x" * 500} for n in range(3000)], who="Ada")
    back_up(full, tmp_path / "safe.backup")
    target = new_place()
    Ledger(target).add("source", {"code": "mine"}, who="Ada")
    outcomes = set()
    for pause in (0.0, 0.05, 0.1, 0.2, 0.3, 0.4):
        command = [sys.executable, "-c", RESTORE, target, str(tmp_path / "safe.backup")]
        with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as child:
            assert child.stdout.readline() == "ready\n"
            time.sleep(pause)
            child.kill()
        found = Ledger(target)
        assert verify(found) == []
        outcomes.add(found.count("source"))
        assert outcomes <= {1, 3000}
    assert restore(target, tmp_path / "safe.backup", replace=True).rows["source"] == 3000
    assert Ledger(target).count("source") == 3000

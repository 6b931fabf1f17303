"""Kills writers at random moments and looks at what they leave; run as a script of its own.

``killed_writer.py PLACE TIMES`` starts one writer after another as a forked process, which
adds and corrects records and says through a pipe what was committed, kills it with SIGKILL,
and checks the ledger. It runs apart from the tests, because only a process that has just
loaded the ledger and nothing else may be forked safely.
"""

from __future__ import annotations

import json
import os
import random
import signal
import sys
import time

from borewright.ledger import Ledger, verify


def write(place: str, pipe: int, number: int) -> None:
    """Write until killed; each line in the pipe is a commit that has come back."""
    ledger = Ledger(place)
    count = 0
    while True:
        code = f"run {number} record {count}"
        ledger.add("source", {"code": code, "contact": "0", "note": "x" * 3000}, who="writer")
        os.write(pipe, f"added {code}\n".encode())
        ledger.correct("source", code, {"contact": "1"}, who="writer", reason="again")
        os.write(pipe, f"corrected {code}\n".encode())
        count += 1


def run(place: str, number: int, chance: random.Random) -> list[str]:
    """One writer's life; what it was sure of."""
    reader, writer = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            os.close(reader)
            write(place, writer, number)
        finally:
            os._exit(1)
    os.close(writer)
    first = os.read(reader, 65536)  # the writer is at work, the clock starts
    time.sleep(chance.uniform(0, 0.06))
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    said = first
    while block := os.read(reader, 65536):
        said += block
    os.close(reader)
    return said.decode().splitlines()


def main() -> None:
    """Run all writers and print what was found as JSON."""
    place, times = sys.argv[1], int(sys.argv[2])
    chance = random.Random(7)
    lost, wrong, sure = [], [], 0
    for number in range(times):
        said = run(place, number, chance)
        ledger = Ledger(place)
        held = {
            r["code"]: r
            for r in ledger.records("source")
            if str(r["code"]).startswith(f"run {number} ")
        }
        for line in said:
            deed, code = line.split(" ", 1)
            sure += 1
            if code not in held or (deed == "corrected" and held[code]["contact"] != "1"):
                lost.append(line)
        if number % 20 == 19 or number == times - 1:
            wrong += verify(ledger)
        ledger.engine.dispose()
    print(json.dumps({"sure": sure, "lost": lost, "wrong": wrong}))


if __name__ == "__main__":
    main()

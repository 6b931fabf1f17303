"""Ctrl-C at random moments of every long command; run as a script of its own.

    python tests/tasks/interrupting.py TIMES [SEED]

Each time one command is started on an invented instrument and interrupted at a random moment of
its life, imports included. It must leave with 130 (or have ended by itself before) within a second
(what saves its best so far: within its own bound), tell no traceback, and leave either all of its
results or none: no half file, nothing of its own. Prints what it saw as JSON.
"""

from __future__ import annotations

import json
import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path
from typing import Any

from borewright.tasks.examples import Example, copy_example

#: Words after ``borewright``; how long it may live (s); whether it saves its best so far.
COMMANDS: tuple[tuple[tuple[str, ...], float, bool], ...] = (
    (("tune", "chalumeau.toml"), 5.0, False),
    (("sensitivity", "chalumeau.toml"), 5.0, False),
    (("climates", "chalumeau.toml"), 5.0, False),
    (("character", "chalumeau.toml", "--output", "out"), 8.0, False),
    (("check", "chalumeau.toml"), 4.0, False),
    (("solids", "chalumeau.toml", "--output", "out"), 6.0, False),
    (("print", "chalumeau.toml", "--output", "out"), 12.0, False),
    (("drawings", "chalumeau.toml", "--output", "out"), 8.0, False),
    (("coupon", "--output", "out"), 8.0, False),
    (("sound", "chalumeau.toml", "--scale", "--output", "out"), 12.0, False),
    (("fit", "chalumeau.toml", "--output", "fitted.toml"), 10.0, True),
)  # fmt: skip
#: Before this (s) Python itself is still being started, and hears nothing of ours.
STARTING_S = 0.15
WITHIN_S = 1.0


def files(folder: Path) -> set[str]:
    return {path.relative_to(folder).as_posix() for path in folder.rglob("*")}


def once(folder: Path, chance: random.Random, complete: dict[str, set[str]]) -> dict[str, Any]:
    """One interrupt: the command, after how long, how long it took to leave, what was wrong."""
    words, life_s, saves = chance.choice(COMMANDS)
    before = files(folder)
    started = time.monotonic()
    environment = {**os.environ, "PYTHONUNBUFFERED": "1"}
    # The child inherits what is set here, also where this process was told to ignore interrupts.
    ours = signal.signal(signal.SIGINT, signal.SIG_DFL)
    try:
        process = subprocess.Popen(
            [sys.executable, "-m", "borewright", *words],
            cwd=folder, env=environment, text=True,
            stdout=subprocess.DEVNULL, stderr=subprocess.PIPE,
        )  # fmt: skip
    finally:
        signal.signal(signal.SIGINT, ours)
    delay = STARTING_S + chance.random() * life_s
    try:
        process.wait(delay)
        over = True
    except subprocess.TimeoutExpired:
        over = False
        process.send_signal(signal.SIGINT)
    asked = time.monotonic()
    told = process.communicate(timeout=60)[1]
    took = time.monotonic() - asked
    wrong = []
    if not over and process.returncode not in (130, -signal.SIGINT, 0, 1):
        wrong.append(f"left with {process.returncode}")
    if not over and took > WITHIN_S and not saves:
        wrong.append(f"took {took:.2f} s")
    if "Traceback" in told:
        wrong.append(told[-300:])
    new = files(folder) - before
    if any(Path(name).name.startswith(".") for name in new):
        wrong.append(f"left {sorted(new)[:4]}")
    key = " ".join(words)
    if over and process.returncode in (0, 1):
        complete.setdefault(key, new)
    elif new and not saves and key in complete and new != complete[key]:
        wrong.append(f"half of it: {sorted(new)[:4]}")
    shutil.rmtree(folder / "out", ignore_errors=True)
    (folder / "fitted.toml").unlink(missing_ok=True)
    return {
        "command": key, "over": over, "after_s": round(asked - started, 2),
        "took_s": round(took, 3), "saves": saves, "wrong": wrong,
    }  # fmt: skip


def run(times: int, seed: int) -> dict[str, Any]:
    """Interrupt ``times`` commands that were still at work."""
    chance, complete = random.Random(seed), {}
    seen: list[dict[str, Any]] = []
    with tempfile.TemporaryDirectory() as scratch:
        folder = copy_example(Example.CHALUMEAU, Path(scratch) / "work")[0].parent
        for key in {"solids", "coupon"}:
            words = next(words for words, _, _ in COMMANDS if words[0] == key)
            before = files(folder)
            subprocess.run(
                [sys.executable, "-m", "borewright", *words],
                cwd=folder, check=True, capture_output=True,
            )  # fmt: skip
            complete[" ".join(words)] = files(folder) - before
            shutil.rmtree(folder / "out", ignore_errors=True)
        while sum(not each["over"] for each in seen) < times:
            seen.append(once(folder, chance, complete))
    caught = [each for each in seen if not each["over"]]
    took = sorted(each["took_s"] for each in caught if not each["saves"])
    return {
        "interrupts": len(caught),
        "slowest_s": took[-1] if took else None,
        "median_s": took[len(took) // 2] if took else None,
        "slowest_that_saves_s": max((e["took_s"] for e in caught if e["saves"]), default=None),
        "by_command": dict(Counter(each["command"] for each in caught)),
        "wrong": [each for each in seen if each["wrong"]],
    }


if __name__ == "__main__":
    found = run(int(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else 1)
    print(json.dumps(found, indent=1))
    sys.exit(1 if found["wrong"] else 0)

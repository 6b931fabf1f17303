"""Speed of the engine beside a plain loop, in one run; written to docs/benchmarks.md.

Ratios are what we hold ourselves to: both sides run on the same machine within minutes, so
that whatever else it does slows both. Nothing here asserts a time.
"""

from __future__ import annotations

import os
import platform
import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from importlib.metadata import version
from pathlib import Path

import numpy as np
import plain_loop
from plain.column import column_of

import borewright
from borewright.acoustics import error_bars, sensitivity, tuning, virtual_builds
from borewright.fit import fit
from borewright.model import (
    FingeringTable,
    Instrument,
    SideHoles,
    load,
    read_fingerings,
    read_survey,
)

EXAMPLE = Path(borewright.__file__).parent / "examples" / "loan-clarinet"
PAGE = Path(__file__).parents[1] / "docs" / "benchmarks.md"
WARM_RUNS = 30
#: The level that the plain loop knows.
FORMS = SideHoles.CLOSED_FORMS
LOOP_RUNS = 3
#: How many dimensions the plain loop differentiates; the rest is scaled up, and said so.
MEASURED_DIMENSIONS = 4
#: Budget: under 60 s on two cores.
BUILDS = 10_000


def typical_seconds(work: Callable[[], object], runs: int) -> float:
    """Median of so many runs."""
    taken = []
    for _ in range(runs):
        begun = time.perf_counter()
        work()
        taken.append(time.perf_counter() - begun)
    return statistics.median(taken)


def duration(seconds: float) -> str:
    """A time with its unit."""
    if seconds < 1:
        return f"{seconds * 1e3:.1f} ms"
    return f"{seconds:.1f} s" if seconds < 100 else f"{seconds / 60:.0f} min"


def machine() -> list[str]:
    """What the figures were taken on."""
    processor = platform.processor() or platform.machine()
    information = Path("/proc/cpuinfo")
    if information.exists():
        for line in information.read_text(encoding="utf-8").splitlines():
            if line.startswith("model name"):
                processor = line.split(":", 1)[1].strip()
                break
    load_average = f"{os.getloadavg()[0]:.1f}" if hasattr(os, "getloadavg") else "unknown"
    libraries = ", ".join(f"{name} {version(name)}" for name in ("jax", "numpy", "scipy"))
    return [
        f"processor: {processor}, {os.cpu_count()} cores seen, load at the start {load_average}",
        f"system: {platform.system()} {platform.machine()}, Python {platform.python_version()}, "
        f"{libraries}",
    ]


def tuning_rows(
    instrument: Instrument, table: FingeringTable
) -> tuple[list[list[str]], list[float]]:
    """Tuning: engine, loop, ratio; and the loop's frequencies."""
    notes = tuning(instrument, table, side_holes=FORMS).notes
    engine = typical_seconds(lambda: tuning(instrument, table, side_holes=FORMS), WARM_RUNS)
    solved = typical_seconds(lambda: tuning(instrument, table), WARM_RUNS)
    found: list[float] = []

    def loop() -> None:
        column = column_of(instrument)
        found[:] = [
            plain_loop.sounding_hz(column, fingering, note.target_hz)
            for fingering, note in zip(table.fingerings, notes, strict=True)
        ]

    seconds = typical_seconds(loop, LOOP_RUNS)
    apart = np.abs(1200 * np.log2(np.array(found) / [note.sounding_hz for note in notes]))
    what = f"tuning, {len(notes)} fingerings, warm"
    at_level = [f"{what}, solved", duration(solved), "–", "–", "holes and bell in 3-D"]
    agreement = f"pitches differ by {np.max(apart):.0e} cents at most"
    return [
        [
            f"{what}, closed forms",
            duration(engine),
            duration(seconds),
            f"{seconds / engine:.0f}",
            agreement,
        ],
        at_level,
    ], found


def sensitivity_rows(
    instrument: Instrument, table: FingeringTable, starts_hz: list[float]
) -> list[list[str]]:
    """Sensitivities: engine, differences of the loop, ratio."""
    exact = sensitivity(instrument, table, side_holes=FORMS)
    engine = typical_seconds(lambda: sensitivity(instrument, table, side_holes=FORMS), WARM_RUNS)
    solved = typical_seconds(lambda: sensitivity(instrument, table), WARM_RUNS)
    labels = list(exact.columns)
    wanted = ("L3 diameter", "R1 station", "barrel length", "TP chimney")
    columns = [labels.index(label) for label in wanted if label in labels][:MEASURED_DIMENSIONS]
    begun = time.perf_counter()
    differences = [
        plain_loop.cents_per_tenth_mm(instrument, table, starts_hz, column) for column in columns
    ]
    taken = time.perf_counter() - begun
    whole = taken / len(columns) * len(labels)
    apart = np.max(np.abs(np.array(exact.cents_per_tenth_mm)[:, columns].T - differences))
    what = f"sensitivities, {len(table.fingerings)} fingerings by {len(labels)} dimensions, warm"
    return [
        [
            f"{what}, closed forms",
            duration(engine),
            f"{duration(whole)} (scaled up from {len(columns)} dimensions, {duration(taken)})",
            f"{whole / engine:.0f}",
            f"they differ by {apart:.0e} cents per 0.1 mm at most",
        ],
        [f"{what}, solved", duration(solved), "–", "–", "holes and bell in 3-D"],
    ]


def error_bar_rows(instrument: Instrument, table: FingeringTable) -> list[list[str]]:
    """Error bars to first order, and the virtual builds that check them."""
    bars = error_bars(instrument, table).bars
    linear = typical_seconds(lambda: error_bars(instrument, table), WARM_RUNS)
    virtual_builds(instrument, table, builds=1)  # compiles: the kernel's batch is always full
    begun = time.perf_counter()
    cents = virtual_builds(instrument, table, builds=BUILDS)
    taken = time.perf_counter() - begun
    first_order = np.array([(bar.total_cents**2 - bar.model_cents**2) ** 0.5 for bar in bars])
    apart = np.max(np.abs(first_order / cents.std(axis=0) - 1))
    lost = int(np.isnan(cents).sum())
    return [
        [f"error bars, {len(bars)} fingerings, warm", duration(linear), "–", "–", "first order"],
        [
            f"{BUILDS:,} virtual builds, all solved anew, warm",
            duration(taken),
            "–",
            "–",
            f"standard deviations differ by {100 * apart:.1f} % at most, {lost} pitches lost",
        ],
    ]


def shell(arguments: list[str], cache: Path | None = None) -> float:
    """Seconds of one command of the command line, from the shell."""
    environment = dict(os.environ)
    if cache:
        environment["BOREWRIGHT_CACHE"] = str(cache)
    command = [str(Path(sys.executable).with_name("borewright")), *arguments]
    begun = time.perf_counter()
    subprocess.run(command, check=True, capture_output=True, env=environment)
    return time.perf_counter() - begun


def fit_rows(instrument: Instrument, table: FingeringTable) -> list[list[str]]:
    """The full keywork-constrained fit, warm and from the shell."""
    survey = read_survey(EXAMPLE / instrument.keywork)
    fit(instrument, table, survey)
    begun = time.perf_counter()
    _, result = fit(instrument, table, survey)
    warm = time.perf_counter() - begun
    before, after = result.before.summary, result.after.summary
    outcome = (
        f"{result.rounds} rounds, rms from {before.rms_cents:.1f} to {after.rms_cents:.1f} cents, "
        f"{len(result.out_of_reach)} notes out of reach"
    )
    with tempfile.TemporaryDirectory() as folder:
        work = Path(folder) / "clarinet"
        shutil.copytree(EXAMPLE, work)
        cache = Path(folder) / "cache"
        command = ["fit", str(work / "clarinet.toml"), "--output", str(work / "fitted.toml")]
        first = shell(command, cache)
        again = shell([*command, "--force"], cache)
    return [
        ["full fit, warm", duration(warm), "–", "–", outcome],
        ["full fit from the shell", duration(again), "–", "–", "compiled kernels on disk"],
        ["the same, first ever", duration(first), "–", "–", "everything compiled on the way"],
    ]


def page(rows: list[list[str]], description: list[str], peak_gb: float) -> str:
    """The page as text."""
    lines = [
        "# Benchmarks",
        "",
        "Written by `make bench` (`benchmarks/speed.py`); do not edit. The plain loop,",
        "`benchmarks/plain_loop.py`, computes the same numbers fingering by fingering with NumPy",
        "and SciPy. Times depend on the machine and on what else it does; the ratios hardly do.",
        "Engine times are medians.",
        "",
        *(f"- {line}" for line in description),
        f"- peak memory of all of this, in one process: {peak_gb:.1f} GB",
        "",
        "| what | Borewright | plain loop | ratio | remarks |",
        "|---|---|---|---|---|",
        *(f"| {' | '.join(row)} |" for row in rows),
    ]
    return "\n".join(lines) + "\n"


def main() -> None:
    """Measure, print, and write the page."""
    description = machine()
    instrument = load(EXAMPLE / "clarinet.toml")
    table = read_fingerings(EXAMPLE / instrument.fingerings)
    rows, starts_hz = tuning_rows(instrument, table)
    rows += sensitivity_rows(instrument, table, starts_hz)
    rows += error_bar_rows(instrument, table)
    rows += fit_rows(instrument, table)
    bare = [sys.executable, "-c", "pass"]
    python = typical_seconds(lambda: subprocess.run(bare, check=True), 5)
    helped = typical_seconds(lambda: shell(["--help"]), 5)
    rows.append(
        ["`borewright --help`", duration(helped), "–", "–", f"Python itself: {duration(python)}"]
    )
    peak_gb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024**2
    text = page(rows, description, peak_gb)
    PAGE.write_text(text, encoding="utf-8")
    print(text)


if __name__ == "__main__":
    main()

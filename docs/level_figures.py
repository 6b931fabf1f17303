"""Hold the faster levels to whole resonators in 3-D: the table and pictures of docs/levels.md.

Whole resonators take minutes, so what they say is kept in docs/levels.json; delete an entry
(or the file) to solve again. The faster levels are computed each time.
"""

from __future__ import annotations

import json
import math
import time
from pathlib import Path
from typing import Any

import numpy as np
from level_cases import Case, cases

import borewright
from borewright.acoustics import Air, input_impedance
from borewright.documents._figure import axes_mm, drawing_settings, new_figure

FOLDER = Path(__file__).parent
STORE, PAGE, PICTURES = FOLDER / "levels.json", FOLDER / "levels.md", FOLDER / "pictures"
AIR = Air(346.0, 1.18, losses=False)
COUNT = 3
#: Half the width of a resonance's window in the picture, as a share of its frequency.
_WINDOW = 0.02
_CURVES = ("flared end", "five open holes", "clarinet, three open")
LEVELS = {
    "closed forms, no interaction": (False, "closed forms"),
    "closed forms": (True, "closed forms"),
    "solved holes": (True, "solved in 3-D"),
}
_COLOURS = {
    "closed forms, no interaction": "#b9b2a6",
    "closed forms": "#c2703d",
    "solved holes": "#2f6f8f",
}


def main() -> None:
    """Solve what is not known yet, write the table into the page and draw."""
    kept: dict[str, Any] = json.loads(STORE.read_text(encoding="utf-8")) if STORE.exists() else {}
    rows = []
    for case in cases():
        reference = _reference(case, kept)
        rows.append((case, reference, _levels(case, reference["frequencies_hz"])))
    _write_table(rows)
    PICTURES.mkdir(exist_ok=True)
    with drawing_settings():
        _draw_errors(rows, PICTURES / "levels-errors.png")
        _draw_impedance(rows, PICTURES / "levels-impedance.png")


def _reference(case: Case, kept: dict[str, Any]) -> dict[str, Any]:
    """The whole resonator, and how much a coarser or finer mesh moves it."""
    if case.name not in kept:
        from borewright.acoustics.solved.whole import WholeDetail, whole_resonances

        print(f"solving {case.name} …", flush=True)
        asked = (case.instrument, case.open_holes, COUNT)
        found = whole_resonances(*asked, air=AIR, detail=WholeDetail(order=case.order))
        big = case.order > WholeDetail().order
        other = WholeDetail() if big else WholeDetail().finer()
        check = whole_resonances(*asked, air=AIR, detail=other)
        kept[case.name] = {
            **found.as_dict(),
            "checked_by": "order 3" if big else "finer",
            "check_hz": check.frequencies_hz,
            "check_unknowns": check.unknowns,
            "curves": [
                _curve(found.frequency_grid_hz, found.impedance, frequency)
                for frequency in found.frequencies_hz
            ]
            if case.name in _CURVES
            else [],
        }
        STORE.write_text(json.dumps(kept, indent=1) + "\n", encoding="utf-8")
    return kept[case.name]


def _curve(grid: np.ndarray, impedance: np.ndarray, frequency: float) -> dict[str, list[float]]:
    near = np.abs(grid / frequency - 1) < _WINDOW
    level = 20 * np.log10(np.abs(impedance[near]))
    return {
        "hz": [round(float(hz), 4) for hz in grid[near]],
        "db": [round(float(db), 4) for db in level],
    }


def _at_level(case: Case, level: str) -> Any:
    interaction, _ = LEVELS[level]
    return case.instrument.model_copy(update={"outside_interaction": interaction})


def _levels(case: Case, reference: list[float]) -> dict[str, Any]:
    """Cents and warm seconds of every faster level."""
    found = {}
    for level, (_, holes) in LEVELS.items():
        instrument = _at_level(case, level)

        def solve(instrument: Any = instrument, holes: str = holes) -> np.ndarray:
            return borewright.resonances(
                instrument, case.open_holes, COUNT, air=AIR, side_holes=holes
            )

        frequencies = solve()
        started = time.perf_counter()
        solve()
        seconds = time.perf_counter() - started
        found[level] = {"cents": _cents(frequencies, reference), "seconds": seconds}
    return found


def _cents(found: Any, reference: Any) -> list[float]:
    return [1200 * math.log2(one / other) for one, other in zip(found, reference, strict=True)]


def _write_table(rows: list[Any]) -> None:
    lines = ["| resonator | 3-D, Hz | closed forms, no interaction | closed forms | solved holes |"]
    lines.append("|---|---|---|---|---|")
    for case, reference, levels in rows:
        hz = ", ".join(f"{frequency:.2f}" for frequency in reference["frequencies_hz"])
        cells = [_signed(levels[level]["cents"]) for level in LEVELS]
        lines.append(f"| {case.name} | {hz} | {' | '.join(cells)} |")
    _replace("cases", lines)

    lines = [
        "| level | mean error, cents | worst, cents | seconds a fingering |",
        "|---|---|---|---|",
    ]
    for level in LEVELS:
        cents = np.abs(np.concatenate([levels[level]["cents"] for _, _, levels in rows]))
        seconds = np.median([levels[level]["seconds"] for _, _, levels in rows])
        lines.append(
            f"| {level} | {np.mean(cents):.1f} | {np.max(cents):.1f} | {seconds:.3f}, warm |"
        )
    low = min(reference["seconds"] for _, reference, _ in rows)
    high = max(reference["seconds"] for _, reference, _ in rows)
    lines.append(f"| whole resonator in 3-D | reference | | {low:.0f} to {high:.0f} |")
    _replace("levels", lines)

    lines = ["| resonator | unknowns | seconds | check | unknowns | moves by, cents |"]
    lines.append("|---|---|---|---|---|---|")
    for case, reference, _ in rows:
        moved = _signed(_cents(reference["check_hz"], reference["frequencies_hz"]), 2)
        lines.append(
            f"| {case.name} | {reference['unknowns']:,} | {reference['seconds']:.0f} | "
            f"{reference['checked_by']} | {reference['check_unknowns']:,} | {moved} |"
        )
    _replace("meshes", lines)


def _signed(cents: list[float], digits: int = 1) -> str:
    return ", ".join(f"{value:+.{digits}f}".replace("-", "−") for value in cents)


def _replace(name: str, lines: list[str]) -> None:
    """Write a table between its two marks in the page."""
    page = PAGE.read_text(encoding="utf-8")
    start, end = f"<!-- {name} -->\n", f"<!-- end of {name} -->"
    head, rest = page.split(start)
    _, tail = rest.split(end)
    PAGE.write_text(head + start + "\n".join(lines) + "\n" + end + tail, encoding="utf-8")


def _draw_errors(rows: list[Any], path: Path) -> None:
    figure = new_figure(170, 95)
    axes = axes_mm(figure, 16, 34, 150, 50)
    axes.axhspan(-2, 2, color="#eef2ee", zorder=0)
    axes.axhline(0, color="#888888", linewidth=0.6)
    for level, colour in _COLOURS.items():
        shift = (list(_COLOURS).index(level) - 1) * 0.07
        for number in range(COUNT):
            x = [at + 0.25 * (number - 1) + shift for at in range(len(rows))]
            y = [levels[level]["cents"][number] for _, _, levels in rows]
            axes.plot(x, y, "o", color=colour, markersize=3.4, label=level if number == 0 else None)
    axes.set_xticks(range(len(rows)), [case.name for case, _, _ in rows], rotation=28, ha="right")
    axes.tick_params(length=0)
    axes.set_ylabel("cents off the 3-D solution")
    for at in range(len(rows) - 1):
        axes.axvline(at + 0.5, color="#dddddd", linewidth=0.5)
    axes.set_xlim(-0.5, len(rows) - 0.5)
    for side in ("top", "right"):
        axes.spines[side].set_visible(False)
    axes.legend(
        frameon=False, ncols=3, loc="lower left", bbox_to_anchor=(0, 1.0), handletextpad=0.2
    )
    figure.savefig(path, dpi=200)


def _draw_impedance(rows: list[Any], path: Path) -> None:
    shown = [row for row in rows if row[0].name in _CURVES]
    figure = new_figure(170, 44 * len(shown) + 14)
    for line, (case, reference, _) in enumerate(shown):
        bottom = 12 + 44 * (len(shown) - 1 - line)
        for column, curve in enumerate(reference["curves"]):
            axes = axes_mm(figure, 14 + 53 * column, bottom, 46, 30)
            hz = np.linspace(curve["hz"][0], curve["hz"][-1], 256)
            for level in ("closed forms", "solved holes"):
                _, holes = LEVELS[level]
                found = input_impedance(
                    _at_level(case, level), case.open_holes, hz, air=AIR, side_holes=holes
                )
                axes.plot(hz, 20 * np.log10(np.abs(found)), color=_COLOURS[level], lw=0.9)
            axes.plot(curve["hz"], curve["db"], color="#111111", lw=0.9, ls=(0, (4, 2)))
            axes.axvline(reference["frequencies_hz"][column], color="#bbbbbb", lw=0.5, zorder=0)
            axes.set_title(f"{case.name}: resonance {column + 1}", fontsize=7, loc="left")
            axes.tick_params(labelsize=6, length=2)
            axes.margins(x=0)
            for side in ("top", "right"):
                axes.spines[side].set_visible(False)
            if line == len(shown) - 1:
                axes.set_xlabel("Hz", fontsize=7)
    names = [("closed forms", "-"), ("solved holes", "-"), ("3-D", "--")]
    for name, style in names:
        axes.plot([], [], style, color=_COLOURS.get(name, "#111111"), label=name)
    figure.legend(
        *axes.get_legend_handles_labels(),
        frameon=False,
        ncols=3,
        loc="upper left",
        bbox_to_anchor=(0.06, 1.0),
        fontsize=7,
    )
    figure.text(0.006, 0.5, "|Z|, dB over 1 Pa s/m³", rotation=90, va="center", fontsize=7)
    figure.savefig(path, dpi=200)


if __name__ == "__main__":
    main()

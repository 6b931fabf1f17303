"""Random resonators whose holes meet: drawn, solved whole in 3-D, and compared.

``python docs/level_random.py`` solves all of them (a core minute each) and writes
``docs/level_random.json``: Hz of the whole resonator, cents of the faster levels off it. None of
them was used for anything else. Numbers and kinds are as drawn from seed 20261129.
"""

from __future__ import annotations

import json
import math
import os
import random
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path
from typing import Any

from borewright.acoustics import Air, resonances
from borewright.model import Instrument, Part, ToneHole

RESULTS = Path(__file__).parent / "level_random.json"
SEED, COUNT = 20261129, 48
KINDS = ("row", "opposite", "throat", "side keys", "oblique", "closed neighbour")
#: Meshes of the reference that differ from the default: at that one it is 7.6 cents off.
FINER = {35: {"growth": 0.4, "edge_size": 0.5}}
LEVELS = ("closed forms", "solved in 3-D")


def draw(number: int) -> tuple[Instrument, list[str]]:
    """A resonator and what is open of it."""
    r = random.Random(SEED + number)
    bore_mm, outside_mm, length = r.uniform(13.0, 16.5), r.uniform(26, 32), r.uniform(190, 320)
    kind = KINDS[number % 6]
    bore = [(0, bore_mm), (length, bore_mm)]
    if r.random() < 0.4:
        wider = r.uniform(0.5, 3.5)
        bore = [(0, bore_mm), (length * 0.6, bore_mm), (length, bore_mm + wider)]
    holes: list[dict[str, Any]] = []

    def hole(station: float, diameter: float, bearing: float, pad: bool = False) -> None:
        made: dict[str, Any] = {
            "name": f"h{len(holes)}",
            "station_mm": round(station, 2),
            "diameter_mm": round(diameter, 2),
            "bearing_deg": round(bearing, 1),
        }
        share = r.random()
        if pad or share < 0.3:
            made["cover"] = "pad"
            made["pad"] = {
                "rest": "closed",
                "diameter_mm": round(diameter + r.uniform(3.2, 5.0), 2),
                "lift_mm": round(max(diameter * r.uniform(0.35, 0.6), 2.0), 2),
            }
            made["chimney_mm"] = round(r.choice([-1.2, -0.8, -0.5, 0.6]), 2)
        elif share < 0.6:
            made["chimney_mm"] = round(r.uniform(0.3, 1.5), 2)
        if share > 0.75:
            made["undercut"] = {
                "diameter_mm": round(diameter + r.uniform(0.6, 1.6), 2),
                "depth_mm": round(r.uniform(1.2, 2.5), 2),
            }
        holes.append(made)

    first = length * r.uniform(0.5, 0.62)
    if kind == "row":
        station = first
        for _ in range(r.choice([3, 4])):
            hole(station, r.uniform(5, 9.5), r.uniform(-20, 20))
            station += r.uniform(15, 24)
    elif kind == "opposite":
        one, other = r.uniform(4.5, 8.5), r.uniform(4.5, 8.5)
        hole(first, one, 0)
        hole(first + r.uniform(-2, 9), other, 180)
    elif kind == "throat":
        hole(first, r.uniform(4.2, 5.4), r.uniform(20, 60), pad=True)
        hole(first + r.uniform(3, 6), r.uniform(5.2, 6.4), 180)
        hole(first + r.uniform(14, 18), r.uniform(5, 6.5), 0)
    elif kind == "side keys":
        hole(first, r.uniform(4.5, 5.8), 95, pad=True)
        hole(first + r.uniform(11, 13), r.uniform(4.5, 5.8), 95, pad=True)
        hole(first + r.uniform(16, 22), r.uniform(5, 7), 0)
    elif kind == "oblique":
        bearing = r.uniform(40, 130)
        hole(first, r.uniform(5, 8), 0)
        hole(first + r.uniform(7.5, 12), r.uniform(5, 8), bearing)
    else:
        hole(first, r.uniform(5, 7), 0)
        hole(first + r.uniform(0, 9), r.uniform(5, 8), 180)
        hole(first + r.uniform(16, 22), r.uniform(6, 9), 10)
    outside = [(0, outside_mm), (length, outside_mm)]
    if bore[-1][1] > bore_mm:
        end = outside_mm + bore[-1][1] - bore_mm
        outside = [(0, outside_mm), (length * 0.6, outside_mm), (length, end)]
    part = Part(
        name="tube",
        length_mm=length,
        bore=bore,
        outside=outside,
        holes=[ToneHole.model_validate(each) for each in holes],
    )
    names = [each["name"] for each in holes]
    opened = names[::2] if kind == "closed neighbour" else names
    return Instrument(name=f"random {number}", invented=True, parts=[part]), opened


def solved(number: int) -> dict[str, Any]:
    """One resonator whole, and how far the faster levels are off it."""
    from borewright.acoustics.solved.whole import REFERENCE_AIR, WholeDetail, whole_resonances

    instrument, opened = draw(number)
    detail = WholeDetail(**FINER.get(number, {}))
    whole = whole_resonances(instrument, opened, 3, detail=detail, air=REFERENCE_AIR)
    row = {"number": number, "kind": KINDS[number % 6], "open": opened}
    row["whole_hz"] = [round(float(each), 4) for each in whole.frequencies_hz]
    for level in LEVELS:
        row[level] = cents_off(instrument, opened, level, row["whole_hz"])
    return row


def cents_off(
    instrument: Instrument, opened: list[str], level: str, whole_hz: list[float]
) -> list[float]:
    """How far (cents) a level is off, resonance by resonance."""
    found = resonances(instrument, opened, 3, Air(346.0, 1.18, losses=False), side_holes=level)
    return [
        round(1200 * math.log2(float(one) / whole), 2)
        for one, whole in zip(found, whole_hz, strict=True)
    ]


if __name__ == "__main__":
    with ProcessPoolExecutor(os.cpu_count()) as pool:
        rows = list(pool.map(solved, range(COUNT)))
    RESULTS.write_text(
        "[\n" + ",\n".join(json.dumps(row) for row in rows) + "\n]\n", encoding="utf-8"
    )

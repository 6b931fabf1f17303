"""Write the invented measured bore of the wide-bore clarinet.

What a bore gauge would find in the joints of that example: unequal stations from both ends,
each reading off by the gauge's scatter, and a bore that is not quite round. Run it to write
the file again::

    python tools/measured_bore.py src/borewright/examples/wide-bore
"""

from __future__ import annotations

import random
import sys
from pathlib import Path

from borewright.model import Part, load, write_text

SEED = 1823
#: One standard deviation of a reading, and of the stop that sets its station (mm; invented).
GAUGE_MM, STOP_MM = 0.02, 0.1
HEADING = "part,station_mm,reached_from,diameter_mm,uncertainty_mm,station_uncertainty_mm,length_mm"
COMMENT = """# format = 1
# Invented example: the bore of the wide-bore clarinet's two joints as a gauge might find it. No
# such instrument exists. Stations in mm from the shoulder named; negative ones lie in a tenon.
# Written by tools/measured_bore.py (seed 1823).
"""


def readings(part: Part, draw: random.Random) -> list[str]:
    """Rows of one joint: from the top down to beyond its middle, the rest from the bottom."""
    low = -part.tenon_top.length_mm if part.tenon_top else part.socket_top.depth_mm
    high = part.length_mm + part.tenon_bottom.length_mm
    meet, overlap = 0.55 * part.length_mm, 15.0
    rows = []
    for end, first, last in (
        ("top", low + 1, meet + overlap),
        ("bottom", meet - overlap, high - 1),
    ):
        station = first
        while station <= last:
            true = station + draw.gauss(0, STOP_MM)
            diameter = part.bore_diameter_at(true) + draw.gauss(0, GAUGE_MM)
            shown = station if end == "top" else part.length_mm - station
            rows.append(
                f"{part.name},{shown:.1f},{end},{diameter:.2f},{GAUGE_MM},{STOP_MM},"
                f"{part.length_mm:g}"
            )
            station += draw.uniform(3.0, 9.0)
    return rows


def main(folder: Path) -> None:
    """Write the table."""
    draw = random.Random(SEED)
    instrument = load(folder / "clarinet.toml")
    rows = [row for name in ("upper joint", "lower joint")
            for row in readings(instrument.part(name), draw)]  # fmt: skip
    write_text(folder / "measured-bore.csv", COMMENT + "\n".join([HEADING, *rows]) + "\n")


if __name__ == "__main__":
    main(Path(sys.argv[1]))

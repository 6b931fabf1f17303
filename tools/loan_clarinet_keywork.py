"""Write the invented keywork survey of the loan-pool clarinet.

A bought-in set never sits where a drawing says. So this survey takes the consistent reference
holes beside this script and moves every cup and ring by up to 3 mm along the joint, at random
but reproducibly: the first draw in which pads and rings keep clear, holes keep their wall and
fingers their spacing is taken. Run it to write the file again::

    python tools/loan_clarinet_keywork.py src/borewright/examples/loan-clarinet/keywork.csv
"""

from __future__ import annotations

import csv
import io
import itertools
import math
import random
import sys
from dataclasses import dataclass
from pathlib import Path

REFERENCE = Path(__file__).with_name("reference-holes-17key.csv")
SEED = 1817
SCATTER_MM = 3.0
WINDOW_MM = 0.5
THREAD_MM = 3.0

#: Where pads lie from the bore's axis, about, and how wide a ring's metal is (mm, from memory).
PAD_RADIUS_MM, RING_METAL_MM = 14.2, 1.5
#: Least clearance between moving parts, least spacing of fingers (mm, from memory).
CLEAR_MM, FINGERS_MM = 1.0, 20.0
#: The ring pad's hole must stay below the lower joint's socket with 1.5 mm of wall.
HIGHEST_MM = {"RP": 27.1}
#: The C-sharp pad must not lie over the upper joint's end.
LOWEST_MM = {"CG": 174.0}

#: Invented posts: name, part, station (mm), bearing (degrees).
POSTS = (
    ("register", "upper joint", 55.0, 165),
    ("side top", "upper joint", 12.0, -115),
    ("side bottom", "upper joint", 160.0, -110),
    ("throat A", "upper joint", 77.0, 10),
    ("throat G-sharp", "upper joint", 82.0, 60),
    ("left rings top", "upper joint", 75.0, -50),
    ("left rings bottom", "upper joint", 152.0, -45),
    ("C-sharp", "upper joint", 157.0, 85),
    ("right rings top", "lower joint", 33.0, -55),
    ("right rings bottom", "lower joint", 102.0, -35),
    ("right sliver", "lower joint", 57.0, -120),
    ("F-sharp hinge top", "lower joint", 130.0, 45),
    ("F-sharp hinge bottom", "lower joint", 230.0, 50),
    ("F hinge", "lower joint", 133.0, -85),
)

COLUMNS = [
    "item",
    "name",
    "part",
    "station_mm",
    "bearing_deg",
    "hole",
    "up_mm",
    "down_mm",
    "pad_diameter_mm",
    "rest",
    "lift_mm",
    "ring_inside_mm",
    "thread_mm",
    "comment",
]

HEAD = f"""\
# format = 1
# Invented example: the survey of a 17-key, 6-ring keywork set that no firm ever made.
# Stations in mm from each joint's own top shoulder; up_mm and down_mm say how far a key can be
# bent. Written by tools/loan_clarinet_keywork.py (seed {SEED}, moved by up to {SCATTER_MM:g} mm).
"""


@dataclass(frozen=True)
class Place:
    """A cup, ring or bare finger hole with its drawn station (mm, degrees)."""

    row: dict[str, str]
    station_mm: float

    @property
    def name(self) -> str:
        """The hole's name."""
        return self.row["name"]

    @property
    def diameter_mm(self) -> float:
        """Diameter of the reference hole."""
        return float(self.row["diameter_mm"])

    @property
    def ring_inside_mm(self) -> float:
        """Inside of a ring: the hole and 3.5 to 4 mm, so that a chimney passes, in halves."""
        return math.floor((self.diameter_mm + 4) * 2) / 2

    @property
    def reach_mm(self) -> float:
        """Radius of what moves over the hole, or of its chimney where nothing does."""
        if self.row["cover"] == "pad":
            return float(self.row["pad_diameter_mm"]) / 2
        if self.row["cover"] == "ring":
            return self.ring_inside_mm / 2 + RING_METAL_MM
        return self.diameter_mm / 2 + 1.2


def read_reference() -> list[dict[str, str]]:
    """Rows of the reference holes, in order from the top."""
    lines = REFERENCE.read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def draw_places(rows: list[dict[str, str]], seed: int) -> list[Place]:
    """The first draw of stations that could be a real set."""
    # random() is the one method whose sequence is promised for every release of Python.
    generator = random.Random(seed)
    while True:
        places = [
            Place(row, _moved(row, (2 * generator.random() - 1) * SCATTER_MM)) for row in rows
        ]
        if could_be_real(places):
            return places


def _moved(row: dict[str, str], by_mm: float) -> float:
    # A bare finger hole has no keywork: it stays where the hand wants it.
    return round(float(row["station_mm"]) + (0.0 if row["cover"] == "finger" else by_mm), 1)


def could_be_real(places: list[Place]) -> bool:
    """Whether pads and rings keep clear, fingers have room and joints stay whole."""
    for place in places:
        if place.station_mm < HIGHEST_MM.get(place.name, 0.0):
            return False
        if place.station_mm > LOWEST_MM.get(place.name, math.inf):
            return False
    for first, second in itertools.combinations(places, 2):
        if first.row["part"] != second.row["part"]:
            continue
        if _apart_mm(first, second) < first.reach_mm + second.reach_mm + CLEAR_MM:
            return False
        fingers = first.row["cover"] != "pad" and second.row["cover"] != "pad"
        front = first.row["bearing_deg"] == second.row["bearing_deg"] == "0"
        if fingers and front and second.station_mm - first.station_mm < FINGERS_MM:
            return False
    return True


def _apart_mm(first: Place, second: Place) -> float:
    turn = math.radians(float(first.row["bearing_deg"]) - float(second.row["bearing_deg"]))
    chord = 2 * PAD_RADIUS_MM * abs(math.sin(turn / 2))
    return math.hypot(chord, first.station_mm - second.station_mm)


def survey_text(seed: int = SEED) -> str:
    """The whole file."""
    out = io.StringIO()
    writer = csv.DictWriter(out, COLUMNS, restval="", lineterminator="\n")
    writer.writeheader()
    for place in draw_places(read_reference(), seed):
        row = place.row
        if row["cover"] == "finger":
            continue
        cup = row["cover"] == "pad"
        record = {
            "item": "cup" if cup else "ring",
            "name": row["label"].split(" (")[0],
            "part": row["part"],
            "station_mm": f"{place.station_mm:.1f}",
            "bearing_deg": row["bearing_deg"],
            "hole": place.name,
            "up_mm": WINDOW_MM,
            "down_mm": WINDOW_MM,
        }
        if cup:
            record |= {key: row[key] for key in ("pad_diameter_mm", "rest", "lift_mm")}
        else:
            record["ring_inside_mm"] = f"{place.ring_inside_mm:.1f}"
        writer.writerow(record)
    for name, part, station, bearing in POSTS:
        writer.writerow(
            {
                "item": "post",
                "name": f"{name} post",
                "part": part,
                "station_mm": f"{station:.1f}",
                "bearing_deg": bearing,
                "thread_mm": THREAD_MM,
            }
        )
    return HEAD + out.getvalue()


def main(arguments: list[str]) -> int:
    """Write the survey to the path given, or to the terminal."""
    if arguments:
        Path(arguments[0]).write_bytes(survey_text().encode("utf-8"))
    else:
        sys.stdout.write(survey_text())
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

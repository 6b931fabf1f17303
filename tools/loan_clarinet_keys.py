"""Write the invented key set of the loan-pool clarinet, and who presses what in its fingerings.

The drawn set beside this script stands on the drawing board's body: same outside, same holes,
same seats. Three of its flat springs run into posts of other keys; here they are set slanting
and narrower, as stiff as before. What is added is which finger works which touch, and in the
fingering table the column ``pressed``, both read from the comments that a person wrote. Run it
to write the two files again::

    python tools/loan_clarinet_keys.py src/borewright/examples/loan-clarinet
"""

from __future__ import annotations

import csv
import io
import sys
from pathlib import Path

from borewright.model import KeySet, keys_text, read_keys
from borewright.model.keys import Finger, Spring, Touch

DRAWN = Path(__file__).with_name("drawn-keys-17key.csv")
NOTE = """\
Invented example: a key set, no maker's. It stands on the body of clarinet.toml as drawn.
Written by tools/loan_clarinet_keys.py from tools/drawn-keys-17key.csv."""

#: What the comments of the fingering table call each key.
CALLED = {
    "Ekey": "EB",
    "Fkey": "FC",
    "F#key": "FS",
    "Ab": "AE",
    "C#": "CG",
    "G#": "GS",
    "A": "A",
    "reg": "RV",
    "side1": "S1",
    "side2": "S2",
    "side3": "S3",
    "side4": "S4",
    "sliverB": "SB",
    "sliverEb": "SV",
}
FINGER_HOLES = ("T", "L1", "L2", "L3", "R1", "R2", "R3")


#: Flat springs set otherwise than drawn: bearings of both ends (degrees), width (mm).
SPRINGS = {"S-S3": (-101.5, -101.5, 3.0), "S-GS": (44.6, 34.8, 2.2), "S-SV": (76.0, 70.0, 2.0)}


def with_clear_springs(drawn: KeySet) -> KeySet:
    """The set with three flat springs beside their neighbours' posts, at the same stiffness."""
    elements = []
    for element in drawn.elements:
        if isinstance(element, Spring) and element.name in SPRINGS and element.width_mm:
            first, second, width = SPRINGS[element.name]
            # Stiffness goes with b h³.
            thickness = element.thickness_mm * (element.width_mm / width) ** (1 / 3)
            element = element.model_copy(
                update={
                    "first": element.first.model_copy(update={"bearing_deg": first}),
                    "second": element.second.model_copy(update={"bearing_deg": second}),
                    "width_mm": width,
                    "thickness_mm": round(thickness, 4),
                }
            )
        elements.append(element)
    return KeySet(elements=tuple(elements))


def with_fingers(drawn: KeySet) -> KeySet:
    """The set with the finger of each touch: what its comment begins with."""
    elements = []
    for element in drawn.elements:
        if isinstance(element, Touch):
            found = [f for f in Finger if element.comment.startswith(f.value)]
            element = element.model_copy(update={"finger": found[0] if found else None})
        elements.append(element)
    return KeySet(elements=tuple(elements))


def pressed(comment: str) -> str:
    """What is pressed, by the names of holes and keys, from a comment such as "T L1; fork"."""
    names = []
    for word in comment.partition(";")[0].replace(",", " ").split():
        if word in FINGER_HOLES:
            names.append(word)
        elif word in CALLED:
            names.append(CALLED[word])
        elif (word, comment.partition(";")[0]) != ("pressed", "none pressed") and word != "none":
            raise SystemExit(f"what is '{word}' in '{comment}'?")
    return " ".join(names)


def fingerings_text(text: str) -> str:
    """The fingering table with its column ``pressed``."""
    lines = text.splitlines(keepends=True)
    head = [line for line in lines if line.startswith("#")]
    rows = list(csv.DictReader(line for line in lines if not line.startswith("#")))
    columns = [name for name in rows[0] if name not in ("pressed", "comment")]
    out = io.StringIO()
    writer = csv.DictWriter(out, [*columns, "pressed", "comment"], lineterminator="\n")
    writer.writeheader()
    for row in rows:
        writer.writerow(row | {"pressed": pressed(row["comment"])})
    return "".join(head) + out.getvalue()


def main(arguments: list[str]) -> int:
    """Write both files into the example's folder."""
    folder = Path(arguments[0])
    keys = with_fingers(with_clear_springs(read_keys(DRAWN)))
    (folder / "keys.csv").write_bytes(keys_text(keys, NOTE).encode("utf-8"))
    table = folder / "fingerings.csv"
    table.write_bytes(fingerings_text(table.read_text(encoding="utf-8")).encode("utf-8"))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

"""Write the invented key set of the loan-pool clarinet, and who presses what in its fingerings.

The drawn set beside this script stands on the drawing board's body: same outside, same holes,
same seats. What is added here is which finger works which touch, and in the fingering table
the column ``pressed``, both read from the comments that a person wrote. Run it to write the
two files again::

    python tools/loan_clarinet_keys.py src/borewright/examples/loan-clarinet
"""

from __future__ import annotations

import csv
import io
import sys
from pathlib import Path

from borewright.model import KeySet, keys_text, read_keys
from borewright.model.keys import Finger, Touch

DRAWN = Path(__file__).with_name("drawn-keys-17key.csv")
NOTE = """\
Invented key set, no maker's. It stands on the body of clarinet.toml as drawn.
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
    keys = with_fingers(read_keys(DRAWN))
    (folder / "keys.csv").write_bytes(keys_text(keys, NOTE).encode("utf-8"))
    table = folder / "fingerings.csv"
    table.write_bytes(fingerings_text(table.read_text(encoding="utf-8")).encode("utf-8"))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

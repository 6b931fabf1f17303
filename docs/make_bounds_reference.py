"""Write docs/bounds.md from the table of bounds itself, so that it cannot fall behind it."""

from __future__ import annotations

from pathlib import Path

from borewright.model.bounds import BOUNDS
from borewright.words import ENGLISH

PAGE = Path(__file__).parent / "bounds.md"

INTRODUCTION = """# What a figure can be

Written by `python docs/make_bounds_reference.py` from `model/bounds_table.py`; do not edit.

One table for every file and record. Beyond *can be* a figure is refused, with the likely slip
where there is one; beyond *usual* you are asked to look again (a notice of `borewright check`,
on the page and before printing), and nothing is refused. No standard gives most of these: each
line says whether it is common practice or from memory, and all are wider than anything known.
Where "or 0" stands, nought means that there is none.

Beside the figures, what belongs together is held against each other: sockets, rings' seats and
cork grooves lie inside the body; a post's hole is shallower than the wall; a ring or pad is wider
than its hole; what `[fit]` names is there; readings lie on their part. In the ledger days follow
each other, currencies are those of ISO 4217, a lot is of what it is used for, a part is in its
design, a good part does not come from a rejected print, a print is not taller than its printer.

| figure | can be | usual | unit | slips that are named | source |
|---|---|---|---|---|---|
"""


def page() -> str:
    """The whole page."""
    lines = []
    for name, bounds in BOUNDS.items():
        slips = "; ".join(
            dict.fromkeys(
                ENGLISH.tell(slip.looks).removeprefix("that looks like ") for slip in bounds.slips
            )
        )
        nought = ", or 0" if bounds.none else ""
        lines.append(
            f"| `{name}` | {bounds.low:g} to {bounds.high:g}{nought} | {bounds.usual[0]:g} to "
            f"{bounds.usual[1]:g} | {bounds.unit} | {slips} | {bounds.source} |\n"
        )
    return INTRODUCTION + "".join(lines)


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
    print(f"{PAGE.name}: {page().count(chr(10))} lines")

"""An instrument's TOML text as blocks: a heading with the comment above it and its keys.

Comments directly above a heading belong to it; what follows an empty line after a block's
last key is its tail, which outlives the block.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

#: ``[pitch]``, ``[[part]]``, ``[part.hole.pad]``; a bore's ``[[0, 15.0],`` is none of these.
_HEADING = re.compile(
    r"\s*(\[\[?)\s*([A-Za-z_][\w-]*(?:\s*\.\s*[A-Za-z_][\w-]*)*)\s*\]\]?\s*(?:#.*)?$"
)


@dataclass
class Block:
    """Lines of one part, one hole or one other table, with the tables inside it.

    ``kind`` is "part", "hole", "part table" (such as ``[part.tenon_top]``) or "other";
    ``first_line`` is the heading's number in the text, counted from 1.
    """

    kind: str
    first_line: int = 0
    lead: list[str] = field(default_factory=list)
    body: list[str] = field(default_factory=list)
    tail: list[str] = field(default_factory=list)

    def lines(self) -> list[str]:
        """All lines, comments above and below included."""
        return [*self.lead, *self.body, *self.tail]


def split_blocks(text: str) -> list[Block]:
    """The blocks of a text (lines end plainly), first what stands above every heading."""
    blocks = [Block("other")]
    for number, line in enumerate(text.split("\n"), start=1):
        match = _HEADING.match(line)
        kind = _kind(match) if match else ""
        if kind == "inside":
            blocks[-1].body += [*blocks[-1].tail, line]
            blocks[-1].tail = []
        elif kind:
            blocks.append(Block(kind, number, _take_lead(blocks[-1]), [line]))
        elif line.strip() and not line.lstrip().startswith("#"):
            blocks[-1].body += [*blocks[-1].tail, line]
            blocks[-1].tail = []
        elif not line.strip() or blocks[-1].tail:
            blocks[-1].tail.append(line)
        else:
            blocks[-1].body.append(line)
    return blocks


def _kind(match: re.Match[str]) -> str:
    steps = re.split(r"\s*\.\s*", match.group(2))
    if steps[0] != "part":
        return "other"
    if len(steps) == 1:
        return "part"
    if steps[1] == "hole":
        return "hole" if len(steps) == 2 else "inside"
    return "part table"


def _take_lead(block: Block) -> list[str]:
    """The comment lines at a block's very end, which belong to the heading below them."""
    lines = block.tail or block.body
    count = 0
    while count < len(lines) and lines[-1 - count].lstrip().startswith("#"):
        count += 1
    lead = lines[len(lines) - count :]
    del lines[len(lines) - count :]
    return lead


def join_blocks(blocks: list[Block]) -> str:
    """The text of blocks."""
    text = "\n".join(line for block in blocks for line in block.lines())
    return text if text.endswith("\n") else f"{text}\n"


def line_of(text: str, location: tuple[int | str, ...]) -> int | None:
    """Line of a place such as ``("parts", 1, "holes", 0, "diameter_mm")``; None if unknown.

    Where the key itself is absent, the line is that of its heading.
    """
    steps = list(location)
    blocks = split_blocks(text)
    if steps[:1] == ["parts"] and len(steps) > 1 and isinstance(steps[1], int):
        groups = part_groups(blocks)
        if steps[1] >= len(groups):
            return None
        group = groups[steps[1]]
        del steps[:2]
        inside = [block for block in group if block.kind != "hole"]
        if steps[:1] == ["holes"] and len(steps) > 1 and isinstance(steps[1], int):
            holes = [block for block in group if block.kind == "hole"]
            if steps[1] >= len(holes):
                return None
            inside = [holes[steps[1]]]
            del steps[:2]
    elif steps and isinstance(steps[0], str):
        inside = [block for block in blocks if block.kind == "other"]
    else:
        return None
    for step in reversed(steps):
        key = re.compile(rf"\s*(?:\[.*\b)?[\"']?{re.escape(str(step))}[\"']?\s*[=\]]")
        for block in inside:
            for offset, line in enumerate(block.body):
                if key.match(line):
                    return max(block.first_line, 1) + offset
    return inside[0].first_line or None


def part_groups(blocks: list[Block]) -> list[list[Block]]:
    """The blocks of each part: its own, its holes' and its tables'."""
    groups: list[list[Block]] = []
    for block in blocks:
        if block.kind == "part":
            groups.append([block])
        elif block.kind in ("hole", "part table") and groups:
            groups[-1].append(block)
    return groups

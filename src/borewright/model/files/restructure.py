"""Parts and holes taken out of, put into and moved within an instrument's TOML text.

Working on the text's blocks keeps every comment where the owner put it: a hole goes with
the comment directly above it, and takes no other along.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import tomlkit

from borewright.model.files.blocks import Block, join_blocks, split_blocks

Group = list[Block]


def restructure(text: str, old: dict[str, Any], new: dict[str, Any]) -> str:
    """The text with parts and holes as many, and in the same order, as in ``new``.

    ``old`` is what the text holds, ``new`` what it shall hold, both as the file's tables;
    values of parts and holes that stay are not looked at. A text whose parts or holes are
    not written under headings is returned as far as it could be changed.
    """
    blocks = split_blocks(text)
    first = next((i for i, block in enumerate(blocks) if block.kind == "part"), None)
    if first is None:
        return text
    # Tables such as [pitch] between or below the parts stay together behind them.
    head, rest = blocks[:first], blocks[first:]
    groups: list[Group] = []
    others: list[Block] = []
    for block in rest:
        if block.kind == "other":
            others.append(block)
        elif block.kind == "part":
            groups.append([block])
        else:
            groups[-1].append(block)
    old_parts, new_parts = old.get("part", []), new["part"]
    if len(groups) != len(old_parts) or (_same(old_parts, new_parts) and _same_holes(old, new)):
        return text
    for group, part in zip(groups, old_parts, strict=True):
        wanted = next((one for one in new_parts if one["name"] == part.get("name")), None)
        if wanted is None and len(new_parts) == len(old_parts):
            wanted = new_parts[old_parts.index(part)]
        if wanted is not None:
            _rearrange_holes(group, part.get("hole", []), wanted.get("hole", []))
    arranged = _arrange(groups, old_parts, new_parts, head[-1], _part_blocks)
    return join_blocks([*head, *(block for group in arranged for block in group), *others])


def _same(old: list[Any], new: list[Any]) -> bool:
    return [one.get("name") for one in old] == [one["name"] for one in new]


def _same_holes(old: dict[str, Any], new: dict[str, Any]) -> bool:
    return all(
        _same(first.get("hole", []), second.get("hole", []))
        for first, second in zip(old["part"], new["part"], strict=True)
    )


def _rearrange_holes(group: Group, old: list[Any], new: list[Any]) -> None:
    holes = [[block] for block in group if block.kind == "hole"]
    if len(holes) != len(old) or (_same(old, new)):
        return
    # A part's own tables come before its holes, so that holes can be added at the end.
    own = [block for block in group if block.kind != "hole"]
    arranged = _arrange(holes, old, new, own[-1], _hole_blocks)
    group[:] = [*own, *(block for hole in arranged for block in hole)]


def _arrange(
    groups: list[Group],
    old: list[Any],
    new: list[Any],
    before: Block,
    made: Callable[[dict[str, Any]], Group],
) -> list[Group]:
    """Groups in the new order; ``before`` is the block that stands above the first one."""
    names = [one.get("name") for one in old]
    wanted = [one["name"] for one in new]
    gone = [i for i, name in enumerate(names) if name not in wanted]
    come = [name for name in wanted if name not in names]
    have: dict[str, Group] = {}
    for name, group in zip(names, groups, strict=True):
        if name in wanted:
            have[name] = group
    if len(gone) == len(come):
        # As many new names as lost ones: they were renamed, and keep their comments.
        have |= {name: groups[index] for index, name in zip(gone, come, strict=True)}
    else:
        for index in reversed(gone):
            _leave_tail(groups[index], groups[index - 1][-1] if index else before)
    arranged: list[Group] = []
    above = before
    for one in new:
        name = one["name"]
        if name in have:
            group = have[name]
        else:
            group = made(one)
            _open_gap(above, group[-1])
        arranged.append(group)
        above = group[-1]
    return arranged


def _leave_tail(group: Group, above: Block) -> None:
    """Hand comments below a block that goes, apart from its own, to the block above."""
    tail = group[-1].tail
    while tail and not tail[0].strip():
        tail = tail[1:]
    if tail:
        above.tail = [*above.tail, *tail] if above.tail else ["", *tail]


def _open_gap(above: Block, block: Block) -> None:
    """Put a new block directly below the keys above it; what followed them follows it."""
    block.tail = above.tail or [""]
    above.tail = [""]


def _hole_blocks(hole: dict[str, Any]) -> Group:
    return [Block("hole", body=["[[part.hole]]", *_keys(hole)])]


def _part_blocks(part: dict[str, Any]) -> Group:
    own = {key: value for key, value in part.items() if key != "hole"}
    group = [Block("part", body=["[[part]]", *_keys(own)])]
    for hole in part.get("hole", []):
        group[-1].tail = [""]
        group += _hole_blocks(hole)
    return group


def _keys(table: dict[str, Any]) -> list[str]:
    """Lines ``key = value``; tables inside are written in one line."""
    plain = tomlkit.document()
    for key, value in table.items():
        if isinstance(value, dict):
            inline = tomlkit.inline_table()
            inline.update(value)
            plain[key] = inline
        else:
            plain[key] = value
    return tomlkit.dumps(plain).rstrip("\n").split("\n")

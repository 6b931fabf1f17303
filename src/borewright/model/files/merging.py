"""Changed values set in a parsed TOML document; whatever is equal is left untouched."""

from __future__ import annotations

import difflib
from typing import Any

import tomlkit
from tomlkit.items import AoT, Array


def merge(target: Any, brief: dict[str, Any], full: dict[str, Any]) -> None:
    """Make a TOML table say what ``full`` says.

    Parameters
    ----------
    target
        A document or table of the TOML library; it is changed.
    brief
        The new values without defaults: only these are added where they are missing.
    full
        The new values, defaults included: these replace what the file states.
        None or an empty list of tables stands for "absent".
    """
    for key in list(target):
        if full.get(key) is None:
            del target[key]
    for key, value in full.items():
        if value is None:
            continue
        if key not in target:
            if key in brief:
                target[key] = item(brief[key])
        elif isinstance(value, dict):
            merge(target[key], brief.get(key, {}), value)
        elif isinstance(value, list):
            _merge_list(target, key, brief.get(key, []), value)
        elif not _equal(target[key], value):
            target[key] = value


def _equal(old: Any, new: Any) -> bool:
    # 65 and 65.0 are the same length; true and 1 are not the same thing.
    return bool(old == new) and isinstance(old, bool) == isinstance(new, bool)


def _plain(value: Any) -> Any:
    return value.unwrap() if hasattr(value, "unwrap") else value


def _merge_list(target: Any, key: str, brief: list[Any], full: list[Any]) -> None:
    old = target[key]
    if _plain(old) == full:
        return
    tables = bool(full) and isinstance(full[0], dict)
    if isinstance(old, AoT) and tables and len(old) == len(full) == len(brief):
        for old_table, brief_table, full_table in zip(old, brief, full, strict=True):
            merge(old_table, brief_table, full_table)
    elif isinstance(old, Array) and not tables and full:
        _merge_array(old, full)
        if _plain(target[key]) != full:
            target[key] = full
    else:
        target[key] = item(brief)


def _merge_array(old: Any, full: list[Any]) -> None:
    """Change, insert and remove elements of an array, keeping the comments beside the others."""
    have = [_hashable(_plain(element)) for element in old]
    want = [_hashable(element) for element in full]
    matcher = difflib.SequenceMatcher(None, have, want, autojunk=False)
    # From the end, so that earlier places keep their numbers.
    for what, i1, i2, j1, j2 in reversed(matcher.get_opcodes()):
        if what == "equal":
            continue
        both = min(i2 - i1, j2 - j1)
        for index in range(i2 - 1, i1 + both - 1, -1):
            del old[index]
        for number in range(both):
            _set_element(old, i1 + number, full[j1 + number])
        for number in range(both, j2 - j1):
            old.insert(i1 + number, full[j1 + number])


def _set_element(old: Any, index: int, value: Any) -> None:
    inner = old[index]
    if isinstance(value, list) and isinstance(inner, Array) and len(inner) == len(value):
        for place, number in enumerate(value):
            if inner[place] != number:
                inner[place] = number
    else:
        old[index] = value


def _hashable(value: Any) -> Any:
    return tuple(value) if isinstance(value, list) else value


def item(value: Any) -> Any:
    """A TOML item for plain data: tables under headings, tables within lists' tables inline."""
    if isinstance(value, list) and value and isinstance(value[0], dict):
        tables = tomlkit.aot()
        for entry in value:
            table = tomlkit.table()
            for key, inner in entry.items():
                table[key] = _inline(inner) if isinstance(inner, dict) else item(inner)
            tables.append(table)
        return tables
    if isinstance(value, dict):
        table = tomlkit.table()
        for key, inner in value.items():
            table[key] = item(inner)
        return table
    return value


def _inline(value: dict[str, Any]) -> Any:
    inline = tomlkit.inline_table()
    inline.update(value)
    return inline

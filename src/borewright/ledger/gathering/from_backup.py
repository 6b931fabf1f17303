"""What can be read of a damaged backup: members by their own heads, lines as far as they go."""

from __future__ import annotations

import json
import re
import struct
import zlib
from collections.abc import Iterator
from pathlib import Path

from borewright.ledger.gathering.readable import Gleaned, lost_row
from borewright.ledger.schema import metadata
from borewright.words import say

_HEAD = b"PK\x03\x04"
_DEFLATED, _STORED = 8, 0
_MOST = 2_000_000_000


def is_archive(data: bytes) -> bool:
    """Whether a file looks like a backup, whole or not."""
    return data[:4] == _HEAD or b"tables/history.jsonl" in data


def glean_backup(path: Path) -> Gleaned:
    """Every line and file that can be read."""
    data, found = path.read_bytes(), Gleaned()
    members = dict(_members(data))
    columns = _columns(members.get("manifest.json", b""))
    names: dict[str, str] = {}
    for name, content in members.items():
        table = re.fullmatch(r"tables/([a-z_]+)\.jsonl", name)
        if table is None:
            continue
        known = columns.get(table[1])
        if known is None:
            continue
        for number, line in enumerate(content.split(b"\n")[:-1], start=1):
            row = _row(known, line)
            if table[1] == "stored_file" and row is not None:
                names[str(row.get("sha256"))] = str(row.get("name"))
                continue
            if row is None or not found.take(table[1], row):
                found.lost.append(lost_row(table[1], say("line {line}", line=number)))
    for name, content in members.items():
        kept = re.fullmatch(r"files/([0-9a-f]{64})", name)
        if kept is None:
            continue
        called = names.get(kept[1], kept[1][:12])
        if not found.take("stored_file", {"sha256": kept[1], "name": called, "content": content}):
            found.lost.append(say("the kept file '{name}' is damaged", name=called))
    return found


def _members(data: bytes) -> Iterator[tuple[str, bytes]]:
    """Names and contents of members, found by their heads; what is damaged ends early."""
    at = data.find(_HEAD)
    while at >= 0:
        try:
            head = struct.unpack_from("<HHHHHIIIHH", data, at + 4)
            start = at + 30 + head[8]
            name = data[at + 30 : start].decode("utf-8")
            yield name, _content(data, start + head[9], head[2], head[6])
        except (struct.error, UnicodeDecodeError):
            pass
        at = data.find(_HEAD, at + 4)


def _content(data: bytes, start: int, method: int, packed: int) -> bytes:
    if method == _STORED:
        end = start + packed if 0 < packed < len(data) else data.find(_HEAD, start)
        return data[start : end if end > 0 else len(data)]
    if method != _DEFLATED:
        return b""
    reader, found = zlib.decompressobj(-15), bytearray()
    for offset in range(start, len(data), 256):
        try:
            found += reader.decompress(data[offset : offset + 256], _MOST - len(found))
        except zlib.error:
            break
        if reader.eof or len(found) >= _MOST:
            break
    return bytes(found)


def _columns(manifest: bytes) -> dict[str, list[str]]:
    """Columns by table, from the manifest or, where it is lost, as this release has them."""
    today = {
        table.name: [column.name for column in table.columns if column.name != "content"]
        for table in metadata.sorted_tables
    }
    try:
        tables = json.loads(manifest)["tables"]
        return {name: [str(one[0]) for one in table["columns"]] for name, table in tables.items()}
    except (ValueError, KeyError, TypeError, IndexError, AttributeError):
        return today


def _row(columns: list[str], line: bytes) -> dict[str, object] | None:
    try:
        values = json.loads(line)
    except (ValueError, RecursionError):
        return None
    if not isinstance(values, list) or len(values) != len(columns):
        return None
    return dict(zip(columns, values, strict=True))

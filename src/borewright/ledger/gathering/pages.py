"""The pages of an SQLite file read one by one, so that a damaged page costs only what is on it.

By the published file format (the SQLite project's document "Database File Format"): leaf pages
of tables hold cells, a cell one row; long rows go on in overflow pages.
"""

from __future__ import annotations

import struct
from collections.abc import Iterator
from typing import NamedTuple

_LEAF, _INTERIOR = 0x0D, 0x05
_HEADER = 100  # bytes before the first page's own head
_MAGIC = b"SQLite format 3\x00"
_SIZES = (4096, 1024, 2048, 8192, 512, 16384, 32768, 65536)
_MOST_DEEP = 40


class Unreadable(ValueError):  # noqa: N818 - a finding about a row, told in the list of what is lost
    """A cell that makes no sense."""


class Cell(NamedTuple):
    """One row: the page it stands on, its number, its values (text as ``str``, blobs as bytes)."""

    page: int
    number: int
    values: list[int | float | str | bytes | None]


class Pages:
    """The pages of a file, by number from 1."""

    def __init__(self, data: bytes) -> None:
        self.data = data
        self.size = _page_size(data)
        reserved = data[20] if data[:16] == _MAGIC and data[20] < 64 else 0
        self.usable = self.size - reserved
        self.count = len(data) // self.size

    def page(self, number: int) -> bytes:
        """A page's bytes; Unreadable beyond the end."""
        if not 1 <= number <= self.count:
            raise Unreadable(number)
        return self.data[(number - 1) * self.size : number * self.size]

    def leaves_below(self, root: int) -> set[int]:
        """Leaf pages of the tree with this root, as far as it can be followed."""
        found: set[int] = set()
        waiting: list[int] = [root]
        seen: set[int] = set()
        while waiting:
            number = waiting.pop()
            if number in seen or len(seen) > self.count:
                continue
            seen.add(number)
            try:
                page, start = self.page(number), _HEADER if number == 1 else 0
                if page[start] == _LEAF:
                    found.add(number)
                elif page[start] == _INTERIOR:
                    waiting += self._children(page, start)
            except (Unreadable, IndexError, struct.error):
                continue
        return found

    def _children(self, page: bytes, start: int) -> list[int]:
        (cells,) = struct.unpack_from(">H", page, start + 3)
        (last,) = struct.unpack_from(">I", page, start + 8)
        children = [last]
        for index in range(min(cells, self.size // 6)):
            (at,) = struct.unpack_from(">H", page, start + 12 + 2 * index)
            if at + 4 <= len(page):
                children.append(struct.unpack_from(">I", page, at)[0])
        return children

    def leaves(self) -> Iterator[int]:
        """Every page that looks like a table's leaf."""
        for number in range(1, self.count + 1):
            start = _HEADER if number == 1 else 0
            if self.data[(number - 1) * self.size + start] == _LEAF:
                yield number

    def cells(self, number: int) -> Iterator[Cell | None]:
        """Rows of a leaf page; None for one that cannot be read."""
        page, start = self.page(number), _HEADER if number == 1 else 0
        (count,) = struct.unpack_from(">H", page, start + 3)
        for index in range(min(count, self.size // 4)):
            try:
                (at,) = struct.unpack_from(">H", page, start + 8 + 2 * index)
                yield self._cell(number, page, at)
            except (Unreadable, IndexError, struct.error, UnicodeDecodeError):
                yield None

    def _cell(self, number: int, page: bytes, at: int) -> Cell:
        length, at = _varint(page, at)
        row, at = _varint(page, at)
        return Cell(number, _signed(row), _values(self._payload(page, at, length)))

    def _payload(self, page: bytes, at: int, length: int) -> bytes:
        if length > len(self.data):
            raise Unreadable(length)
        most = self.usable - 35
        if length <= most:
            local = length
        else:
            least = (self.usable - 12) * 32 // 255 - 23
            local = least + (length - least) % (self.usable - 4)
            local = local if local <= most else least
        if at + local > self.usable:
            raise Unreadable(at)
        payload = bytearray(page[at : at + local])
        if length > local:
            (following,) = struct.unpack_from(">I", page, at + local)
            seen: set[int] = set()
            while len(payload) < length:
                if following in seen:
                    raise Unreadable(following)
                seen.add(following)
                more = self.page(following)
                (following,) = struct.unpack_from(">I", more, 0)
                payload += more[4 : 4 + min(length - len(payload), self.usable - 4)]
        return bytes(payload)


def _page_size(data: bytes) -> int:
    if len(data) >= 18:
        size = struct.unpack_from(">H", data, 16)[0]
        size = 65536 if size == 1 else size
        if size in _SIZES and data[:16] == _MAGIC:
            return int(size)
    # The head is damaged: the size at which most pages begin as a page does.
    return max(_SIZES[:4], key=lambda size: (_like_pages(data, size), -_SIZES.index(size)))


def _like_pages(data: bytes, size: int) -> float:
    starts = range(size, len(data), size)
    like = sum(data[at] in (2, 5, 10, 13) for at in starts)
    return like / max(len(starts), 1)


def _varint(data: bytes, at: int) -> tuple[int, int]:
    value = 0
    for index in range(8):
        byte = data[at + index]
        value = value << 7 | byte & 0x7F
        if byte < 0x80:
            return value, at + index + 1
    return value << 8 | data[at + 8], at + 9


def _signed(value: int) -> int:
    return value - (1 << 64) if value >= 1 << 63 else value


_WIDTHS = (0, 1, 2, 3, 4, 6, 8, 8, 0, 0)


def _values(payload: bytes) -> list[int | float | str | bytes | None]:
    head, at = _varint(payload, 0)
    if head > len(payload) or head < 1:
        raise Unreadable(head)
    kinds = []
    while at < head:
        kind, at = _varint(payload, at)
        kinds.append(kind)
    found: list[int | float | str | bytes | None] = []
    at = head
    for kind in kinds:
        if kind in (10, 11):
            raise Unreadable(kind)
        width = _WIDTHS[kind] if kind < 10 else (kind - 12) // 2
        piece = payload[at : at + width]
        if len(piece) != width:
            raise Unreadable(kind)
        at += width
        found.append(_value(kind, piece))
    if at != len(payload):
        raise Unreadable(at)
    return found


def _value(kind: int, piece: bytes) -> int | float | str | bytes | None:
    if kind == 0:
        return None
    if kind < 7:
        return int.from_bytes(piece, "big", signed=True)
    if kind == 7:
        return float(struct.unpack(">d", piece)[0])
    if kind < 10:
        return kind - 8
    return piece if kind % 2 == 0 else piece.decode("utf-8")

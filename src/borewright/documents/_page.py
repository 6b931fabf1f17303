"""What a page is made of, whatever it is written as: headings, texts, tables, pictures."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class Heading:
    """A heading below the page's title; level 2 or 3."""

    text: str
    level: int = 2


@dataclass(frozen=True)
class Paragraph:
    """A paragraph; a ``lead`` one stands out."""

    text: str
    lead: bool = False


@dataclass(frozen=True)
class Facts:
    """Terms with their values."""

    rows: Sequence[tuple[str, str]]


@dataclass(frozen=True)
class Points:
    """A list; ``steps`` numbers it. An item may open with a few words that stand out."""

    items: Sequence[tuple[str, str]]
    steps: bool = False


@dataclass(frozen=True)
class Column:
    """A table column: figures stand to the right, texts share the room that is left."""

    title: str
    is_text: bool = False
    share: float = 1.0


@dataclass(frozen=True)
class Table:
    """A table with its caption; ``wide`` asks for a page turned sideways in print."""

    caption: str
    columns: Sequence[Column]
    rows: Sequence[Sequence[str]]
    wide: bool = False


@dataclass(frozen=True)
class Picture:
    """A picture as SVG text, its width on paper, and what it shows for those who cannot see."""

    svg: str
    width_mm: float
    alt: str
    caption: str


Block = Heading | Paragraph | Facts | Points | Table | Picture


@dataclass(frozen=True)
class PaperPage:
    """A whole document; ``sideways`` turns every printed page."""

    title: str
    subtitle: str
    blocks: Sequence[Block]
    language: str = "en"
    sideways: bool = False

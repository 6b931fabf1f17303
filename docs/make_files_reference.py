"""Write docs/files.md from the model's own classes, so that it cannot fall behind them."""

from __future__ import annotations

import inspect
from pathlib import Path

from pydantic import BaseModel

from borewright.model import (
    BodyFeatures,
    Climate,
    Drawing,
    Fingering,
    FitWishes,
    Instrument,
    Mouthpiece,
    Pad,
    Part,
    PitchStandard,
    Reed,
    Socket,
    SurveyRow,
    Tenon,
    ThumbRest,
    ToneHole,
    Undercut,
)
from borewright.model.drawn import DrawnHole, DrawnPart
from borewright.model.fit_wishes import AlsoPlayed, StatedRange
from borewright.model.reamers import TaperReamer

PAGE = Path(__file__).parent / "files.md"

INTRODUCTION = """# Files

Written by `python docs/make_files_reference.py` from the model; do not edit.

An instrument is a TOML file that begins with `format = 2`. Its tables are `[instrument]`,
`[pitch]`, `[climate]`, `[mouthpiece]`, `[reed]`, `[fit]`, `[body]`, `[drawing]`, and a `[[part]]`
for each part from the top down, with a `[[part.hole]]` for each tone hole. Without `[mouthpiece]`
and `[reed]` it is a bare tube. Keyword tables such as `pad`, `tenon_top` or `undercut` are written
in line: `pad = { diameter_mm = 10.0, lift_mm = 2.5, rest = "open" }`.

Keywork surveys and fingering tables are CSV files with the columns named below, in any order;
comma, semicolon or tab, decimal point or comma, lines beginning with `#` are comments.
"""

#: Heading, class, and fields that sit in another place of the file.
SECTIONS: tuple[tuple[str, type[BaseModel], tuple[str, ...]], ...] = (
    (
        "[instrument]",
        Instrument,
        ("parts", "pitch", "climate", "mouthpiece", "reed", "fit", "body", "drawing"),
    ),
    ("[pitch]", PitchStandard, ()),
    ("[climate]", Climate, ()),
    ("[mouthpiece]", Mouthpiece, ()),
    ("[reed]", Reed, ()),
    ("[fit]", FitWishes, ()),
    ('A range of [fit], such as ranges."L3.diameter"', StatedRange, ()),
    ("[[fit.taper_reamers]]", TaperReamer, ()),
    ("[[fit.also]]", AlsoPlayed, ()),
    ("[body]", BodyFeatures, ()),
    ("[drawing]", Drawing, ()),
    ("[drawing.part.NAME]", DrawnPart, ()),
    ("[drawing.hole.NAME]", DrawnHole, ()),
    ("[[part]]", Part, ("holes",)),
    ("tenon_top, tenon_bottom", Tenon, ()),
    ("socket_top, socket_bottom", Socket, ()),
    ("thumb_rest", ThumbRest, ()),
    ("[[part.hole]]", ToneHole, ()),
    ("pad", Pad, ()),
    ("undercut", Undercut, ()),
    ("Keywork survey, columns", SurveyRow, ()),
    ("Fingering table, columns", Fingering, ()),
)


def page() -> str:
    """The whole page."""
    blocks = [INTRODUCTION]
    for heading, entity, elsewhere in SECTIONS:
        blocks.append(f"## {heading}\n\n{_plain(entity)}\n\n{_table(entity, elsewhere)}\n")
    return "\n".join(blocks)


def _plain(entity: type[BaseModel]) -> str:
    return inspect.cleandoc(entity.__doc__ or "").replace("``", "`")


def _table(entity: type[BaseModel], elsewhere: tuple[str, ...]) -> str:
    rows = ["| key | what | if left out |", "|---|---|---|"]
    for name, field in entity.model_fields.items():
        if name in elsewhere:
            continue
        rows.append(f"| `{field.alias or name}` | {_kind(field.annotation)} | {_default(field)} |")
    return "\n".join(rows)


def _kind(annotation: object) -> str:
    text = str(annotation)
    if inspect.isclass(annotation) and hasattr(annotation, "__members__"):
        return "one of " + ", ".join(f"`{member.value}`" for member in annotation)
    for word, plain in (
        ("Tenon", "a table, see below"),
        ("Socket", "a table, see below"),
        ("ThumbRest", "a table, see below"),
        ("Clearance", "`cork`, `slip` or `o-ring`"),
        ("Pad", "a table, see below"),
        ("Undercut", "a table, see below"),
        ("Register", "register = number"),
        ("Rest", "`open` or `closed`"),
        ("tuple[str", "names separated by spaces"),
        ("dict[str, list[str]]", "a name = a list of holes"),
        ("StatedRange", "a dimension = a table, see below"),
        ("AlsoPlayed", "tables, see below"),
        ("TaperReamer", "tables, see below"),
        ("DrawnPart", "a part's name = a table, see below"),
        ("DrawnHole", "a hole's name = a table, see below"),
        ("kinds.Register, ", "register = number"),
        ("dict[str, typing.Annotated[float", "a name = number"),
        ("dict[typing.Annotated[str", "a part = number"),
        ("list[tuple", "list of [station, diameter]"),
        ("tuple[typing.Annotated[float", "[drawn, fitted]"),
        ("tuple", "list of [station, diameter]"),
        ("list[str", "list of texts"),
        ("list", "list of numbers"),
        ("typing.Annotated[str", "text"),
        ("bool", "`true` or `false`"),
        ("int", "whole number"),
        ("float", "number"),
        ("str", "text"),
    ):
        if word in text:
            return plain
    return text


def _default(field: object) -> str:
    if field.is_required():  # type: ignore[attr-defined]
        return "needed"
    value = field.get_default(call_default_factory=True)  # type: ignore[attr-defined]
    if value is None or value in ("", [], {}, ()):
        return "none"
    if isinstance(value, bool):
        return str(value).lower()
    return ", ".join(map(str, value)) if isinstance(value, list) else str(value)


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
    print(f"{PAGE.name}: {len(page().splitlines())} lines")

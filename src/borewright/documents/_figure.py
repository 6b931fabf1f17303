"""Sheets of paper to draw on: matplotlib's own objects, millimetres, the same bytes each time."""

from __future__ import annotations

import contextlib
import functools
import io
import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from borewright.documents._look import (
    HAIR,
    INK,
    MUTED,
    PAPER,
    SMALL_TEXT_PT,
    TEXT_PT,
    TITLE_PT,
)
from borewright.documents._names import plain
from borewright.errors import DocumentsError
from borewright.model import write_bytes
from borewright.words import ENGLISH, Reader, say

MM_PER_INCH = 25.4
PNG_DOTS_PER_INCH = 220
FONT = "DejaVu Sans"

# matplotlib reads fonts and the salt of its identifiers from settings shared by the whole
# process, so only one picture is made at a time and the settings are put back afterwards.
_ONE_AT_A_TIME = threading.RLock()


@contextlib.contextmanager
def drawing_settings() -> Iterator[None]:
    """The room's own settings of the drawing library, put back afterwards."""
    import matplotlib

    with _ONE_AT_A_TIME, matplotlib.rc_context():
        matplotlib.rcdefaults()
        matplotlib.rcParams.update(
            {
                "font.family": FONT,
                "font.size": TEXT_PT,
                "text.color": INK,
                "axes.edgecolor": HAIR,
                "axes.labelcolor": INK,
                "xtick.color": INK,
                "ytick.color": INK,
                "figure.facecolor": PAPER,
                "axes.facecolor": PAPER,
                "svg.fonttype": "path",
                "svg.hashsalt": "borewright",
                "hatch.linewidth": 0.4,
            }
        )
        yield


def new_figure(width_mm: float, height_mm: float) -> Any:
    """An empty sheet of that size."""
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    figure = Figure(figsize=(width_mm / MM_PER_INCH, height_mm / MM_PER_INCH))
    FigureCanvasAgg(figure)
    return figure


def axes_mm(figure: Any, left: float, bottom: float, width: float, height: float) -> Any:
    """Axes placed on the sheet in millimetres from its lower left corner."""
    full_width, full_height = (inches * MM_PER_INCH for inches in figure.get_size_inches())
    place = (left / full_width, bottom / full_height, width / full_width, height / full_height)
    return figure.add_axes(place)


def sheet_axes(figure: Any) -> Any:
    """Axes over the whole sheet whose units are millimetres of paper, y upwards."""
    width, height = (inches * MM_PER_INCH for inches in figure.get_size_inches())
    axes = axes_mm(figure, 0, 0, width, height)
    axes.set_xlim(0, width)
    axes.set_ylim(0, height)
    axes.axis("off")
    return axes


def headed_sheet(figure: Any, title: str, *notes: str) -> Any:
    """Axes over the whole sheet, with a title and lines of small print at its top."""
    axes = sheet_axes(figure)
    top = axes.get_ylim()[1] - 5
    write(axes, 4, top, title, fontsize=TITLE_PT, fontweight="bold", va="center")
    for number, note in enumerate(notes):
        y = top - 4.5 - 4 * number
        write(axes, 4, y, note, fontsize=SMALL_TEXT_PT, color=MUTED, va="center")
    return axes


@functools.cache
def _known_letters() -> frozenset[int]:
    from matplotlib.font_manager import findfont, get_font

    return frozenset(get_font(findfont(FONT)).get_charmap())


def drawable(text: str) -> str:
    """The text with a box for every letter that the drawing's typeface lacks."""
    known = _known_letters()
    return "".join(
        letter if ord(letter) in known or letter == "\n" else "□"
        for line in ["\n".join(plain(line) for line in text.split("\n"))]
        for letter in line
    )


def write(axes: Any, x: float, y: float, text: str, **style: Any) -> Any:
    """Set a text as it stands, without reading it as a formula."""
    style.setdefault("fontsize", TEXT_PT)
    style.setdefault("color", INK)
    return axes.text(x, y, drawable(text), parse_math=False, **style)


def tick_labels(axis: Any, positions: list[float], texts: list[str], **style: Any) -> None:
    """Label an axis with texts as they stand."""
    axis.set_ticks(positions, labels=[drawable(text) for text in texts])
    for label in axis.get_ticklabels():
        label.set_parse_math(False)
        label.set(**style)


def number_axes(figure: Any, words: Reader) -> Any:
    """The same figure, numbers along its axes with the reader's decimal sign."""
    from matplotlib.ticker import ScalarFormatter

    sign = words.number(0.5, ".1f")[1]

    class Told(ScalarFormatter):
        def __call__(self, x: float, pos: int | None = None) -> str:
            return str(super().__call__(x, pos)).replace(".", sign)

    for axes in figure.axes if sign != "." else ():
        for axis in (axes.xaxis, axes.yaxis):
            if type(axis.get_major_formatter()) is ScalarFormatter:
                axis.set_major_formatter(Told())
    return figure


def svg_text(build: Callable[[], Any], title: str, words: Reader = ENGLISH) -> str:
    """The SVG of the figure that ``build`` makes, with ``title`` as its name."""
    stream = io.BytesIO()
    with drawing_settings():
        number_axes(build(), words).savefig(
            stream,
            format="svg",
            metadata={"Date": None, "Creator": None, "Title": drawable(title)},
        )
    return stream.getvalue().decode("utf-8")


def write_picture(
    path: Path | str, build: Callable[[], Any], title: str, words: Reader = ENGLISH
) -> Path:
    """Write the figure that ``build`` makes as SVG or PNG, by the suffix of ``path``.

    Raises DocumentsError for another suffix.
    """
    target = Path(path)
    suffix = target.suffix.lower()
    if suffix == ".svg":
        write_bytes(target, svg_text(build, title, words).encode("utf-8"))
    elif suffix == ".png":
        stream = io.BytesIO()
        with drawing_settings():
            number_axes(build(), words).savefig(
                stream, format="png", dpi=PNG_DOTS_PER_INCH, metadata={"Software": None}
            )
        write_bytes(target, stream.getvalue())
    else:
        raise DocumentsError(
            say("'{suffix}' is not a picture format", suffix=target.suffix or target.name),
            place=str(target),
            remedy=say("Let the file name end in .svg or .png."),
        )
    return target

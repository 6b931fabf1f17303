"""The instrument blended with another of the folder, its holes fitted again, its bores drawn."""

from __future__ import annotations

import base64
import tempfile
from pathlib import Path
from typing import NamedTuple

from borewright.bench.folder import Kind
from borewright.bench.folder.paths import plain_name
from borewright.bench.jobs import Job
from borewright.bench.sound.others import other_file
from borewright.bench.workbench import Workbench, text_of
from borewright.errors import BenchError, Stopped
from borewright.model import Instrument, load
from borewright.model.bores import BlendResult
from borewright.words import Reader, say

_KEY = "blend"


class Blend(NamedTuple):
    """A blend: what it does, its file's content, and the picture of its bores as an address."""

    instrument: Instrument
    result: BlendResult
    content: bytes
    picture: str


class KeptBlend(NamedTuple):
    """A blend as all pages show it: of which file in which state, and where it was saved."""

    file: str
    of: str
    name: str
    blend: Blend


def blend_before(bench: Workbench) -> KeptBlend | None:
    """The last blend of the file on the bench, or None."""
    found = bench.kept.get(_KEY)
    return found if isinstance(found, KeptBlend) and found.file == bench.file else None


def keep_blend(bench: Workbench, kept: KeptBlend) -> None:
    """Keep a blend for all pages until the server ends or another one takes its place."""
    bench.kept[_KEY] = kept


def free_name(bench: Workbench) -> str:
    """A name for the blend that no file beside the present one has."""
    beside, number = Path(bench.file).parent, 1
    while bench.folder.path((beside / f"blend {number}.toml").as_posix()).exists():
        number += 1
    return f"blend {number}.toml"


def checked_name(bench: Workbench, wanted: str) -> str:
    """The new file's name, beside the present file; BenchError where it is not free."""
    plain = plain_name(wanted)
    if not plain.lower().endswith(".toml"):
        plain += ".toml"
    name = (Path(bench.file).parent / plain).as_posix()
    if bench.folder.path(name).exists():
        raise BenchError(
            say("is there already, and was not replaced"),
            place=name,
            remedy=say("Give the blend another name."),
        )
    return name


def blend_with(
    job: Job, bench: Workbench, key: str, shares: dict[str, float], words: Reader
) -> Blend:
    """Blend the instrument on the bench with another, fit its holes, and draw the bores.

    ``key`` is one of ``parents``, ``shares`` are the other's; ``words`` reads the picture. Nothing
    is saved. Raises ModelError and FitError as
    :func:`borewright.tasks.bores.blending.blend_files` does, Stopped where the job was cancelled.
    """
    from borewright.documents.bore_overlay import overlay_chart
    from borewright.model.bores import assembled_bore, overlay_table
    from borewright.tasks.bores.blending import blend_files, read_parent

    path = bench.path
    job.progress(0.02, say("the two and their blend"))
    with tempfile.TemporaryDirectory(dir=bench.folder.keep) as name:
        aside = Path(name)
        if key in {file.name for file in bench.files(Kind.BORE)}:
            other = bench.folder.path(key)
        else:
            other, _table = other_file(bench, key, aside)
        made = blend_files(path, other, 0.0, shares, progress=job.tell, cancel=job.wish)
        if job.cancelled:  # a blend half fitted is no answer
            raise Stopped
        job.progress(0.95, say("the bores"))
        first = load(path)
        lines = [assembled_bore(each) for each in (first, read_parent(other, first))]
        lines.append(assembled_bore(made.instrument))
        drawn = overlay_chart(lines, overlay_table(lines), aside / "bores.svg", words=words)
        picture = base64.b64encode(drawn.read_bytes()).decode()
    content = text_of(made.instrument, path)
    return Blend(made.instrument, made.result, content, f"data:image/svg+xml;base64,{picture}")

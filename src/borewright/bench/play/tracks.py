"""Pitch tracks kept beside the folder's history, so that a look at a take needs no new analysis.

They can be removed without harm: a track that is missing or of another recording is made anew.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from borewright.bench.jobs import Job
from borewright.bench.workbench import Workbench
from borewright.errors import BorewrightError
from borewright.model import write_text
from borewright.model.results.playtest import PitchTrack, Take

if TYPE_CHECKING:
    from borewright.model import FingeringTable, PitchStandard


def measure(
    job: Job,
    path: Path,
    name: str,
    pitch: PitchStandard,
    temperature_c: float,
    order: Sequence[str] | None,
    table: FingeringTable | None,
) -> tuple[Take, PitchTrack]:
    """Take and track of a recording; errors name it as the folder does, not by its path."""
    from borewright.playing import analyse_take

    try:
        take, track = analyse_take(
            path,
            pitch=pitch,
            temperature_c=temperature_c,
            order=order,
            table=table,
            progress=job.progress,
        )
    except BorewrightError as error:
        raise error.named(str(path), name) from error
    return take.model_copy(update={"file": name}), track


def keep_track(bench: Workbench, take: Take, track: PitchTrack) -> None:
    """Keep what was found in a recording of the folder."""
    data = {
        "stamp": _stamp(bench, take.file),
        "take": take.model_dump(mode="json", context={"messages": "data"}),
        "track": {
            "times_s": [round(value, 4) for value in track.times_s],
            "hz": [round(value, 3) for value in track.hz],
            "level_db": [round(value, 1) for value in track.level_db],
        },
    }
    write_text(_place(bench, take.file), json.dumps(data))


def kept_track(bench: Workbench, name: str) -> tuple[Take, PitchTrack] | None:
    """What was found in a recording, or None where that is not known of this very file."""
    try:
        data = json.loads(_place(bench, name).read_text(encoding="utf-8"))
        if data["stamp"] != _stamp(bench, name):
            return None
        return Take.model_validate(data["take"]), PitchTrack.model_validate(data["track"])
    except (OSError, ValueError, KeyError, TypeError):
        return None  # none yet, or not ours: it is made anew


def _place(bench: Workbench, name: str) -> Path:
    return bench.folder.keep / "tracks" / f"{hashlib.sha256(name.encode()).hexdigest()[:24]}.json"


def _stamp(bench: Workbench, name: str) -> list[int]:
    stat = bench.folder.path(name).stat()
    return [stat.st_size, stat.st_mtime_ns]

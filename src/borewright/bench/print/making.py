"""The print job in the background: made aside, then put in place whole."""

from __future__ import annotations

import hashlib
import json
import shutil
import time
from pathlib import Path

from pydantic import BaseModel, ConfigDict

from borewright.bench.folder.placing import put_folder
from borewright.bench.jobs import Job, apart
from borewright.bench.print.wishes import Wishes
from borewright.bench.workbench import Workbench
from borewright.errors import BenchError
from borewright.model import Finding, SolidsReport, write_text
from borewright.printing import CompensationReport, Estimate, Split, Standing
from borewright.tasks.checking import check_file
from borewright.tasks.printing.job import PrintJob
from borewright.tasks.printing.printing import print_file
from borewright.words import Reader, Said

FOLDER = "print"


class Made(BaseModel):
    """What a print job made, as the folder keeps it over a restart.

    ``of`` is the digest of the instrument's file then, ``number`` tells one job from the next;
    ``files`` and the solids are named as the folder names them. Everything said is data, told by
    each page in its language.
    """

    model_config = ConfigDict(extra="forbid")

    number: int
    file: str
    of: str
    folder: str
    solids: SolidsReport
    standings: list[Standing]
    advice: dict[str, list[Said]]
    splits: list[Split]
    findings: list[Finding]
    estimate: Estimate
    compensation: CompensationReport | None
    reaming: list[Said]
    files: list[str]
    over_joints: list[str] = []
    despite_faults: bool = False


def make(job: Job, bench: Workbench, file: Path, wishes: Wishes, words: Reader) -> Made:
    """Run the print job in a process of its own; its papers are written for ``words``.

    A job that is cancelled or fails leaves the former files as they are.
    """
    name = f"{FOLDER}/{file.stem}"
    target, aside = bench.folder.path(name), bench.folder.keep / "printing"
    shutil.rmtree(aside, ignore_errors=True)
    of = digest(file)
    try:
        done = apart(job, print_file, file, aside, wishes.of(bench), words=words)
        made = _kept(done, check_file(file), aside, file, of, name)
        put_folder(aside, target, bench.folder.keep / "printed before")
    finally:
        shutil.rmtree(aside, ignore_errors=True)
    data = made.model_dump(mode="json", by_alias=True, context={"messages": "data"})
    write_text(bench.folder.keep / "print.json", json.dumps(data))
    return made


def _kept(
    done: PrintJob, checks: list[Finding], aside: Path, file: Path, of: str, name: str
) -> Made:
    def inside(path: str | Path) -> str:
        return f"{name}/{Path(path).relative_to(aside).as_posix()}"

    solids = done.solids
    parts = [
        part.model_copy(
            update={key: inside(getattr(part, key)) for key in ("step", "stl", "three_mf")}
        )
        for part in solids.parts
    ]
    return Made(
        number=time.time_ns(),
        file=file.name,
        of=of,
        folder=name,
        solids=SolidsReport(
            parts=parts,
            assembly=inside(solids.assembly),
            beds=[inside(bed) for bed in solids.beds],
        ),
        standings=done.standings,
        advice={part: list(said) for part, said in done.advice.items()},
        splits=done.splits,
        findings=[*done.findings, *(one for one in checks if one not in done.findings)],
        estimate=done.estimate,
        compensation=done.compensation,
        reaming=list(done.reaming),
        files=[inside(each) for each in done.files],
        over_joints=done.over_joints,
        despite_faults=done.despite_faults,
    )


def made_before(bench: Workbench) -> Made | None:
    """The last answer for the file on the bench, or None."""
    try:
        text = (bench.folder.keep / "print.json").read_text(encoding="utf-8")
        made = Made.model_validate_json(text)
        ours = made.file == Path(bench.file).name and bench.folder.path(made.folder).is_dir()
    except (OSError, ValueError, BenchError):
        return None  # none yet, or not ours
    return made if ours else None


def digest(file: Path) -> str:
    """What tells whether a file changed since."""
    return hashlib.sha256(file.read_bytes()).hexdigest()

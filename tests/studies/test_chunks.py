"""Chunks: the same again from their seeds, kept whole or not at all, gone on with after a kill."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import numpy as np
import pyarrow.parquet as pq
import pytest
from little_tube import scattered, tube

from borewright.errors import ModelError, Stopped, StudyError
from borewright.model import Spread
from borewright.studies import Rule, run_study, solve_chunk, study_of, yield_of
from borewright.studies.draws import BLOCK, draws_between


def files(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in sorted(folder.glob("chunk-*.parquet"))}


def test_draws_do_not_depend_on_where_one_begins():
    whole = draws_between(9, 0, 3 * BLOCK, 4, 6)
    part = draws_between(9, 700, 2500, 4, 6)
    assert np.array_equal(part.common, whole.common[700:2500])
    assert np.array_equal(part.each, whole.each[700:2500])
    assert not np.array_equal(draws_between(10, 0, BLOCK, 4, 6).each, whole.each[:BLOCK])


def test_any_chunk_run_again_is_the_same_bit_for_bit(solved):
    study, folder = solved
    kept = files(folder)
    assert list(kept) == [f"chunk-{n:08d}.parquet" for n in range(3)]
    assert solve_chunk(study, 2) == kept["chunk-00000002.parquet"]


def test_a_chunk_says_what_it_belongs_to(solved):
    study, folder = solved
    table = pq.read_table(folder / "chunk-00000001.parquet")
    head = json.loads(table.schema.metadata[b"borewright"])
    assert head["digest"] == study.digest
    assert head["chunk"] == 1
    assert table.column_names == ["build", "D4", "A4"]
    assert table.column("build").to_pylist() == list(range(1024, 2048))


@pytest.mark.parametrize("after", [0, 1, 2])
def test_a_study_stopped_anywhere_goes_on_to_the_same_end(solved, tmp_path, after):
    study, folder = solved

    def stop(done: int, total: int) -> None:
        if done == after:
            raise Stopped

    with pytest.raises(Stopped):
        run_study(study, tmp_path, told=stop)
    assert len(files(tmp_path)) == after
    # What a kill in the middle of writing leaves, and what a failing disk does.
    (tmp_path / ".writing-abc").write_bytes(b"half a chu")
    for broken in list(tmp_path.glob("chunk-*"))[:1]:
        broken.write_bytes(broken.read_bytes()[:200])
    counts = []
    run_study(study, tmp_path, told=lambda done, total: counts.append(done))
    assert files(tmp_path) == files(folder)
    assert counts == list(range(max(0, after - 1), 4))


SCRIPT = """
import sys
from pathlib import Path
sys.path.insert(0, {tests!r})
from little_tube import scattered, tube, two_notes
from borewright.model import Spread
from borewright.studies import run_study, study_of
making = scattered(length=Spread(each=0.6))
study = study_of(tube(), two_notes(), making, builds={builds}, side_holes="closed forms")
print(study.digest, flush=True)
run_study(study, Path(sys.argv[1]))
"""


def test_a_killed_study_goes_on(table, tmp_path):
    """SIGKILL as soon as the first chunks lie there; then the rest, the same bit for bit."""
    builds = 60 * BLOCK
    script = SCRIPT.format(tests=str(Path(__file__).parent), builds=builds)
    folder = tmp_path / "killed"
    process = subprocess.Popen([sys.executable, "-c", script, str(folder)], stdout=subprocess.PIPE)
    try:
        waited = time.monotonic() + 120
        while len(files(folder)) < 2 and time.monotonic() < waited and process.poll() is None:
            time.sleep(0.01)
    finally:
        process.kill()
        digest = process.stdout.read().decode().strip()
        process.stdout.close()
        process.wait()
    if os.name == "posix":
        assert process.returncode == -signal.SIGKILL
    before = files(folder)
    assert 2 <= len(before) < 60
    making = scattered(length=Spread(each=0.6))
    study = study_of(tube(), table, making, builds=builds, side_holes="closed forms")
    assert study.digest == digest
    run_study(study, folder)
    after = files(folder)
    assert len(after) == 60
    assert {name: after[name] for name in before} == before
    for number in (0, 1, len(before) - 1, len(before), 59):
        assert after[f"chunk-{number:08d}.parquet"] == solve_chunk(study, number)


def test_a_chunk_that_a_disk_damaged_is_noticed_and_solved_again(solved, tmp_path):
    study, folder = solved
    run_study(study, tmp_path)
    path = tmp_path / "chunk-00000001.parquet"
    content = bytearray(path.read_bytes())
    content[len(content) // 2] ^= 0xFF
    path.write_bytes(bytes(content))
    with pytest.raises(StudyError, match="chunk 1 is missing or damaged"):
        yield_of(study, tmp_path, Rule(against_design=True))
    run_study(study, tmp_path)
    assert files(tmp_path) == files(folder)


def test_a_folder_of_another_study_is_refused(solved, table):
    study, folder = solved
    other = study_of(tube(), table, study.making, builds=3000, seed=6, side_holes="closed forms")
    assert other.digest != study.digest
    before = files(folder)
    with pytest.raises(StudyError, match="holds another study"):
        run_study(other, folder)
    assert files(folder) == before


@pytest.mark.parametrize(
    "wrong", [{"builds": 3}, {"builds": 10**12}, {"seed": -1}, {"chunk": 1000}, {"chunk": 0}]
)
def test_studies_that_cannot_be_are_refused(table, wrong):
    with pytest.raises(ModelError):
        study_of(tube(), table, scattered(), side_holes="closed forms", **wrong)

"""Chunks on workers: the same bytes as here, whoever is killed meanwhile."""

from __future__ import annotations

import os
import signal
from pathlib import Path

import distributed
import pytest
from little_tube import scattered, tube, two_notes

from borewright.errors import StudyError
from borewright.model import Spread
from borewright.studies import run_study, spread_over, study_of


def files(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in sorted(folder.glob("chunk-*.parquet"))}


@pytest.fixture(scope="module")
def cluster(tmp_path_factory):
    """Two workers of this machine, as somebody may have started them."""
    with distributed.LocalCluster(
        n_workers=2, threads_per_worker=1, host="127.0.0.1", dashboard_address="127.0.0.1:0",
        local_directory=str(tmp_path_factory.mktemp("workers")),
    ) as made:  # fmt: skip
        yield made


@pytest.mark.slow
def test_a_worker_killed_in_mid_study_costs_its_chunk_only(cluster, tmp_path):
    making = scattered(length=Spread(each=0.6), diameter=Spread(common=0.05, each=0.1))
    study = study_of(tube(), two_notes(), making, builds=24 * 1024, side_holes="closed forms")
    alone = run_study(study, tmp_path / "alone")
    with distributed.Client(cluster) as client:
        before = client.run(os.getpid)
        victim = next(iter(before.values()))

        def told(done: int, total: int) -> None:
            if done == 6:
                os.kill(victim, signal.SIGKILL)

        with spread_over(address=cluster.scheduler_address) as solving:
            shared = run_study(study, tmp_path / "shared", solving=solving, told=told)
        client.wait_for_workers(2, timeout=60)
        assert victim not in client.run(os.getpid).values()
    assert files(shared) == files(alone)
    assert len(files(shared)) == 24


@pytest.mark.slow
def test_this_machines_own_workers_go_on_with_what_was_begun_elsewhere(tmp_path):
    making = scattered(length=Spread(each=0.6))
    study = study_of(tube(), two_notes(), making, builds=4 * 1024, side_holes="closed forms")
    run_study(study, tmp_path)
    whole = files(tmp_path)
    for name in list(whole)[1:3]:
        (tmp_path / name).unlink()
    with spread_over(2) as solving:
        run_study(study, tmp_path, solving=solving)
    assert files(tmp_path) == whole


@pytest.mark.parametrize("address", ["tcp://127.0.0.1:9", "nonsense://x", "no address"])
def test_a_scheduler_that_is_not_there_is_told(monkeypatch, address):
    monkeypatch.setattr("borewright.studies.spread.REACHED_S", 1)
    with pytest.raises(StudyError, match="no scheduler answers"), spread_over(address=address):
        pass

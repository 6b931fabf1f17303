"""The workbench without a page: editing, trouble, listeners, jobs."""

from __future__ import annotations

import asyncio
import threading

import pytest

from borewright.bench.folder import ChangedElsewhereError, Kind
from borewright.bench.jobs import Job, Jobs, Task, apart
from borewright.bench.workbench import Workbench
from borewright.errors import BenchError, ModelError
from borewright.model import load, read_values, with_values
from borewright.tasks.making import make_solids
from borewright.tasks.printing.coupon import make_coupon


@pytest.fixture
def bench(clarinet):
    made = Workbench(clarinet)
    yield made
    made.close()


def longer(instrument, by=0.5):
    values = read_values(instrument)
    values[0] += by  # the barrel's length
    return with_values(instrument, values)


def test_an_edit_is_saved_with_comments_and_told(bench):
    told = []
    end = bench.listen(lambda change: told.append((change.what, change.by)))
    before = bench.edition
    bench.edit(longer(bench.instrument), "barrel longer", "me")
    text = bench.path.read_text(encoding="utf-8")
    assert "length_mm = 65.5" in text
    assert "# Register vent, a lined tube standing into the bore." in text
    assert told == [("instrument", "me")]
    assert bench.edition > before
    assert bench.instrument.parts[0].length_mm == 65.5
    end()
    bench.undo()
    assert len(told) == 1
    assert bench.instrument.parts[0].length_mm == 65.0
    bench.redo()
    assert bench.instrument.parts[0].length_mm == 65.5


def test_a_broken_file_is_trouble_and_nothing_overwrites_it(bench):
    good = bench.instrument
    bench.path.write_text("broken", encoding="utf-8")
    assert bench.look()
    assert "not valid TOML" in str(bench.trouble)
    assert bench.instrument == good  # the last good one stays on the page
    with pytest.raises(ModelError, match="not valid TOML"):
        bench.edit(longer(good), "barrel")
    assert bench.path.read_text(encoding="utf-8") == "broken"
    bench.undo()
    assert bench.trouble is None


@pytest.mark.parametrize("broken", [False, True])
def test_an_edit_of_an_older_state_never_overwrites_a_newer_file(bench, broken):
    """The change comes in the second between two looks: theirs stays, mine is kept beside it."""
    drawn = bench.instrument
    theirs = "oops" if broken else bench.path.read_text(encoding="utf-8") + "# theirs\n"
    bench.path.write_text(theirs, encoding="utf-8")
    with pytest.raises(ChangedElsewhereError, match=r"Your change is in 'clarinet copy 1\.toml'"):
        bench.edit(longer(drawn), "barrel longer")
    assert bench.path.read_text(encoding="utf-8") == theirs
    assert load(bench.folder.root / "clarinet copy 1.toml").parts[0].length_mm == 65.5


def test_a_changed_table_is_read_again(bench):
    file = bench.folder.root / "keys.csv"
    text = file.read_text(encoding="utf-8")
    cup = "S2,cup,C-S2,upper joint,93.2"
    assert cup in text
    file.write_text(text.replace(cup, cup[:-1] + "3"), encoding="utf-8")
    before = bench.edition
    assert bench.look()
    assert bench.edition > before
    assert bench.survey.for_hole("S2").station_mm == 93.3


@pytest.mark.parametrize("named", ["../secret.csv", "/etc/passwd", "%2e%2e/secret.csv"])
def test_tables_outside_the_folder_are_not_read(bench, named):
    (bench.folder.root.parent / "secret.csv").write_text("written\n", encoding="utf-8")
    text = bench.path.read_text(encoding="utf-8")
    text = text.replace('fingerings = "fingerings.csv"', f'fingerings = "{named}"')
    bench.path.write_text(text, encoding="utf-8")
    bench.look()
    assert "does not belong to the open folder" in str(bench.trouble)


def test_settings_and_the_chosen_file_outlive_the_server(bench):
    bench.set_setting("units", "in")
    data = bench.folder.read("clarinet.toml")
    bench.folder.save("other.toml", data, "another")
    bench.choose("other.toml")
    bench.close()
    again = Workbench(bench.folder.root)
    assert again.settings["units"] == "in"
    assert again.file == "other.toml"
    assert [each.name for each in again.files(Kind.INSTRUMENT)] == ["clarinet.toml", "other.toml"]
    again.close()


def test_an_empty_folder_has_nothing_on_the_bench(tmp_path):
    bench = Workbench(tmp_path / "new")
    assert bench.instrument is None
    with pytest.raises(BenchError, match="no instrument is on the bench"):
        _ = bench.path
    bench.close()


def run_job(work, cancel_at=None):
    """A finished job, and how often it told."""
    told = []

    async def run():
        def tell(job: Job):
            told.append((job.share, job.words, job.running))
            if cancel_at is not None and job.share == cancel_at:
                job.cancel()

        return await Jobs(tell).run(Task.FIT, work)

    return asyncio.run(run()), told


def test_a_job_tells_its_progress_and_result():
    threads = []

    def work(job):
        threads.append(threading.current_thread())
        job.progress(0.5, "half")
        return 42

    job, told = run_job(work)
    assert job.result == 42
    assert not job.running
    assert (0.5, "half", True) in told or told[-1] == (0.5, "half", False)
    assert threads[0] is not threading.main_thread()


def test_a_jobs_error_is_kept_and_an_unforeseen_one_raised():
    def foreseen(_job):
        raise BenchError("no", place="here", remedy="Do.")

    job, _ = run_job(foreseen)
    assert str(job.error) == "here: no. Do."

    def unforeseen(_job):
        raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        run_job(unforeseen)


def test_a_cancelled_job_stops_at_its_next_progress():
    reached = []

    def work(job):
        for step in range(1, 200):
            job.progress(step)
            reached.append(step)
            threading.Event().wait(0.01)

    job, _ = run_job(work, cancel_at=3)
    assert job.result is None
    assert job.error is None
    assert len(reached) < 199


def test_a_use_case_runs_in_a_process_of_its_own_and_answers(clarinet, tmp_path):
    def makes(job):
        return apart(job, make_coupon, tmp_path / "coupon", "lot 1")

    job, _ = run_job(makes)
    assert job.result.sheet.exists()

    def wrong(job):
        return apart(job, make_solids, clarinet / "absent.toml", tmp_path / "b")

    job, _ = run_job(wrong)
    assert "does not exist" in str(job.error)


def test_cancelling_ends_the_use_cases_process(clarinet, tmp_path):
    def work(job):
        job.cancel()
        return apart(job, make_solids, clarinet / "clarinet.toml", tmp_path / "b")

    job, _ = run_job(work)
    assert job.result is None
    assert not (tmp_path / "b").exists()

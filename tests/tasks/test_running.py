"""Any use case in a process of its own: told, answered, stopped, crashed."""

from __future__ import annotations

import os
import threading
import time
from contextlib import contextmanager

import pytest
import slow_work

from borewright.errors import BorewrightError, ModelError, Stopped
from borewright.tasks.running import meanwhile, run_apart
from borewright.words import Reader, say


def alive(pid: int) -> bool:
    try:
        with open(f"/proc/{pid}/stat", encoding="utf-8") as file:
            return file.read().rsplit(")", 1)[1].split()[0] != "Z"
    except (FileNotFoundError, ProcessLookupError):
        return False


def test_what_is_told_and_answered_comes_back():
    told = []
    found = run_apart(
        slow_work.count, 3, progress=lambda share, said: told.append((share, str(said)))
    )
    assert found == [0, 1, 2]
    assert told == [(1 / 3, "1 counted"), (2 / 3, "2 counted"), (1.0, "3 counted")]


def test_an_error_comes_back_as_it_is_in_any_language():
    with pytest.raises(ModelError) as caught:
        run_apart(slow_work.refuse, "bell")
    assert str(caught.value) == "a.toml, parts: there is no part 'bell'"
    assert caught.value.cause == say("there is no part '{part}'", part="bell")
    assert "bell" in caught.value.told(Reader("de"))


def test_a_crash_is_one_message_and_standard_output_stays_clean(capfd):
    with pytest.raises(BorewrightError, match="broke off without an answer") as caught:
        run_apart(slow_work.crash)
    assert caught.value.remedy
    assert capfd.readouterr().out == ""


def test_a_cancel_ends_the_process_and_what_it_started(tmp_path):
    cancel, pids = threading.Event(), tmp_path / "pids"
    with pytest.raises(Stopped):
        run_apart(
            slow_work.never_end, pids, progress=lambda share, said: cancel.set(), cancel=cancel
        )
    for pid in pids.read_text(encoding="utf-8").split():
        until(lambda pid=pid: not alive(int(pid)))


def until(holds) -> None:
    """Wait for what must come; a machine may be as slow as it likes."""
    for _ in range(600):
        if holds():
            return
        time.sleep(0.1)
    raise AssertionError("it never came")


def test_with_grace_the_best_so_far_comes_back():
    cancel = threading.Event()
    found = run_apart(
        slow_work.count,
        1000,
        wait_s=0.05,
        progress=lambda share, said: cancel.set(),
        cancel=cancel,
        grace_s=60.0,
    )
    assert 1 <= len(found) < 1000


def test_an_error_of_the_listener_ends_the_process(tmp_path):
    def listener(share, said):
        raise KeyError("listener")

    pids = tmp_path / "pids"
    with pytest.raises(KeyError, match="listener"):
        run_apart(slow_work.never_end, pids, progress=listener)
    until(lambda: not alive(int(pids.read_text(encoding="utf-8").split()[0])))


def test_a_use_case_that_stops_has_stopped():
    with pytest.raises(Stopped):
        run_apart(slow_work.stop)


def test_meanwhile_something_else_is_done(tmp_path):
    with meanwhile(slow_work.count, 5) as answer:
        mine = os.getpid()
        assert answer() == list(range(5))
    assert mine == os.getpid()
    pids = tmp_path / "pids"
    with pytest.raises(ZeroDivisionError), left(pids):
        pass
    until(lambda: not alive(int(pids.read_text(encoding="utf-8").split()[0])))


@contextmanager
def left(pids):
    """A block that is left by an error while the other process never ends."""
    with meanwhile(slow_work.never_end, pids):
        until(lambda: pids.exists() and pids.read_text(encoding="utf-8"))
        yield 1 // 0

"""Texts of the bench are told to whoever reads the page at hand, and to nobody else."""

from __future__ import annotations

import asyncio
import threading

import pytest

from borewright.bench.jobs import Task
from borewright.bench.words import _, read_by
from borewright.words import Reader, say


def test_nobody_is_told_where_there_is_no_page():
    with pytest.raises(LookupError, match="nobody reads here"):
        _("Undo")


def test_words_numbers_and_messages_are_the_readers():
    with read_by(Reader("de")):
        assert _("larger than {size}", size="5 MB") == "größer als 5 MB"
        assert _.number(-1.25, "+.1f") == "-1,2"
        assert _.tell(say("'{text}' is not a number", text="bell")) == "„bell“ ist keine Zahl"
        assert _.place(("bell", "length_mm")) == "bell, length_mm"
    with read_by(Reader("en")):
        assert _("larger than {size}", size="5 MB") == "larger than 5 MB"


def test_two_readers_at_once_hear_their_own_language():
    told: dict[str, list[str]] = {"en": [], "de": []}
    together = threading.Barrier(2)

    async def read(language):
        with read_by(Reader(language)):
            for _each in range(3):
                together.wait(30)
                await asyncio.sleep(0)
                told[language].append(_("Undo"))

    threads = [threading.Thread(target=lambda x=x: asyncio.run(read(x))) for x in told]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert told == {"en": ["Undo"] * 3, "de": ["Rückgängig"] * 3}


def test_a_job_is_known_by_its_task_and_told_in_each_language():
    titles = [(Reader("en").tell(task.words), Reader("de").tell(task.words)) for task in Task]
    assert len(set(titles)) == len(Task)
    assert ("Fitting", "Einstimmen") in titles

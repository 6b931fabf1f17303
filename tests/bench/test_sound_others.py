"""What a rendering is told of the other instrument: a file of the folder, or a revision."""

from __future__ import annotations

import pytest

from borewright.bench.sound.others import other_file
from borewright.bench.workbench import Workbench
from borewright.errors import BenchError
from borewright.model import load


@pytest.fixture
def bench(chalumeau):
    made = Workbench(chalumeau)
    yield made
    made.close()


def test_a_revision_is_put_aside_with_the_present_fingerings(bench, tmp_path):
    former = bench.instrument
    bench.folder.name_revision("drawing board")
    bench.edit(former.model_copy(update={"name": "Changed since"}), "name")
    path, table = other_file(bench, "revision: drawing board", tmp_path)
    assert load(path).name == former.name
    assert path.parent == tmp_path
    assert table == bench.folder.path("fingerings.csv")


def test_a_name_that_leads_out_of_the_folder_is_refused(bench, tmp_path):
    with pytest.raises(BenchError):
        other_file(bench, "../elsewhere.toml", tmp_path)

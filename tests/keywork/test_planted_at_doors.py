"""Every planted fault, from files: `check` names it, and `print` and the page refuse, alike."""

from __future__ import annotations

import shutil

import pytest

from borewright.errors import ModelError
from borewright.model import Severity, read_instrument, read_keys, save_as, write_keys
from borewright.tasks.checking import check_file
from borewright.tasks.gate import FaultsFoundError
from borewright.tasks.printing.printing import PrintWishes, print_file

pytestmark = pytest.mark.slow  # files of a dozen instruments, each through the whole gate


#: The hole that this moves under a pad runs into that pad's own: no such file is read.
UNREADABLE = "pad over a chimney"


def planted_in(folder, example, planted, names):
    """The example with some faults, as files."""
    shutil.copytree(example, folder)
    file = folder / "clarinet.toml"
    instrument, document = read_instrument(file)
    features = instrument.body.model_copy(update={"post_base_mm": 4.4})
    instrument = instrument.model_copy(update={"keys": "keys.csv", "body": features})
    made = (instrument, read_keys(folder / "keys.csv"))
    for name in names:
        made = planted.FAULTS[name][0](made)
    save_as(made[0], file, document)
    write_keys(folder / "keys.csv", made[1])
    return file


def told(findings):
    return {
        (str(getattr(one, "check", "")), element)
        for one in findings
        if one.severity is Severity.FAULT
        for element in getattr(one, "elements", ())
    }


def test_every_fault_is_named_by_check_and_refused_by_print(example, planted, tmp_path):
    # Two at a time, so that one never hides another.
    names = [name for name in planted.FAULTS if name != UNREADABLE]
    seen = {}
    for number, pair in enumerate(zip(names[::2], names[1::2], strict=True)):
        file = planted_in(tmp_path / str(number), example, planted, pair)
        found = check_file(file)
        with pytest.raises(FaultsFoundError) as refused:
            # The page's Print asks the same function with the same wishes.
            print_file(file, tmp_path / str(number) / "job", PrintWishes(drawings=False))
        assert told(refused.value.findings) == told(found), pair
        assert not list((tmp_path / str(number)).glob("job/*"))
        for name in pair:
            check, element = planted.FAULTS[name][1:]
            seen[name] = (check.value, element) in told(found)
    assert [name for name, found in seen.items() if not found] == []
    assert set(seen) == set(names)


def test_a_body_that_cannot_be_is_refused_where_it_is_read(example, planted, tmp_path):
    file = planted_in(tmp_path / "one", example, planted, [UNREADABLE])
    for ask in (check_file, lambda file: print_file(file, tmp_path / "job")):
        with pytest.raises(ModelError, match="'L3' and 'CG' overlap"):
            ask(file)

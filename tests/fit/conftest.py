"""The shipped clarinet with its survey, and a whole fit shared by many tests."""

from importlib.resources import files

import pytest

from borewright.fit import fit
from borewright.model import load, read_fingerings, read_keys, read_survey
from borewright.model.keys import points_of

EXAMPLES = files("borewright") / "examples"


@pytest.fixture(scope="session")
def clarinet():
    folder = EXAMPLES / "loan-clarinet"
    return (
        load(folder / "clarinet.toml"),
        read_fingerings(folder / "fingerings.csv"),
        points_of(read_keys(folder / "keys.csv"), read_survey(folder / "keywork.csv")),
    )


@pytest.fixture(scope="session")
def points_only(clarinet):
    """The same with a survey of points alone: no key tells where its pad lies."""
    instrument, fingerings, _ = clarinet
    return instrument, fingerings, read_survey(EXAMPLES / "loan-clarinet" / "keywork.csv")


@pytest.fixture(scope="session")
def clarinet_fit(clarinet):
    instrument, fingerings, survey = clarinet
    return fit(instrument, fingerings, survey)


@pytest.fixture(scope="session")
def chalumeau():
    folder = EXAMPLES / "class-chalumeau"
    return load(folder / "chalumeau.toml"), read_fingerings(folder / "fingerings.csv")

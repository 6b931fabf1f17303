"""Every test of records runs on SQLite and on a real PostgreSQL server."""

from __future__ import annotations

import itertools
import shutil
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from sqlalchemy import text

from borewright.ledger import Ledger
from borewright.ledger.database import make_engine

sys.path.insert(0, str(Path(__file__).parent))
import postgres

_numbers = itertools.count()


@pytest.fixture(scope="session")
def server_address() -> Iterator[str]:
    """The address of a running server."""
    with postgres.server() as address:
        yield address


def in_server(address: str, statement: str) -> None:
    engine = make_engine(address)
    with engine.connect().execution_options(isolation_level="AUTOCOMMIT") as connection:
        connection.execute(text(statement))
    engine.dispose()


@pytest.fixture(scope="session")
def started_database(server_address: str) -> str:
    """The name of a database that holds an empty ledger, to be copied."""
    in_server(server_address, "CREATE DATABASE started")
    Ledger(server_address.replace("/postgres?", "/started?"), create=True).engine.dispose()
    return "started"


@pytest.fixture(scope="session")
def started_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A file that holds an empty ledger, to be copied."""
    path = tmp_path_factory.mktemp("started") / "started.ledger"
    Ledger(path, create=True)
    return path


@pytest.fixture(params=["sqlite", "postgresql"])
def database(request: pytest.FixtureRequest) -> str:
    """Which database a test runs on."""
    return request.param


@pytest.fixture
def new_place(database: str, request: pytest.FixtureRequest, tmp_path: Path) -> Callable[..., str]:
    """Makes places for ledgers: with an empty ledger, or with nothing at all."""

    def make(empty: bool = False) -> str:
        number = next(_numbers)
        if database == "sqlite":
            path = tmp_path / f"workshop-{number}.ledger"
            if not empty:
                shutil.copy(request.getfixturevalue("started_file"), path)
            return str(path)
        address = request.getfixturevalue("server_address")
        template = "" if empty else f" TEMPLATE {request.getfixturevalue('started_database')}"
        in_server(address, f"CREATE DATABASE workshop_{number}{template}")
        return address.replace("/postgres?", f"/workshop_{number}?")

    return make


@pytest.fixture
def place(new_place: Callable[..., str]) -> str:
    """Where a ledger stands."""
    return new_place()


@pytest.fixture
def ledger(place: str) -> Ledger:
    """An empty ledger."""
    return Ledger(place)

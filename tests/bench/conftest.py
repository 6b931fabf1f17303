"""A bench as a person meets it: a server in a process of its own, and a real browser.

``open_bench`` starts ``borewright bench`` on a folder; ``page`` is a browser page whose console
errors, failed requests and requests that leave this machine fail the test.
"""

from __future__ import annotations

import contextlib
import os
import re
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import urlsplit

sys.path.insert(0, str(Path(__file__).parents[2] / "tools"))

import pytest
from bench_browser import start_chromium
from playwright.sync_api import Browser, Page, expect, sync_playwright

from borewright.tasks.examples import Example, copy_example

#: How long (ms) a test waits for what it needs: a first start compiles kernels where no cache has
#: them yet, on a machine that may be busy with other things. What comes sooner is taken sooner.
PATIENCE = 300_000
expect.set_options(timeout=PATIENCE)


#: The token of each running bench, by host and port: pages come in by it, as a person does.
TOKENS: dict[str, str] = {}


@dataclass
class Bench:
    """A running server: its address without its token, its folder, its process."""

    url: str
    folder: Path
    process: subprocess.Popen[str]
    token: str = ""

    def stop(self) -> None:
        """End the server as Ctrl-C or a closed terminal does."""
        self.process.terminate()
        self.process.wait(30)

    def kill(self) -> None:
        """End the server at once, in the middle of whatever it does."""
        self.process.kill()
        self.process.wait(30)


@pytest.fixture
def open_bench(tmp_path: Path) -> Iterator[Callable[..., Bench]]:
    """Start a bench on a folder; all are ended after the test."""
    running: list[Bench] = []

    def start(folder: Path | None = None, *words: str, **environment: str) -> Bench:
        folder = folder or tmp_path / "folder"
        process = subprocess.Popen(
            [sys.executable, "-m", "borewright", "bench", str(folder), "--no-show", *words],
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            # The page's library behaves otherwise where it believes that it is under test.
            env={
                **{k: v for k, v in os.environ.items() if not k.startswith("PYTEST")},
                **environment,
            },
        )
        assert process.stdout is not None
        line = process.stdout.readline()
        found = re.search(r"https?://\S+", line)
        assert found, line + process.stdout.read()
        url, _, token = found.group(0).partition("?token=")
        bench = Bench(url, folder, process, token)
        TOKENS[urlsplit(url).netloc] = token
        running.append(bench)
        _listens(bench)
        return bench

    yield start
    for bench in running:
        bench.process.terminate()
        try:
            bench.process.wait(20)
        except subprocess.TimeoutExpired:
            bench.process.kill()
            bench.process.wait()
        if bench.process.stdout:
            bench.process.stdout.close()


def _listens(bench: Bench) -> None:
    """Wait until the server takes connections: the address is told a moment before."""
    parts = urlsplit(bench.url)
    for _ in range(600):
        with contextlib.suppress(OSError), socket.create_connection((parts.hostname, parts.port)):
            return
        assert bench.process.poll() is None, "the server ended"
        time.sleep(0.05)


@pytest.fixture(scope="module")  # while it runs, no test of its process can run an event loop
def browser() -> Iterator[Browser]:
    """Debian's chromium, or the browser that is installed; a missing one fails the tests."""
    with sync_playwright() as playwright:
        started = start_chromium(playwright)
        yield started
        started.close()


@dataclass
class Complaints:
    """What a page's console and network have to object to."""

    found: list[str] = field(default_factory=list)
    expected: tuple[str, ...] = ()

    def add(self, words: str) -> None:
        """Note a complaint, unless the test expects it."""
        if not any(part in words for part in self.expected):
            self.found.append(words)


@pytest.fixture
def complaints() -> Complaints:
    """The complaints of all pages of this test; a test may name parts that it ``expected``."""
    return Complaints()


@pytest.fixture
def new_page(browser: Browser, complaints: Complaints) -> Iterator[Callable[..., Page]]:
    """Open a page of its own; anything it complains of fails the test."""
    contexts = []

    def open_page(width: int = 1440, height: int = 1000) -> Page:
        context = browser.new_context(viewport={"width": width, "height": height})
        contexts.append(context)
        page = context.new_page()
        page.set_default_timeout(PATIENCE)
        page.on("console", lambda m: m.type == "error" and complaints.add(f"console: {m.text}"))
        page.on("pageerror", lambda error: complaints.add(f"script: {error}"))
        page.on("request", lambda request: _stays_here(request.url, complaints))
        _comes_in_by_token(page)
        return page

    yield open_page
    for context in contexts:
        context.close()
    assert complaints.found == []


def _comes_in_by_token(page: Page) -> None:
    """Let ``goto`` open addresses as the bench prints them: with the token of its start."""
    plain = page.goto

    def goto(url: str, **named: object) -> object:
        parts = urlsplit(url)
        token = TOKENS.get(parts.netloc)
        if token and parts.path == "/":
            url += f"{'&' if parts.query else '?'}token={token}"
        return plain(url, **named)

    page.goto = goto


def _stays_here(url: str, complaints: Complaints) -> None:
    parts = urlsplit(url)
    if parts.scheme in ("http", "https", "ws", "wss") and parts.hostname != "127.0.0.1":
        complaints.add(f"a request left this machine: {url}")


@pytest.fixture
def page(new_page: Callable[..., Page]) -> Page:
    """One page of ordinary size."""
    return new_page()


@pytest.fixture
def clarinet(tmp_path: Path) -> Path:
    """A folder with the larger example."""
    return copy_example(Example.CLARINET, tmp_path / "folder")[0].parent


@pytest.fixture
def chalumeau(tmp_path: Path) -> Path:
    """A folder with the smaller example."""
    return copy_example(Example.CHALUMEAU, tmp_path / "folder")[0].parent

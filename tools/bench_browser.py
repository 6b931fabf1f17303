"""Chromium as tests, benchmark and pictures start it, and a page of it on a running bench."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import Browser, Page, Playwright, sync_playwright

BROWSERS = ("chromium", "chromium-browser")
ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


def start_chromium(playwright: Playwright) -> Browser:
    """The installed Chromium without a window; FileNotFoundError where there is none."""
    path = next((found for name in BROWSERS if (found := shutil.which(name))), None)
    if path is None:
        raise FileNotFoundError("no Chromium was found: run 'make browser'")
    return playwright.chromium.launch(executable_path=path, args=ARGUMENTS)


@contextmanager
def bench_page(
    width: int = 1440, height: int = 1000, filled: Path | None = None
) -> Iterator[tuple[str, Page, int]]:
    """The address of a bench, a page, and the server's process number.

    The bench works on a copy of the folder ``filled``, or on an empty one.
    """
    with tempfile.TemporaryDirectory() as folder:
        if filled is not None:
            shutil.copytree(filled, Path(folder) / "work")
        command = [sys.executable, "-m", "borewright", "bench", str(Path(folder) / "work")]
        with subprocess.Popen([*command, "--no-show"], stdout=subprocess.PIPE, text=True) as server:
            try:
                line = server.stdout.readline() if server.stdout else ""
                found = re.search(r"https?://\S+", line)
                if found is None:
                    sys.exit(f"the bench did not start: {line}")
                with sync_playwright() as playwright:
                    browser = start_chromium(playwright)
                    page = browser.new_page(viewport={"width": width, "height": height})
                    page.set_default_timeout(180_000)
                    page.goto(found.group(0))
                    page.wait_for_load_state()
                    # Come in by the token once; from then on the cookie opens the address.
                    yield found.group(0).split("?")[0], page, server.pid
                    browser.close()
            finally:
                server.terminate()


def memory_mb(process: int) -> float | None:
    """Resident memory (MB) of a process, where the system tells it in /proc."""
    status = Path(f"/proc/{process}/status")
    if not status.exists():
        return None
    match = re.search(r"VmRSS:\s+(\d+) kB", status.read_text(encoding="utf-8"))
    return int(match.group(1)) / 1024 if match else None


def cores() -> int:
    """Cores that this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1

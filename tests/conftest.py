"""What all tests share: no skips unseen with `--no-skips`, generated input without a clock."""

from __future__ import annotations

import os
from collections import Counter
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

# A shared or busy machine is slow now and then: no test may fail by the clock.
settings.register_profile("unhurried", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("unhurried")

# Tests read English, whatever language their developer's shell speaks.
os.environ["BOREWRIGHT_LANGUAGE"] = "en"


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--no-skips",
        action="store_true",
        help="a skipped test fails, so that a full run cannot leave anything out in silence",
    )
    parser.addoption("--by-room", action="store_true", help="tell the minutes of every room")


def pytest_terminal_summary(
    terminalreporter: pytest.TerminalReporter, config: pytest.Config
) -> None:
    """Minutes of every folder of tests, on all workers together, the longest first."""
    if not config.getoption("--by-room"):
        return
    seconds: Counter[str] = Counter()
    for reports in terminalreporter.stats.values():
        for report in reports:
            if isinstance(report, pytest.TestReport):
                seconds[Path(report.nodeid).parts[1]] += report.duration
    terminalreporter.section("minutes by room, all workers together")
    for room, spent in seconds.most_common():
        terminalreporter.write_line(f"{spent / 60:7.2f}  {room}")
    terminalreporter.write_line(f"{seconds.total() / 60:7.2f}  all")


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item: pytest.Item, call: pytest.CallInfo[None]):
    report = yield
    if report.skipped and not hasattr(report, "wasxfail") and item.config.getoption("--no-skips"):
        report.outcome = "failed"
        report.longrepr = f"{item.nodeid} was skipped, which --no-skips forbids: {report.longrepr}"
    return report


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report(collector: pytest.Collector):
    report = yield
    if report.skipped and collector.config.getoption("--no-skips"):
        report.outcome = "failed"
        report.longrepr = f"{collector.nodeid} was skipped whole, which --no-skips forbids"
    return report

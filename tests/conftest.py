"""What all tests share: no test may be skipped unseen where `--no-skips` is given."""

from __future__ import annotations

import pytest


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--no-skips",
        action="store_true",
        help="a skipped test fails, so that a full run cannot leave anything out in silence",
    )


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

"""Work that is cancelled while it runs: told plainly, nothing written, the page goes on."""

from __future__ import annotations

import pytest

pytestmark = pytest.mark.slow  # a server and a real browser each

#: Presses Cancel in the very frame in which ``wanted`` is on the page: no round trip is too late.
CANCEL_ONCE = """wanted => {
  const look = () => {
    const buttons = [...document.querySelectorAll('[data-mark=cancel-job]')];
    const button = buttons.find(each => each.offsetParent);
    if (button && document.querySelector(wanted)) button.click();
    else requestAnimationFrame(look);
  };
  look();
}"""


def contents(folder):
    """Every visible file of the folder with what it holds."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file() and ".bench" not in path.parts
    }


def test_a_fit_cancelled_in_mid_run_changes_nothing_and_another_one_works(
    open_bench, page, clarinet
):
    bench = open_bench(clarinet)
    page.goto(f"{bench.url}?view=fit&file=clarinet.toml")
    page.wait_for_selector("[data-mark=run-fit]")
    before = contents(clarinet)
    page.evaluate(CANCEL_ONCE, "[data-mark=course]")  # it is drawn from the first round on
    page.click("[data-mark=run-fit]")
    page.wait_for_selector("[data-mark=fit-cancelled]:has-text('Nothing was changed')")
    page.wait_for_selector("[data-mark=progress]", state="hidden")
    assert contents(clarinet) == before
    # The page is alive: what it offers can be looked at hole by hole, and left.
    assert page.locator("[data-take]").count() > 0
    page.click("[data-mark=leave-fit]")
    page.wait_for_selector("[data-mark=fit-cancelled]", state="detached")
    assert contents(clarinet) == before
    page.click("[data-mark=run-fit]")
    page.wait_for_selector("[data-mark=take-all]")
    assert page.locator("[data-mark=fit-cancelled]").count() == 0
    page.click("[data-mark=take-all]")
    page.wait_for_selector("[data-mark=undo][title*='fit']")
    after = contents(clarinet)
    assert {name for name in after if after[name] != before[name]} == {"clarinet.toml"}


def test_bodies_cancelled_leave_the_former_ones_and_can_be_made_again(open_bench, page, chalumeau):
    (chalumeau / "bodies").mkdir()
    (chalumeau / "bodies" / "body.step").write_text("former", encoding="utf-8")
    bench = open_bench(chalumeau)
    page.goto(f"{bench.url}?view=design")
    page.wait_for_selector(".bw-note")
    before = contents(chalumeau)
    page.click("[data-mark=bodies]")
    page.evaluate(CANCEL_ONCE, "[data-mark=progress]")
    page.click("[data-mark=make-bodies]")
    page.wait_for_selector("[data-mark=job-words]:has-text('cancelled. Nothing was written.')")
    assert contents(chalumeau) == before
    page.click("[data-mark=make-bodies]")
    page.wait_for_selector("[data-mark='file-body.step']")
    assert (chalumeau / "bodies" / "body.step").read_text(encoding="utf-8").startswith("ISO-10303")

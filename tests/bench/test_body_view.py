"""The Body view in a real browser: drag, undo, two pages, keys, reload, tablet."""

from __future__ import annotations

import tomllib

import pytest

pytestmark = pytest.mark.slow  # a server and a real browser each


def open_body(page, bench, query=""):
    page.goto(f"{bench.url}?view=design{query}")
    page.wait_for_selector(".bw-note")
    page.wait_for_selector("[data-mark=summary]:has-text('cents')")


def cents(page):
    """What the chart shows, by fingering."""
    return page.eval_on_selector_all(
        ".bw-note", "notes => Object.fromEntries(notes.map(n => [n.dataset.note, n.dataset.cents]))"
    )


def drag(page, hole, by_px, *, edge=0, steps=6, drop=True):
    """Drag a hole's middle, or one of its edges, by some pixels."""
    found = page.locator(f"[data-hole='{hole}']")
    found.focus()
    if edge:
        page.wait_for_selector(f"[data-hole='{hole}'] [data-edge='{edge}']")
        grip = found.locator(f"[data-edge='{edge}']")
    else:
        grip = found.locator(".bw-bore-hole")
    box = grip.bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    for step in range(1, steps + 1):
        page.mouse.move(x + by_px * step / steps, y)
    if drop:
        page.mouse.up()


def saved(bench, hole, measure):
    """A hole's measure in the file."""
    data = tomllib.loads((bench.folder / "chalumeau.toml").read_text(encoding="utf-8"))
    for part in data["part"]:
        for each in part.get("hole", []):
            if each["name"] == hole:
                return each[measure]
    raise AssertionError(hole)


def wait_for_undo(page, words):
    page.wait_for_selector(f"[data-mark=undo][title*='{words}']")


def wait_for_other_cents(page, old):
    page.wait_for_function(
        "old => [...document.querySelectorAll('.bw-note')].some("
        "n => n.dataset.cents !== old[n.dataset.note])",
        arg=old,
    )


def test_dragging_a_hole_moves_the_chart_then_saves_then_undoes(open_bench, page, chalumeau):
    bench = open_bench(chalumeau)
    open_body(page, bench)
    before = cents(page)
    drag(page, "R2", 30, drop=False)
    wait_for_other_cents(page, before)
    assert saved(bench, "R2", "station_mm") == 81.0  # nothing is saved before the drop
    page.mouse.up()
    wait_for_undo(page, "R2 station 81")
    moved = saved(bench, "R2", "station_mm")
    assert moved > 83
    assert (moved * 20) == pytest.approx(round(moved * 20), abs=1e-6)  # snaps to 0.05 mm
    page.click("[data-mark=undo]")
    page.wait_for_selector("[data-mark=undo][disabled]")
    assert saved(bench, "R2", "station_mm") == 81.0
    page.wait_for_function(
        "old => [...document.querySelectorAll('.bw-note')].every("
        "n => n.dataset.cents === old[n.dataset.note])",
        arg=before,
    )
    page.click("[data-mark=redo]")
    page.wait_for_selector("[data-mark=redo][disabled]")
    assert saved(bench, "R2", "station_mm") == moved


def test_an_edge_changes_the_diameter_and_limits_are_told(open_bench, page, chalumeau):
    bench = open_bench(chalumeau)
    open_body(page, bench)
    drag(page, "R2", 6, edge=1)
    wait_for_undo(page, "R2 diameter 5")
    assert saved(bench, "R2", "diameter_mm") > 5.5
    assert saved(bench, "R2", "station_mm") == 81.0
    drag(page, "R2", 60)
    page.wait_for_selector("[data-mark=reading]:has-text('beyond its limit')")


def test_escape_puts_a_drag_back(open_bench, page, chalumeau):
    bench = open_bench(chalumeau)
    open_body(page, bench)
    drag(page, "R2", 30, drop=False)
    page.keyboard.press("Escape")
    page.mouse.up()
    page.wait_for_selector("[data-mark=reading]:has-text('81.00')")
    assert saved(bench, "R2", "station_mm") == 81.0


def test_sizes_take_comma_inches_and_tell_what_is_wrong(open_bench, page, chalumeau):
    bench = open_bench(chalumeau)
    open_body(page, bench)
    field = page.get_by_label("R2 station")
    field.fill("82,5")
    field.press("Enter")
    wait_for_undo(page, "R2 station")
    assert saved(bench, "R2", "station_mm") == 82.5
    field.fill("3 1/4 in")
    field.press("Enter")
    wait_for_undo(page, "82.5 → 82.55")
    for wrong, words in (
        ("wide", "is not a number"),
        ("97", "overlap"),
        ("900", "outside its part"),
    ):
        field.fill(wrong)
        field.press("Enter")
        page.wait_for_selector(f".bw-sizes [role=alert]:has-text('{words}')")
    assert saved(bench, "R2", "station_mm") == 82.55


def test_a_second_page_sees_changes_live(open_bench, new_page, chalumeau):
    bench = open_bench(chalumeau)
    first, second = new_page(), new_page()
    open_body(first, bench)
    open_body(second, bench)
    before = cents(second)
    drag(first, "R2", 30)
    wait_for_undo(second, "R2 station")
    wait_for_other_cents(second, before)
    second.click("[data-mark=undo]")
    first.wait_for_selector("[data-mark=undo][disabled]")


def test_another_programs_change_is_noticed_and_kept(open_bench, page, chalumeau):
    bench = open_bench(chalumeau)
    open_body(page, bench)
    file = bench.folder / "chalumeau.toml"
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace("station_mm = 81.0", "station_mm = 82.0"), encoding="utf-8")
    wait_for_undo(page, "changed by another program")
    page.wait_for_function(
        "document.querySelector('[aria-label=\"R2 station\"]').value === '82.00'"
    )
    file.write_text(text.replace("station_mm = 81.0", "station_mm = oops"), encoding="utf-8")
    page.wait_for_selector("[data-mark=message]:has-text('is not valid TOML')")
    field = page.get_by_label("R2 station")
    field.fill("83")
    field.press("Enter")
    assert "oops" in file.read_text(encoding="utf-8")
    page.click("[data-mark=undo]")
    page.wait_for_selector("[data-mark=message]", state="hidden")
    assert saved(bench, "R2", "station_mm") == 82.0


def test_a_reload_and_a_link_lose_nothing(open_bench, page, chalumeau):
    bench = open_bench(chalumeau)
    open_body(page, bench, "&note=G4&climate=hot%20room")
    assert page.locator(".bw-note.chosen").get_attribute("data-note") == "G4"
    assert page.locator("[data-mark=climate]").input_value() == "hot room"
    hot = cents(page)
    drag(page, "R2", 30)
    wait_for_undo(page, "R2 station")
    moved = saved(bench, "R2", "station_mm")
    page.reload()
    page.wait_for_selector(".bw-note")
    assert f"{moved:.2f}" == page.get_by_label("R2 station").input_value()
    assert page.locator("[data-mark=climate]").input_value() == "hot room"
    page.select_option("[data-mark=climate]", "file")
    wait_for_other_cents(page, hot)


def test_by_keys_alone(open_bench, page, chalumeau):
    bench = open_bench(chalumeau)
    open_body(page, bench)
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.innerText") == "To the content"
    page.keyboard.press("h")
    page.wait_for_function("document.activeElement.dataset.hole === 'L1'")
    for _press in range(3):
        page.keyboard.press("ArrowRight")
    wait_for_undo(page, "L1 station 8 → 8.3")
    page.keyboard.press("Control+z")
    page.wait_for_selector("[data-mark=undo][disabled]")
    page.keyboard.press("n")
    page.wait_for_selector(".bw-note.chosen")
    first = page.locator(".bw-note.chosen").get_attribute("data-note")
    page.locator("[data-mark=pitches]").focus()
    page.keyboard.press("ArrowRight")
    page.wait_for_function(
        "first => document.querySelector('.bw-note.chosen').dataset.note !== first", arg=first
    )
    page.keyboard.press("?")
    page.wait_for_selector("text=Keys of this page")
    page.keyboard.press("Escape")
    page.wait_for_selector("text=Keys of this page", state="detached")
    page.keyboard.press("2")
    page.wait_for_selector("[data-mark=run-fit]")
    page.keyboard.press("r")
    page.wait_for_selector("[data-mark=take-all]")
    page.keyboard.press("a")
    wait_for_undo(page, "fit")


def test_on_a_narrow_tablet_nothing_sticks_out(open_bench, new_page, chalumeau):
    bench = open_bench(chalumeau)
    page = new_page(768, 1024)
    open_body(page, bench)
    for view in ("design", "fit"):
        page.click(f"[data-mark=view-{view}]")
        page.wait_for_timeout(300)
        wide = page.evaluate("document.documentElement.scrollWidth")
        assert wide <= 768


def test_selecting_lights_what_moves_it(open_bench, page, chalumeau):
    bench = open_bench(chalumeau)
    open_body(page, bench)
    page.locator("[data-note=G4]").locator(".bw-hit").click()
    page.wait_for_selector("[data-mark=details]:has-text('moves it most')")
    assert page.locator(".bw-moves").count() >= 1
    assert "G4" in page.locator("[data-mark=fingering]").get_attribute("aria-label")
    page.locator("[data-hole=R1]").focus()
    page.wait_for_selector("[data-mark=details]:has-text('moves most')")
    assert page.locator(".bw-sway").count() >= 1


def test_revisions_by_name(open_bench, page, chalumeau):
    bench = open_bench(chalumeau)
    open_body(page, bench)
    page.click("[data-mark=revisions]")
    page.fill("[data-mark=revision-name]", "drawing board")
    page.click("[data-mark=keep-revision]")
    page.wait_for_selector("text=Kept as 'drawing board'")
    page.wait_for_selector(".q-dialog", state="detached")  # while it fades it takes the pointer
    drag(page, "R2", 30)
    wait_for_undo(page, "R2 station")
    page.click("[data-mark=revisions]")
    page.get_by_role("button", name="drawing board").click()
    wait_for_undo(page, "back to revision")
    assert saved(bench, "R2", "station_mm") == 81.0


def test_killed_and_started_again_the_work_is_there(open_bench, page, chalumeau, complaints):
    complaints.expected = ("ERR_CONNECTION_REFUSED", "WebSocket connection", "ERR_EMPTY_RESPONSE")
    bench = open_bench(chalumeau)
    open_body(page, bench)
    drag(page, "R2", 30)
    wait_for_undo(page, "R2 station")
    moved = saved(bench, "R2", "station_mm")
    page.goto("about:blank")
    bench.kill()
    again = open_bench(chalumeau)
    open_body(page, again)
    assert f"{moved:.2f}" == page.get_by_label("R2 station").input_value()
    page.click("[data-mark=undo]")
    page.wait_for_selector("[data-mark=undo][disabled]")
    assert saved(again, "R2", "station_mm") == 81.0

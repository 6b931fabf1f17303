"""What is half typed while another page or program writes the folder is not lost, and told."""

from __future__ import annotations

import tomllib

import pytest

pytestmark = pytest.mark.slow  # a server and a real browser each


def open_body(page, bench):
    page.goto(f"{bench.url}?view=design")
    page.wait_for_selector(".bw-note")


def saved_station(bench, hole):
    data = tomllib.loads((bench.folder / "chalumeau.toml").read_text(encoding="utf-8"))
    holes = [each for part in data["part"] for each in part.get("hole", [])]
    return next(each["station_mm"] for each in holes if each["name"] == hole)


def enter(page, label, value):
    field = page.get_by_label(label)
    field.fill(value)
    field.press("Enter")


def test_a_size_half_typed_outlives_another_pages_change(open_bench, new_page, chalumeau):
    bench = open_bench(chalumeau)
    page, other = new_page(), new_page()
    open_body(page, bench)
    open_body(other, bench)
    field = page.get_by_label("R2 station")
    field.fill("82,")
    enter(other, "R1 diameter", "5.7")
    page.wait_for_selector("[data-mark=sizes-changed]:has-text('What you are typing is kept')")
    assert page.get_by_label("R1 diameter").input_value() == "5.70"
    assert field.input_value() == "82,"
    page.keyboard.type("5")  # the field still is the one that is typed in
    page.keyboard.press("Enter")
    page.wait_for_selector("[data-mark=undo][title*='R2 station 81']")
    page.wait_for_selector("[data-mark=sizes-changed]", state="detached")
    assert saved_station(bench, "R2") == 82.5
    assert page.get_by_label("R2 station").input_value() == "82.50"
    other.wait_for_selector("[data-mark=undo][title*='R2 station 81']")


def test_the_very_size_changed_by_another_program_is_told_and_can_be_taken(
    open_bench, page, chalumeau
):
    bench = open_bench(chalumeau)
    open_body(page, bench)
    field = page.get_by_label("R2 station")
    field.fill("82.")
    file = bench.folder / "chalumeau.toml"
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace("station_mm = 81.0", "station_mm = 80.0"), encoding="utf-8")
    page.wait_for_selector("[data-mark=sizes-changed]:has-text('changed to 80.00 meanwhile')")
    assert field.input_value() == "82."
    page.keyboard.press("Escape")
    page.wait_for_function("document.activeElement.value === '80.00'")
    assert page.locator("[data-mark=sizes-changed]").count() == 0
    assert saved_station(bench, "R2") == 80.0


def test_a_limit_half_typed_outlives_the_same_limit_set_on_another_page(
    open_bench, new_page, chalumeau
):
    bench = open_bench(chalumeau)
    page, other, third = new_page(), new_page(), new_page()
    for each in (page, other, third):
        each.goto(f"{bench.url}?view=fit")
        each.click("[data-mark=limits]")
    mark = "[data-mark=finger_hole_window_mm]"
    page.fill(mark, "4,")
    other.fill(mark, "3.5")
    other.press(mark, "Enter")
    page.wait_for_selector(".bw-changed:has-text('changed to 3.50 meanwhile')")
    assert page.input_value(mark) == "4,"
    third.wait_for_function(f"document.querySelector('{mark}').value === '3.50'")  # not typed in
    page.press(mark, "Enter")
    page.wait_for_selector(".bw-changed", state="detached")
    third.wait_for_function(f"document.querySelector('{mark}').value === '4.00'")


def test_a_field_that_is_drawn_anew_keeps_what_is_typed_and_the_cursor(open_bench, page, chalumeau):
    """The list of readings with the field beneath it is drawn anew when any file changes."""
    bench = open_bench(chalumeau)
    page.goto(f"{bench.url}?view=play")
    hole = page.locator("[data-mark=reading-of] option").first.get_attribute("value")
    page.select_option("[data-mark=reading-of]", hole)
    page.fill("[data-mark=reading-value]", "5,6")
    page.click("[data-mark=reading-add]")
    mark = "[data-mark=built-name]"
    page.wait_for_selector(mark)
    page.fill(mark, "lot seven")
    page.press(mark, "ArrowLeft")
    page.evaluate("mark => { window.former = document.querySelector(mark); }", mark)
    page.fill("[data-mark=reading-value]", "5,")  # another one, which is not drawn anew
    page.focus(mark)
    page.keyboard.press("Home")
    page.keyboard.type("x")
    (chalumeau / "a note.csv").write_text("a,b\n1,2\n", encoding="utf-8")
    page.wait_for_function(
        "mark => document.querySelector(mark) !== window.former && "
        "document.activeElement === document.querySelector(mark)",
        arg=mark,
    )
    assert page.input_value(mark) == "xlot seven"
    page.wait_for_selector(".bw-changed:has-text('A file was changed meanwhile')")
    page.keyboard.type("y")  # the cursor is where it was
    assert page.input_value(mark) == "xylot seven"
    assert page.input_value("[data-mark=reading-value]") == "5,"


def test_what_is_chosen_for_the_printer_is_shown_on_every_page(open_bench, new_page, chalumeau):
    """Whoever presses the button makes what both see; what is being typed stays."""
    bench = open_bench(chalumeau)
    page, other = new_page(), new_page()
    for each in (page, other):
        each.goto(f"{bench.url}?view=print")
        each.wait_for_selector("[data-mark=make]")
    holes, bores = "[data-mark=ream_holes_mm]", "[data-mark=ream_bore_mm]"
    other.fill(holes, "0,")
    page.select_option("[data-mark=drawings]", "no")
    page.select_option("[data-mark=printer]", "cube 250")
    page.fill(bores, "0,25")
    page.press(bores, "Enter")
    other.wait_for_function(f"document.querySelector('{bores}').value === '0.25'")
    assert other.input_value("[data-mark=drawings]") == "no"
    assert other.input_value("[data-mark=printer]") == "cube 250"
    assert other.input_value(holes) == "0,"
    page.fill(holes, "0.2")
    page.press(holes, "Enter")
    other.wait_for_selector(".bw-changed:has-text('changed to 0.20 meanwhile')")
    other.press(holes, "Escape")
    assert other.input_value(holes) == "0.20"

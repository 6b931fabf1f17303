"""Keys in the round on the Body view: swung in the browser, fingerings played, holes told."""

from __future__ import annotations

import pytest

from borewright.model import read_fingerings

pytestmark = pytest.mark.slow  # a server and a real browser


def with_keys(folder):
    file = folder / "clarinet.toml"
    text = file.read_text(encoding="utf-8")
    if "\nkeys = " not in text:
        text = text.replace("[instrument]\n", '[instrument]\nkeys = "keys.csv"\n', 1)
        file.write_text(text, encoding="utf-8")


def open_holes(page):
    told = page.inner_text("[data-mark=keys-reading]").split("open:")[1].split()
    return set() if told == ["none"] else set(told)


def counted(page, what):
    return int(page.get_attribute(".bw-keys", f"data-{what}"))


def moved(page):
    """Wait until the movement that was begun has ended."""
    frames = counted(page, "frames")

    def wait():
        page.wait_for_function(
            "old => +document.querySelector('.bw-keys').dataset.frames > old", arg=frames
        )

    return wait


def test_keys_swing_in_the_browser_and_fingerings_open_their_holes(open_bench, page, clarinet):
    with_keys(clarinet)
    sent = []
    page.on("websocket", lambda socket: socket.on("framesent", lambda text: sent.append(text)))
    page.goto(f"{open_bench(clarinet).url}?view=design")
    page.click("[data-mark=keys-in-the-round]")
    page.wait_for_selector(".bw-keys canvas")
    assert page.locator("[data-mark=key] option").count() == 21

    page.select_option("[data-mark=key]", "FS")
    assert "FC" in open_holes(page)
    before = len(sent)
    page.locator("[data-mark=swing]").evaluate(
        "slider => { slider.value = 100; slider.dispatchEvent(new Event('input')); }"
    )
    # Pressing FS opens its own hole, and by its crow's foot shuts FC.
    page.wait_for_function(
        "() => !document.querySelector('[data-mark=keys-reading]').textContent.includes(' FC')"
    )
    assert {"FS", "EB"} <= open_holes(page)
    turned = page.locator("[data-mark=turning]").get_attribute("transform")
    assert abs(float(turned.split("(")[1].split()[0])) > 10

    wait = moved(page)
    frames, draws = counted(page, "frames"), counted(page, "draws")
    page.click("[data-mark=swing-key]")
    wait()
    # What a frame costs, counted rather than timed: it is drawn once, the body, the holes' faces
    # and each key are one mesh each, and there are few triangles to lay.
    assert counted(page, "draws") - draws == counted(page, "frames") - frames > 1
    assert 0 < counted(page, "calls") <= 2 + 21
    assert 0 < counted(page, "triangles") < 30_000
    assert sum("swing" in str(text) for text in sent[before:]) == 0
    assert len(sent) - before < 12  # nothing but the connection's own signs of life

    page.click("[data-mark=keys-sheet]")
    with page.expect_download() as started:
        page.click("[data-mark=keys-sheet-file]")
    assert started.value.path().read_bytes().startswith(b"%PDF")

    table = read_fingerings(clarinet / "fingerings.csv")
    for name in ("E3", "C#5", "G4"):
        wait = moved(page)
        page.select_option("[data-mark=play-fingering]", name)
        wait()
        wanted = next(each for each in table.fingerings if each.name == name)
        assert open_holes(page) == set(wanted.open_holes), name

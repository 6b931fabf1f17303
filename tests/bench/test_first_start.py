"""From the first start to a fitted example and its downloaded STEP file."""

from __future__ import annotations

import pytest

pytestmark = pytest.mark.slow  # a server and a real browser each


def ready(page):
    """Wait until the Body view shows pitches."""
    page.wait_for_selector(".bw-note")


def test_example_fitted_and_downloaded(open_bench, page, tmp_path):
    bench = open_bench()
    page.goto(bench.url)
    page.click("[data-mark=begin-chalumeau]")
    ready(page)
    assert (bench.folder / "chalumeau.toml").exists()
    drawn = (bench.folder / "chalumeau.toml").read_text(encoding="utf-8")
    page.click("[data-mark=view-fit]")
    page.click("[data-mark=run-fit]")
    page.wait_for_selector("[data-mark=take-all]")
    assert (bench.folder / "chalumeau.toml").read_text(encoding="utf-8") == drawn
    page.click("[data-mark=take-all]")
    page.wait_for_selector("[data-mark=moves]", state="detached")
    fitted = (bench.folder / "chalumeau.toml").read_text(encoding="utf-8")
    assert fitted != drawn
    assert "# Left first finger." in fitted  # the owner's comments stay
    page.click("[data-mark=view-design]")
    ready(page)
    page.click("[data-mark=bodies]")
    page.click("[data-mark=make-bodies]")
    with page.expect_download() as started:
        page.click("[data-mark='file-body.step']")
    started.value.save_as(tmp_path / "got.step")
    text = (tmp_path / "got.step").read_text(encoding="utf-8", errors="replace")
    assert text.startswith("ISO-10303-21")
    page.wait_for_selector("[data-mark='file-body.stl']")


def test_own_files_by_upload_and_what_is_refused(open_bench, page, chalumeau, tmp_path):
    bench = open_bench(tmp_path / "empty")
    page.goto(bench.url)
    drop = page.locator("[data-mark=own-files]")
    drop.set_input_files({"name": "x.exe", "mimeType": "", "buffer": b"MZ"})
    page.wait_for_selector("text=only .toml .csv belong here")
    drop.set_input_files({"name": "big.csv", "mimeType": "", "buffer": b"a" * 5_000_001})
    page.wait_for_selector("text=larger than 5 MB")
    drop.set_input_files({"name": ".hidden.csv", "mimeType": "", "buffer": b"a"})
    page.wait_for_selector("text=does not belong to the open folder")
    assert [path.name for path in bench.folder.iterdir()] == [".bench"]
    drop.set_input_files([chalumeau / "fingerings.csv", chalumeau / "chalumeau.toml"])
    ready(page)


def test_a_malformed_file_gets_a_clear_word(open_bench, page, tmp_path):
    bench = open_bench(tmp_path / "empty")
    page.goto(bench.url)
    text = b"format = 1\n[instrument]\nname = 'x'\n[[part]]\nname = 3\n"
    page.locator("[data-mark=own-files]").set_input_files(
        {"name": "bad.toml", "mimeType": "", "buffer": text}
    )
    page.wait_for_function("document.querySelector('[data-mark=message]').innerText.length > 20")
    said = page.locator("[data-mark=message]").inner_text()
    assert "bad.toml" in said
    assert "name" in said


@pytest.mark.parametrize("host", ["0.0.0.0", "::"])
def test_another_address_needs_a_password(tmp_path, host):
    from typer.testing import CliRunner

    from borewright.cli import app

    done = CliRunner().invoke(app, ["bench", str(tmp_path / "new"), "--host", host, "--no-show"])
    assert done.exit_code == 2
    assert "can be reached from other machines. Set a password" in done.stderr
    assert not (tmp_path / "new").exists()

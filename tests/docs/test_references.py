"""Generated pages are up to date; README keeps its promises of form."""

import importlib.util
import re
from pathlib import Path

ROOT = Path(__file__).parents[2]


def _module(name):
    spec = importlib.util.spec_from_file_location(name, ROOT / "docs" / f"{name}.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_the_files_reference_is_that_of_the_model():
    reference = _module("make_files_reference")
    assert reference.PAGE.read_text(encoding="utf-8") == reference.page(), (
        "run: python docs/make_files_reference.py"
    )


def test_the_bounds_are_those_of_the_table():
    reference = _module("make_bounds_reference")
    assert reference.PAGE.read_text(encoding="utf-8") == reference.page(), (
        "run: python docs/make_bounds_reference.py"
    )


def test_every_picture_and_page_that_documents_name_exists():
    for page in [ROOT / "README.md", *(ROOT / "docs").glob("*.md")]:
        text = page.read_text(encoding="utf-8")
        for target in re.findall(r"\]\(([^)#:]+)\)", text):
            assert (page.parent / target).exists(), f"{page.name} names {target}"
        for target in re.findall(r"`(docs/[\w/.-]+)`", text):
            assert (ROOT / target).exists(), f"{page.name} names {target}"


def test_readme_states_the_whole_job_first_and_the_cautions():
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    first = text.split("\n\n")[1]
    for word in (
        "survey", "keywork", "bore", "blend", "twelfths", "chimneys", "undercuts", "STEP", "3MF",
        "drawings", "leak test", "recordings", "ream", "compares", "lots", "serials", "price",
    ):  # fmt: skip
        assert word in first
    for word in ("Fumes", "mask", "Nickel", "car in summer", "Mouth", "reamers", "Adhesives"):
        assert word in text.split("## Cautions")[1]

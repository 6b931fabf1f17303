"""Invented instruments to start from."""

from __future__ import annotations

from enum import StrEnum
from importlib.resources import files
from pathlib import Path

from borewright.errors import ModelError
from borewright.tasks.outputs import check_folder
from borewright.words import say


class Example(StrEnum):
    """The examples that come with the package; the value is what a person types."""

    CLARINET = "clarinet"
    CHALUMEAU = "chalumeau"
    WIDE_BORE = "wide-bore"


_FOLDERS = {
    Example.CLARINET: "loan-clarinet",
    Example.CHALUMEAU: "class-chalumeau",
    Example.WIDE_BORE: "wide-bore",
}


def copy_example(example: Example, folder: Path) -> list[Path]:
    """Copy an example's files into a folder, made if missing; the instrument comes first.

    Raises ModelError where a file of the same name is there already: then nothing is copied.
    """
    from borewright.model import write_bytes

    source = files("borewright") / "examples" / _FOLDERS[example]
    texts = {item.name: item.read_bytes() for item in source.iterdir() if item.is_file()}
    names = sorted(texts, key=lambda name: (not name.endswith(".toml"), name))
    check_folder(folder)
    for name in names:
        if (folder / name).exists() or (folder / name).is_symlink():
            raise ModelError(
                say("is there already, and examples never replace a file"),
                place=str(folder / name),
                remedy=say("Name another folder, or move that file away."),
            )
    for name in names:
        write_bytes(folder / name, texts[name])
    return [folder / name for name in names]

"""Draw the pictures of README and documentation again, with the tool itself.

Run by ``make docs-figures``; everything comes from the invented clarinet example.
"""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

import borewright
from borewright.acoustics.character import bore_perturbation
from borewright.documents import (
    character_chart,
    developed_drawing,
    keys_drawing,
    perturbation_chart,
    section_drawing,
    sensitivity_chart,
    tuning_chart,
    twelfths_chart,
)
from borewright.fit import fit
from borewright.model import read_fingerings, read_keys, read_survey
from borewright.model.keys import points_of
from borewright.tasks.keys_picture import shown_keys

PICTURES = Path(__file__).parent / "pictures"


def main() -> None:
    """Fit the example and draw it."""
    folder = Path(str(files("borewright"))) / "examples" / "loan-clarinet"
    instrument = borewright.load(folder / "clarinet.toml")
    fingerings = read_fingerings(folder / "fingerings.csv")
    read = read_keys(folder / "keys.csv")
    keywork = points_of(read, read_survey(folder / "keywork.csv"))
    fitted, result = fit(instrument, fingerings, keywork)
    PICTURES.mkdir(exist_ok=True)
    section_drawing(fitted, PICTURES / "section.png")
    developed_drawing(fitted, PICTURES / "developed.png")
    tuning_chart(result.before, result.after, PICTURES / "tuning.png")
    twelfths_chart(result.after, PICTURES / "twelfths.png")
    sensitivity_chart(borewright.sensitivity(fitted, fingerings), PICTURES / "sensitivity.png")
    character_chart(borewright.character(fitted, fingerings), PICTURES / "character.png")
    perturbation_chart(bore_perturbation(fitted, fingerings), PICTURES / "bore-curves.png")
    keys = shown_keys(instrument, read)
    keys_drawing(keys, PICTURES / "keys.png", width_mm=200.0)
    for picture in sorted(PICTURES.glob("*.png")):
        print(f"{picture.name}: {picture.stat().st_size / 1e3:.0f} kB")


if __name__ == "__main__":
    main()

"""Time and mass of the example's parts beside a general slicer's, in three layer heights.

Prints the manual's table. Usage: slicer.py [FOLDER]; needs make slicer, and some minutes.
"""

from __future__ import annotations

import sys
import tempfile
from importlib.resources import files
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tools"))

from slicing import slice_file

from borewright.printing import PRINTERS, estimate, material_named, plan_supports
from borewright.tasks.printing.printing import PrintWishes, print_file

LAYERS_MM = (0.12, 0.15, 0.2)


def main() -> None:
    example = Path(str(files("borewright") / "examples" / "loan-clarinet" / "clarinet.toml"))
    printer, pla = PRINTERS["tall frame"], material_named("plain PLA")
    with tempfile.TemporaryDirectory() as aside:
        folder = Path(sys.argv[1] if len(sys.argv) > 1 else aside)
        job = print_file(example, folder, PrintWishes(drawings=False))
        design = job.instrument
        supports = {
            one.part: plan_supports(design, design.part(one.part), one, printer)
            for one in job.standings
        }
        print("| part | layer | h | slicer h | off | g | slicer g |\n|---|---|---|---|---|---|---|")
        for part in job.solids.parts:
            for layer in LAYERS_MM:
                one = estimate([part], printer, pla, {part.part: layer}, supports).parts[0]
                found = slice_file(Path(part.three_mf), printer, layer, Path(aside))
                off, grams = one.hours / found.hours - 1, found.volume_cm3 * pla.density_g_cm3
                print(
                    f"| {part.part} | {layer:g} | {one.hours:.1f} | {found.hours:.1f} | "
                    f"{off:+.0%} | {one.mass_g:.0f} | {grams:.0f} |",
                    flush=True,
                )


if __name__ == "__main__":
    main()

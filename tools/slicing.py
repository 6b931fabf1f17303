"""A general slicer of Debian's, run on files for the printer: a tool of tests and benchmarks."""

from __future__ import annotations

import re
import shutil
import subprocess
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from borewright.printing import PrinterProfile

PROGRAM = "prusa-slicer"


@dataclass(frozen=True)
class Sliced:
    """What the slicer makes of a file: time (h), volume laid (cm³), and every bead.

    ``beads`` are straight ones (n, 6): x, y and z (mm) of both ends.
    """

    hours: float
    volume_cm3: float
    kinds: set[str]
    beads: np.ndarray


def _run(words: list[str]) -> str:
    if shutil.which(PROGRAM) is None:
        raise FileNotFoundError(f"{PROGRAM} is not installed: run make slicer")
    done = subprocess.run([PROGRAM, *words], capture_output=True, text=True, check=False)
    if done.returncode:
        raise RuntimeError(
            f"{PROGRAM} {' '.join(words)}: {done.stdout[-400:]} {done.stderr[-400:]}"
        )
    return done.stdout + done.stderr


def info(file: Path) -> dict[str, str]:
    """What the slicer says of a file's body: manifold or not, and what it would mend."""
    return dict(re.findall(r"^(\w+) *= *(.+?) *$", _run(["--info", str(file)]), re.MULTILINE))


def slice_file(file: Path, printer: PrinterProfile, layer_mm: float, folder: Path) -> Sliced:
    """Slice a 3MF where it stands, printed full at the profile's one speed; no support, no brim."""
    speed, (wide, deep, high) = f"{printer.speed_mm_s:g}", printer.build_mm
    settings = {
        "nozzle_diameter": f"{printer.nozzle_mm:g}", "filament_diameter": "1.75",
        "layer_height": f"{layer_mm:g}", "first_layer_height": f"{max(layer_mm, 0.2):g}",
        "perimeters": "4", "fill_density": "100%", "fill_pattern": "rectilinear",
        **{f"{what}_speed": speed for what in (
            "perimeter", "external_perimeter", "infill", "solid_infill", "top_solid_infill",
            "gap_fill", "bridge")},
        "support_material": "0", "brim_type": "no_brim", "skirts": "0",
        "bed_shape": f"0x0,{wide:g}x0,{wide:g}x{deep:g},0x{deep:g}",
        "max_print_height": f"{high:g}",
    }  # fmt: skip
    asked, code = folder / "settings.ini", folder / f"{file.stem}.gcode"
    asked.write_text("".join(f"{k} = {v}\n" for k, v in settings.items()), encoding="utf-8")
    _run(["--load", str(asked), "--dont-arrange", "--export-gcode", "-o", str(code), str(file)])
    text = code.read_text(encoding="utf-8")
    times = re.search(r"estimated printing time \(normal mode\) = (.+)", text)
    volume = re.search(r"filament used \[cm3\] = ([\d.]+)", text)
    assert times
    assert volume
    parts = dict.fromkeys("dhms", 0) | {
        u: int(n) for n, u in re.findall(r"(\d+)([dhms])", times[1])
    }
    hours = parts["d"] * 24 + parts["h"] + parts["m"] / 60 + parts["s"] / 3600
    kinds = set(re.findall(r"^;TYPE:(.+)$", text, re.MULTILINE)) - {"Custom"}
    return Sliced(hours, float(volume[1]), kinds, _beads(text))


def _beads(text: str) -> np.ndarray:
    """Moves that lay material, between the slicer's own first and last words."""
    x = y = z = 0.0
    laid, found = False, []
    for line in text.splitlines():
        if line.startswith(";TYPE:"):
            laid = line != ";TYPE:Custom"
        if not line.startswith("G1 "):
            continue
        words = {word[0]: float(word[1:]) for word in line.split(";")[0].split()[1:]}
        start = (x, y, z)
        x, y, z = words.get("X", x), words.get("Y", y), words.get("Z", z)
        if laid and "E" in words and ("X" in words or "Y" in words):
            found.append((*start, x, y, z))
    return np.array(found)

"""Files of every part: STEP for other shops, STL and 3MF for printers."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Callable
from pathlib import Path

from borewright.errors import SolidsError
from borewright.model import Instrument, SolidPart, SolidsReport
from borewright.solids._file_names import file_names
from borewright.solids.body import body_volume_mm3, part_body

#: Called before each part and once at the end: part name ("" at the end), parts done, of how many.
Progress = Callable[[str, int, int], None]


def export_solids(
    instrument: Instrument, folder: Path | str, progress: Progress | None = None
) -> SolidsReport:
    """Write STEP, STL and 3MF of every part, and report what was written.

    All files are built aside and moved into the folder at the end, so that a failure leaves
    the folder as it was. STL and 3MF hold the same triangles, at most 0.004 mm inside or
    outside the true surface (in chord). The solids stand as :func:`part_body` says.

    Parameters
    ----------
    instrument
        The instrument.
    folder
        Made if it does not exist; files of the same names are replaced.
    progress
        Called as ``progress(part_name, done, total)``.

    Raises
    ------
    SolidsError
        If a part cannot be made or a file cannot be written.
    """
    target = Path(folder)
    names = [part.name for part in instrument.parts]
    stems = file_names(names)
    try:
        target.mkdir(parents=True, exist_ok=True)
        # Beside the finished files, so that moving them is a rename on one file system.
        with tempfile.TemporaryDirectory(dir=target, prefix=".solids-") as aside:
            parts = []
            for done, (name, stem) in enumerate(zip(names, stems, strict=True)):
                if progress:
                    progress(name, done, len(names))
                parts.append(_write_part(instrument, name, Path(aside), target, stem))
            for file in sorted(Path(aside).iterdir()):
                os.replace(file, target / file.name)
    except OSError as error:
        raise SolidsError(
            f"cannot be written ({error.strerror or error})",
            place=str(target),
            remedy="Choose a folder that you may write to and that has room.",
        ) from error
    if progress:
        progress("", len(names), len(names))
    return SolidsReport(parts=parts)


def _write_part(
    instrument: Instrument, name: str, aside: Path, target: Path, stem: str
) -> SolidPart:
    from build123d import export_step

    from borewright.solids._mesh import meshed, stl_bytes
    from borewright.solids._three_mf import write_three_mf
    from borewright.solids.measure import read_mesh

    body = part_body(instrument, name)
    step, stl, three_mf = (f"{stem}.{ending}" for ending in ("step", "stl", "3mf"))
    try:
        export_step(body, aside / step)
    except RuntimeError as error:
        raise SolidsError(
            f"the kernel could not write the STEP file ({error})",
            place=f"part '{name}', {target / step}",
            remedy="Check that the folder may be written and has room.",
        ) from error
    title = f"{instrument.name} – {name}"
    mark = "Invented demonstration data. " if instrument.invented else ""
    mesh = meshed(body, f"part '{name}'")
    (aside / stl).write_bytes(stl_bytes(mesh, f"{instrument.name} - {name}"))
    write_three_mf(
        aside / three_mf,
        mesh,
        name,
        {
            "Title": title,
            "Description": f"{mark}Nominal dimensions, no print compensation.",
            "Application": "Borewright",
        },
    )
    size = body.bounding_box().size
    return SolidPart.model_validate(
        {
            "part": name,
            "step": str(target / step),
            "stl": str(target / stl),
            "3mf": str(target / three_mf),
            "volume_mm3": body_volume_mm3(body),
            "watertight": bool(read_mesh(aside / stl).is_watertight),
            "valid": bool(body.is_valid),
            "bounding_box_mm": tuple(round(float(side), 4) for side in (size.X, size.Y, size.Z)),
        }
    )

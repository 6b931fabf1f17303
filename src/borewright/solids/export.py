"""Files of every part: STEP for other shops, STL and 3MF for printers."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from borewright.errors import SolidsError
from borewright.model import Instrument, SolidPart, SolidsReport
from borewright.solids._file_names import file_names
from borewright.solids._mesh import Mesh
from borewright.solids.body import body_volume_mm3, part_body
from borewright.solids.placing import Layout, Placed
from borewright.solids.posts import PostPlan
from borewright.words import Place, Text, say

if TYPE_CHECKING:
    from build123d import Solid

    from borewright.keywork import Mechanism

#: Called before each part and once at the end: part name ("" at the end), parts done, of how many.
Progress = Callable[[str, int, int], None]

ASSEMBLY = "assembly.step"


@dataclass(frozen=True)
class Material:
    """What a 3MF file says of its material: a name, and a display colour (0 to 255 each)."""

    name: str
    colour: tuple[int, int, int] = (200, 170, 120)


def export_solids(
    instrument: Instrument,
    folder: Path | str,
    progress: Progress | None = None,
    *,
    posts: Sequence[PostPlan] = (),
    material: Material | None = None,
    note: str = "Nominal dimensions, no print compensation.",
    keys: Mechanism | None = None,
    left_out: Sequence[str] = (),
    layout: Layout | None = None,
    lifts_mm: Mapping[str, float] | None = None,
) -> SolidsReport:
    """Write STEP, STL and 3MF of every part, an assembly as STEP, and report what was written.

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
    posts
        Posts of the keywork, as :func:`plan_posts` gives them.
    material
        Written into the 3MF files.
    note
        What the 3MF files say of their dimensions.
    keys
        The keys in the assembly; without them pads stand as discs and posts as pins.
    left_out
        Parts that stand in the assembly and get no files of their own.
    layout
        How the 3MF files place each part, and which parts stand on one bed together; without it
        they lie as drawn. STEP and STL are as drawn in any case.
    lifts_mm
        Holes that are drawn longer one way than the other, as :func:`part_body` takes them.

    Raises
    ------
    SolidsError
        If a part cannot be made or a file cannot be written.
    """
    target = Path(folder)
    names = [part.name for part in instrument.parts]
    bodies = {}

    def make(name: str) -> Solid:
        if progress:
            progress(name, names.index(name), len(names))
        bodies[name] = part_body(instrument, name, posts, lifts_mm)
        return bodies[name]

    def whole(aside: Path, stems: Sequence[str]) -> str:
        for name in left_out:
            make(name)
        assembly = _file_beside(stems, ASSEMBLY)
        _write_assembly(instrument, bodies, posts, keys, aside / assembly, target)
        return str(target / assembly)

    written = [name for name in names if name not in left_out]
    report = _export(instrument, written, make, target, material, note, whole, layout)
    if progress:
        progress("", len(names), len(names))
    return report


def export_shapes(
    instrument: Instrument,
    shapes: Mapping[str, Solid],
    folder: Path | str,
    *,
    material: Material | None = None,
    note: str = "",
) -> SolidsReport:
    """Write tools of an instrument, jigs for instance, as :func:`export_solids` writes bodies.

    ``shapes`` holds them by name; there is no assembly. Raises SolidsError as that does.
    """
    names = list(shapes)
    return _export(instrument, names, shapes.__getitem__, Path(folder), material, note, None)


def _export(
    instrument: Instrument,
    names: list[str],
    make: Callable[[str], Solid],
    target: Path,
    material: Material | None,
    note: str,
    whole: Callable[[Path, Sequence[str]], str] | None,
    layout: Layout | None = None,
) -> SolidsReport:
    stems = file_names(names)
    try:
        target.mkdir(parents=True, exist_ok=True)
        # Beside the finished files, so that moving them is a rename on one file system.
        with tempfile.TemporaryDirectory(dir=target, prefix=".solids-") as aside:
            writer = _Writer(instrument, Path(aside), target, material, note, layout)
            parts = [
                writer.part(name, make(name), stem) for name, stem in zip(names, stems, strict=True)
            ]
            assembly = whole(Path(aside), stems) if whole else ""
            beds = writer.beds(stems)
            for file in sorted(Path(aside).iterdir()):
                os.replace(file, target / file.name)
    except OSError as error:
        raise SolidsError(
            say("cannot be written ({why})", why=error.strerror or str(error)),
            place=str(target),
            remedy=say("Choose a folder that you may write to and that has room."),
        ) from error
    return SolidsReport(parts=parts, assembly=assembly, beds=beds)


def _file_beside(stems: Sequence[str], name: str) -> str:
    """The name, unless a part's files carry it already."""
    return f"whole-{name}" if Path(name).stem in {stem.casefold() for stem in stems} else name


def _write_assembly(
    instrument: Instrument,
    bodies: dict[str, Solid],
    posts: Sequence[PostPlan],
    keys: Mechanism | None,
    path: Path,
    target: Path,
) -> None:
    from borewright.solids.assembly import assembled

    _step(assembled(instrument, bodies, posts, keys), path, str(target / path.name))


def _step(shape: object, path: Path, place: Text | Place) -> None:
    from build123d import export_step

    try:
        export_step(shape, path)
    except RuntimeError as error:
        raise SolidsError(
            say("the kernel could not write the STEP file ({why})", why=str(error)),
            place=place,
            remedy=say("Check that the folder may be written and has room."),
        ) from error


@dataclass(frozen=True)
class _Writer:
    """Writes the files of one part after the other, aside, as they will be named in target."""

    instrument: Instrument
    aside: Path
    target: Path
    material: Material | None
    note: str
    layout: Layout | None = None
    meshes: dict[str, Mesh] = field(default_factory=dict)

    def part(self, name: str, body: Solid, stem: str) -> SolidPart:
        from borewright.solids._mesh import meshed, stl_bytes
        from borewright.solids.measure import read_mesh

        step, stl, three_mf = (f"{stem}.{ending}" for ending in ("step", "stl", "3mf"))
        place = say("part '{part}'", part=name)
        _step(body, self.aside / step, (place, str(self.target / step)))
        mesh = meshed(body, place)
        (self.aside / stl).write_bytes(stl_bytes(mesh, f"{self.instrument.name} - {name}"))
        self.meshes[name] = mesh
        placed = self.layout.of(name) if self.layout else None
        self._three_mf(three_mf, name, [self._body(name, placed)])
        size = body.bounding_box().size
        return SolidPart.model_validate(
            {
                "part": name,
                "step": str(self.target / step),
                "stl": str(self.target / stl),
                "3mf": str(self.target / three_mf),
                "volume_mm3": body_volume_mm3(body),
                "watertight": bool(read_mesh(self.aside / stl).is_watertight),
                "valid": bool(body.is_valid),
                "bounding_box_mm": tuple(
                    round(float(side), 4) for side in (size.X, size.Y, size.Z)
                ),
            }
        )

    def beds(self, stems: Sequence[str]) -> list[str]:
        """Write the files of several parts on one bed; returns their paths once in place."""
        made = []
        for bed in self.layout.beds if self.layout else ():
            file = _file_beside(stems, f"{bed.name}.3mf")
            bodies = [self._body(one.part, one) for one in bed.places]
            self._three_mf(file, ", ".join(one.part for one in bed.places), bodies)
            made.append(str(self.target / file))
        return made

    def _body(self, name: str, placed: Placed | None) -> tuple[str, Mesh, Placed | None]:
        """A part's mesh with what carries it: one object, so that no slicer parts them."""
        from borewright.solids.supports import with_supports

        planned = self.layout.supports.get(name, []) if self.layout else []
        mesh = self.meshes[name]
        if placed and planned:
            mesh = with_supports(mesh, planned, turned=placed.turned)
        return name, mesh, placed

    def _three_mf(
        self, file: str, what: str, bodies: Sequence[tuple[str, Mesh, Placed | None]]
    ) -> None:
        from borewright.solids._three_mf import write_three_mf

        mark = "Invented demonstration data. " if self.instrument.invented else ""
        notes = [self.layout.notes.get(name, "") for name, _, _ in bodies] if self.layout else []
        told = " ".join([f"{mark}{self.note}", *dict.fromkeys(note for note in notes if note)])
        write_three_mf(
            self.aside / file,
            bodies,
            {
                "Title": f"{self.instrument.name} – {what}",
                "Description": told,
                "Application": "Borewright",
            },
            (self.material.name, self.material.colour) if self.material else None,
        )

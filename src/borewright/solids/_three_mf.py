"""A mesh as 3MF: millimetres, part name, and where it comes from."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from borewright.errors import SolidsError
from borewright.solids._mesh import Mesh
from borewright.solids.placing import Placed
from borewright.words import say


def write_three_mf(
    path: Path,
    bodies: Sequence[tuple[str, Mesh, Placed | None]],
    marking: dict[str, str],
    material: tuple[str, tuple[int, int, int]] | None = None,
) -> None:
    """Write meshes as one 3MF file (3MF Core Specification 1.3), each named and placed.

    A body without a place lies as it is drawn; one with a place stands on the bed, which is the
    plane z = 0.

    ``marking`` is the file's metadata; of its names, ``Title``, ``Designer``,
    ``Description``, ``Copyright``, ``LicenseTerms``, ``Rating``, ``CreationDate``,
    ``ModificationDate`` and ``Application`` are the specification's own. ``material`` is a
    name and a display colour (red, green, blue from 0 to 255).
    """
    import lib3mf

    wrapper = lib3mf.get_wrapper()
    try:
        model = wrapper.CreateModel()
        model.SetUnit(lib3mf.ModelUnit.MilliMeter)
        group = model.AddBaseMaterialGroup() if material else None
        for part_name, mesh, placed in bodies:
            body = model.AddMeshObject()
            body.SetName(part_name)
            # Whole arrays at once: an object a point took longer than all the rest of the file.
            count, of = len(mesh.vertices), len(mesh.triangles)
            vertices = (lib3mf.Position * count).from_buffer_copy(mesh.vertices.astype("<f4"))
            triangles = (lib3mf.Triangle * of).from_buffer_copy(mesh.triangles.astype("<u4"))
            body.SetGeometry(vertices, triangles)
            if not body.IsManifoldAndOriented():
                raise SolidsError(
                    say("the triangles do not close to one body"),
                    place=say("part '{part}'", part=part_name),
                    remedy=say(
                        "Move the feature nearest to an edge or a step by 0.05 mm and try again."
                    ),
                )
            if group and material:
                number = group.AddMaterial(material[0], wrapper.RGBAToColor(*material[1], 255))
                body.SetObjectLevelProperty(group.GetResourceID(), number)
            transform = wrapper.GetIdentityTransform()
            if placed:
                for row, figures in enumerate(_standing(mesh, placed)):
                    for column, figure in enumerate(figures):
                        transform.Fields[row][column] = figure
            model.AddBuildItem(body, transform).SetPartNumber(part_name)
        notes = model.GetMetaDataGroup()
        for name, value in marking.items():
            notes.AddMetaData("", name, value, "xs:string", True)
        model.QueryWriter("3mf").WriteToFile(str(path))
    except lib3mf.ELib3MFException as error:
        raise SolidsError(
            say("the 3MF file could not be written ({why})", why=str(error)),
            place=path.name,
            remedy=say("Check that the folder may be written and has room."),
        ) from error


def _standing(mesh: Mesh, placed: Placed) -> list[tuple[float, float, float]]:
    """Rows of the transform (3MF multiplies points from the left): end down, on the bed."""
    heights = mesh.vertices[:, 2]
    if placed.turned:
        # Half a turn about x: the bottom end comes down, front and back change places.
        low = float(heights.max())
        return [(1, 0, 0), (0, -1, 0), (0, 0, -1), (placed.x_mm, placed.y_mm, low)]
    low = -float(heights.min())
    return [(1, 0, 0), (0, 1, 0), (0, 0, 1), (placed.x_mm, placed.y_mm, low)]

"""A mesh as 3MF: millimetres, part name, and where it comes from."""

from __future__ import annotations

from pathlib import Path

from borewright.errors import SolidsError
from borewright.solids._mesh import Mesh
from borewright.words import say


def write_three_mf(
    path: Path,
    mesh: Mesh,
    part_name: str,
    marking: dict[str, str],
    material: tuple[str, tuple[int, int, int]] | None = None,
) -> None:
    """Write a mesh as a 3MF file (3MF Core Specification 1.3).

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
        body = model.AddMeshObject()
        body.SetName(part_name)
        vertices = [lib3mf.Position(tuple(point)) for point in mesh.vertices.tolist()]
        triangles = [lib3mf.Triangle(tuple(corners)) for corners in mesh.triangles.tolist()]
        body.SetGeometry(vertices, triangles)
        if not body.IsManifoldAndOriented():
            raise SolidsError(
                say("the triangles do not close to one body"),
                place=say("part '{part}'", part=part_name),
                remedy=say(
                    "Move the feature nearest to an edge or a step by 0.05 mm and try again."
                ),
            )
        if material:
            group = model.AddBaseMaterialGroup()
            number = group.AddMaterial(material[0], wrapper.RGBAToColor(*material[1], 255))
            body.SetObjectLevelProperty(group.GetResourceID(), number)
        model.AddBuildItem(body, wrapper.GetIdentityTransform()).SetPartNumber(part_name)
        notes = model.GetMetaDataGroup()
        for name, value in marking.items():
            notes.AddMetaData("", name, value, "xs:string", True)
        model.QueryWriter("3mf").WriteToFile(str(path))
    except lib3mf.ELib3MFException as error:
        raise SolidsError(
            say("the 3MF file could not be written ({why})", why=str(error)),
            place=(say("part '{part}'", part=part_name), path.name),
            remedy=say("Check that the folder may be written and has room."),
        ) from error

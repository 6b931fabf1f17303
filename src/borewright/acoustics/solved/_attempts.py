"""Kernel and mesher fail now and then: a solution on the first mesh that is sound."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

from borewright.acoustics.solved._air import AirSolid
from borewright.acoustics.solved._meshing import mesh_of
from borewright.acoustics.solved.mesh_detail import MeshDetail
from borewright.acoustics.solved.shape import HoleShape
from borewright.errors import AcousticsError, cause_of
from borewright.words import Text, say

#: Sizes and growth are tried smaller, by these factors, where there is no way with larger ones.
_FACTORS = (1.0, 0.8, 0.63, 0.5, 0.4)
#: Share of a volume that mesh and quadrature may differ by before the solid is thought broken.
_VOLUME_SHARE = 1e-3

Solution = TypeVar("Solution")


def on_sound_mesh(
    make_air: Callable[[], AirSolid],
    solve: Callable[[Any], Solution],
    shape: HoleShape,
    detail: MeshDetail,
    *,
    volume_mm3: float | None,
) -> Solution:
    """Make the air, mesh it and solve on the mesh.

    Parameters
    ----------
    make_air
        Makes the solid.
    solve
        What to do with the mesh; it may fail too, on kinds of graded elements that NGSolve
        does not have.
    shape, detail
        The hole, and the sizes to begin with.
    volume_mm3
        What the mesh has to hold. None: what the kernel says that its solid holds, which
        tells whether the mesh is whole but not whether the solid is right.

    Raises
    ------
    AcousticsError
        If all attempts fail.
    """
    import ngsolve

    last: Exception | None = None
    try:
        air = make_air()
        wanted = float(air.solid.mass) if volume_mm3 is None else volume_mm3
    except Exception as error:  # the kernel's failures share no base class
        raise _refusal(say("the kernel could not make it: {why}", why=str(error))) from error
    for factor in _FACTORS:
        try:
            mesh = mesh_of(air, shape, detail, factor)
            found = float(ngsolve.Integrate(1.0, mesh, order=10))
            if abs(found - wanted) > _VOLUME_SHARE * wanted:
                raise AcousticsError(
                    say(
                        "the mesh holds {found_mm3:.1f} mm³ of air instead of {wanted_mm3:.1f}",
                        found_mm3=found,
                        wanted_mm3=wanted,
                    ),
                    remedy=say(
                        "Move what stands close apart by a tenth of a millimetre, "
                        "or use closed forms."
                    ),
                )
            return solve(mesh)
        except MemoryError as error:  # a finer mesh would want still more
            raise _refusal(say("there is not enough memory for its mesh")) from error
        except Exception as error:  # mesher and solver share no base class either
            last = error
    assert last is not None
    raise _refusal(cause_of(last)) from last


def _refusal(cause: Text) -> AcousticsError:
    return AcousticsError(
        say("the air of this hole could not be meshed ({reason})", reason=cause),
        place=say("hole shape"),
        remedy=say("Change a size by a hundredth of a millimetre, or ask for another mesh."),
    )

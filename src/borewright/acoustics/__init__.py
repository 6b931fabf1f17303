"""Physics of the air column: impedance, resonances, tuning and their exact derivatives.

Pure functions over arrays, in double precision, batched over fingerings and differentiable
in every dimension. This room knows no files, no CAD and no screen.
"""

from borewright.acoustics import compilation as _compilation

_compilation.configure()

from borewright.acoustics.climates import (  # noqa: E402
    climate_tables,
    parameter_effects,
    warm_up,
)
from borewright.acoustics.error_bars import error_bars, virtual_builds  # noqa: E402
from borewright.acoustics.impedance import input_impedance, resonances  # noqa: E402
from borewright.acoustics.options import Air  # noqa: E402
from borewright.acoustics.sensitivity import sensitivity  # noqa: E402
from borewright.acoustics.tuning import tuning  # noqa: E402

__all__ = [
    "Air",
    "climate_tables",
    "error_bars",
    "input_impedance",
    "parameter_effects",
    "resonances",
    "sensitivity",
    "tuning",
    "virtual_builds",
    "warm_up",
]

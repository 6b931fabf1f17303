"""Physics of the air column: impedance, resonances, tuning and their exact derivatives.

Pure functions over arrays, in double precision, batched over fingerings and differentiable
in every dimension. This room knows no files, no CAD and no screen.
"""

from borewright.acoustics import compilation as _compilation
from borewright.listing import names

_compilation.configure()

from borewright.acoustics.climates import climate_tables as climate_tables  # noqa: E402
from borewright.acoustics.climates import parameter_effects as parameter_effects  # noqa: E402
from borewright.acoustics.climates import warm_up as warm_up  # noqa: E402
from borewright.acoustics.error_bars import error_bars as error_bars  # noqa: E402
from borewright.acoustics.error_bars import virtual_builds as virtual_builds  # noqa: E402
from borewright.acoustics.impedance import input_impedance as input_impedance  # noqa: E402
from borewright.acoustics.impedance import resonances as resonances  # noqa: E402
from borewright.acoustics.options import Air as Air  # noqa: E402
from borewright.acoustics.sensitivity import sensitivity as sensitivity  # noqa: E402
from borewright.acoustics.tuning import tuning as tuning  # noqa: E402

__all__ = names(__file__)

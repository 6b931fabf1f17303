"""The commands ``borewright bore …``, ``borewright barrels`` and ``borewright bells``.

Only light modules are loaded here; a command loads its rooms in its body.
"""

from borewright.doors.bores.commands import app as app
from borewright.doors.bores.commands import products as products
from borewright.listing import names

__all__ = names(__file__)

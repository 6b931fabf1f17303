"""The commands ``borewright bore …``, ``borewright barrels`` and ``borewright bells``.

Only light modules are loaded here; a command loads its rooms in its body.
"""

from borewright.doors.bores.commands import app, products

__all__ = ["app", "products"]

"""The commands of the bench with the printer: ``print``, ``coupon`` and ``drawings``.

Only light modules are loaded here; a command loads its rooms in its body.
"""

from __future__ import annotations

from borewright.doors.printing.commands import app as app
from borewright.listing import names

__all__ = names(__file__)

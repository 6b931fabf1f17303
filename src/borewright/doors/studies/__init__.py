"""``borewright yield``, ``batch-fit``, ``siblings`` and ``try-bores``."""

from borewright.doors.studies.searching import app as app
from borewright.listing import names

__all__ = names(__file__)

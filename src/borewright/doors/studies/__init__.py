"""``borewright yield``: what a batch will be like."""

from borewright.doors.studies.commands import app as app
from borewright.listing import names

__all__ = names(__file__)

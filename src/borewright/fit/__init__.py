"""Which dimensions may move, within what limits, towards which targets; and why not further.

Knows no CAD and no screen.
"""

from borewright.fit.checks import body_findings as body_findings
from borewright.fit.fitting import fit as fit
from borewright.listing import names

__all__ = names(__file__)

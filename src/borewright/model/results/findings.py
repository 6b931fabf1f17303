"""What the checks of ``fit``, ``solids`` and ``printing`` notice."""

from __future__ import annotations

from borewright.model.base import Entity
from borewright.model.kinds import Severity
from borewright.words import Said, Where


class Finding(Entity):
    """Something the checks noticed: where, what, and what to do."""

    severity: Severity
    place: Where
    what: Said
    remedy: Said

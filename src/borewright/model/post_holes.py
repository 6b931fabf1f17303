"""How wide a post's hole takes the body away."""

from __future__ import annotations

import itertools

from borewright.model.body_features import BodyFeatures
from borewright.model.kinds import PostHole

#: Clearance holes of the medium series, thread and hole (mm): ISO 273:1979.
ISO_273_MEDIUM_MM = ((1.6, 1.8), (2.0, 2.4), (2.5, 2.9), (3.0, 3.4), (4.0, 4.5), (5.0, 5.5))


def clearance_diameter_mm(thread_mm: float) -> float:
    """Diameter (mm) of a clearance hole: the standard's, on a line between its threads.

    Beyond the table the nearest thread's own clearance is kept.
    """
    table = ISO_273_MEDIUM_MM
    if thread_mm <= table[0][0] or thread_mm >= table[-1][0]:
        thread, hole = table[0] if thread_mm <= table[0][0] else table[-1]
        return thread_mm + hole - thread
    for (t0, h0), (t1, h1) in itertools.pairwise(table):
        if thread_mm <= t1:
            return h0 + (h1 - h0) * (thread_mm - t0) / (t1 - t0)
    raise AssertionError(thread_mm)


def taken_diameter_mm(body: BodyFeatures, thread_mm: float) -> float:
    """Diameter (mm) of body that a post takes; 0 where posts have no holes.

    A shank cuts its thread out to its full diameter; an insert or a bond needs a wider hole.
    """
    return {
        PostHole.PILOT: thread_mm,
        PostHole.INSERT: thread_mm + body.insert_over_mm,
        PostHole.BONDED: clearance_diameter_mm(thread_mm),
        PostHole.NONE: 0.0,
    }[body.post_hole]

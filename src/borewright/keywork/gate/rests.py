"""Thumb rests against holes and posts."""

from __future__ import annotations

import math

from borewright.keywork.body import Body
from borewright.keywork.gate.checks import Check, KeyFinding
from borewright.model import Severity
from borewright.words import say


def rest_findings(body: Body) -> list[KeyFinding]:
    """A thumb rest over a hole, or so near that its flat cuts the rim."""
    findings = []
    for part in body.instrument.parts:
        rest = part.thumb_rest
        if rest is None:
            continue
        for hole in part.holes:
            rim = body.rims[hole.name]
            turn = math.radians((hole.bearing_deg - rest.bearing_deg + 180) % 360 - 180)
            across = abs(rim.height_mm * math.sin(turn))
            if math.cos(turn) <= 0:
                continue
            along = abs(hole.station_mm - rest.station_mm)
            beside = max(along - rest.length_mm / 2, 0.0), max(across - rest.width_mm / 2, 0.0)
            air = math.hypot(*beside) - hole.diameter_mm / 2 - rim.wall_mm
            if air < 0.5:
                findings.append(
                    KeyFinding(
                        severity=Severity.FAULT,
                        place=(part.name, say("thumb rest")),
                        what=say(
                            "it stands {air_mm:.2f} mm from the rim of hole '{hole}'; "
                            "0.5 mm is needed",
                            air_mm=air,
                            hole=hole.name,
                        )
                        if air > 0
                        else say("it stands over hole '{hole}'", hole=hole.name),
                        remedy=say("Move the thumb rest along or round the body."),
                        check=Check.THUMB_REST,
                        elements=("thumb rest", hole.name),
                        value=air,
                        limit=0.5,
                    )
                )
    return findings

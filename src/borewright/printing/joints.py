"""Tenons in their sockets: whether each joint has the play of its class of fit."""

from __future__ import annotations

import itertools

from borewright.model import Clearance, Finding, Instrument, Part, Severity, Socket, Tenon
from borewright.words import say

#: Sizes are typed in hundredths, so a range ends a hair beyond its figure (mm).
_HAIR_MM = 0.005
#: Looser than its range by more than this, a joint wobbles on any cork (mm; from memory).
_LOOSE_MM = 0.5
_FITS = {
    Clearance.CORK: say("a cork fit"),
    Clearance.SLIP: say("a slip fit"),
    Clearance.O_RING: say("an o-ring fit"),
}


def joint_findings(instrument: Instrument) -> list[Finding]:
    """Joints whose play is outside the usual range of the tenon's class of fit.

    Notices, not faults, unless it wobbles: who fits cork of another thickness knows why. The
    ranges are those of ``Clearance.range_mm``.
    """
    findings = []
    for upper, lower in itertools.pairwise(instrument.parts):
        if upper.tenon_bottom and lower.socket_top:
            findings += _fit(upper, upper.tenon_bottom, lower, lower.socket_top)
        if lower.tenon_top and upper.socket_bottom:
            findings += _fit(lower, lower.tenon_top, upper, upper.socket_bottom)
    return findings


def _fit(male: Part, tenon: Tenon, female: Part, socket: Socket) -> list[Finding]:
    least, most = tenon.clearance_class.range_mm
    play = socket.diameter_mm - tenon.diameter_mm
    if least - _HAIR_MM <= play <= most + _HAIR_MM:
        return []
    wanted = socket.diameter_mm - (least + most) / 2
    return [
        Finding(
            severity=Severity.FAULT if play > most + _LOOSE_MM else Severity.NOTICE,
            place=(say("part '{part}'", part=male.name), say("tenon")),
            what=say(
                "the tenon has {play_mm:.2f} mm of play in the socket of '{part}'; "
                "{fit} usually has {least_mm:g} to {most_mm:g} mm",
                play_mm=play,
                part=female.name,
                fit=_FITS[tenon.clearance_class],
                least_mm=least,
                most_mm=most,
            ),
            remedy=say(
                "Make the tenon {wanted_mm:.2f} mm across, or name another clearance.",
                wanted_mm=wanted,
            ),
        )
    ]

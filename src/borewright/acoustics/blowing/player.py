"""How it is blown: breath, lip and reed, as a player sets them."""

from __future__ import annotations

from typing import NamedTuple

from borewright.acoustics.blowing.reed import ReedModel
from borewright.errors import AcousticsError
from borewright.model import Instrument
from borewright.words import Message, say

#: Name, lowest and highest value, and what the number is.
_RANGES = (
    ("pressure", 0.05, 0.98, say("mouth pressure over the pressure that closes the reed")),
    ("embouchure", 0.02, 1.0, say("flow through the slit over what the bore can carry")),
    ("closing_kpa", 0.5, 30.0, say("kPa that close the reed")),
    ("distance_m", 0.2, 20.0, say("metres")),
    ("contact_stiffness", 10.0, 1000.0, say("in stiffnesses of the reed")),
    ("contact_damping", 0.0, 3.0, say("in critical dampings")),
)


class Blowing(NamedTuple):
    """One way of blowing.

    Parameters
    ----------
    pressure
        Mouth pressure over closing pressure (gamma): a lossless tube speaks from 1/3 on, and
        from 1/2 on the reed beats against the lay.
    embouchure
        Flow through the open slit over what the bore can carry (zeta): width times opening
        times sqrt(2 / (density closing pressure)) times characteristic impedance. A lip that
        halves the opening halves the closing pressure, too, and lowers this by sqrt 2. Players
        use about 0.1 to 0.4 (from memory).
    closing_kpa
        Closing pressure; 4 to 10 kPa for clarinet reeds (from memory). It sets the loudness,
        and nothing else.
    distance_m
        Distance of the listener.
    contact_stiffness, contact_damping
        Of the lay, see :class:`borewright.acoustics.blowing.reed.ReedModel`.
    reed_hz, reed_damping
        In place of the instrument's own reed.
    """

    pressure: float = 0.5
    embouchure: float = 0.3
    closing_kpa: float = 7.0
    distance_m: float = 1.0
    contact_stiffness: float = 100.0
    contact_damping: float = 1.0
    reed_hz: float | None = None
    reed_damping: float | None = None

    def checked(self) -> Blowing:
        """Raise AcousticsError for a number that no player or reed has."""
        for name, low, high, what in _RANGES:
            _check(name, getattr(self, name), low, high, what)
        if self.reed_hz is not None:
            _check("reed_hz", self.reed_hz, 300.0, 50_000.0, say("Hz"))
        if self.reed_damping is not None:
            _check("reed_damping", self.reed_damping, 0.02, 5.0, say("damping, 1 over quality"))
        return self

    def reed_of(self, instrument: Instrument) -> ReedModel:
        """The reed that is blown; AcousticsError where there is none."""
        own = instrument.reed
        hz = self.reed_hz if self.reed_hz is not None else own.resonance_hz if own else None
        damping = self.reed_damping
        if damping is None and own is not None:
            damping = own.damping
        if hz is None or damping is None:
            raise AcousticsError(
                say(
                    "'{instrument}' has no reed, so it cannot be blown", instrument=instrument.name
                ),
                place="[reed]",
                remedy=say("Write a table [reed] into the instrument's file."),
            )
        _check("resonance_hz", hz, 300.0, 50_000.0, say("Hz"), place="[reed]")
        return ReedModel(hz, damping, self.contact_stiffness, self.contact_damping)

    def described(self, reed: ReedModel) -> Message:
        """One line that traces how a figure was blown."""
        return say(
            "pressure {pressure:g} of closing ({mouth_kpa:.1f} of {closing_kpa:g} kPa), "
            "embouchure {embouchure:g}, reed {reed_hz:g} Hz, damping {damping:g}",
            pressure=self.pressure,
            mouth_kpa=self.pressure * self.closing_kpa,
            closing_kpa=self.closing_kpa,
            embouchure=self.embouchure,
            reed_hz=reed.resonance_hz,
            damping=reed.damping,
        )


def _check(
    name: str, value: float, low: float, high: float, what: Message, place: str = "blowing"
) -> None:
    if not low <= value <= high:
        raise AcousticsError(
            say("{name} is {value:g}", name=name, value=value),
            place=place,
            remedy=say("Give {low:g} to {high:g} ({what}).", low=low, high=high, what=what),
        )

"""What is proved: every check of an instrument, and its sign-off."""

from __future__ import annotations

from borewright.ledger.fields import Field, Kind, RecordKind
from borewright.ledger.kinds.buying import NOTE

#: Checks that an instrument must pass, in the order of the bench; then somebody signs it off.
NEEDED_CHECKS = ("bore", "cork fit", "leak", "springs", "lifts", "tuning")
SIGN_OFF = "sign-off"

PROVING = (
    RecordKind(
        "check",
        "checks of instruments",
        (
            Field("instrument", Kind.LINK, "the instrument", required=True, link="instrument"),
            Field("subject", Kind.CHOICE, "the check", True, choices=(*NEEDED_CHECKS, SIGN_OFF)),
            Field("feature", Kind.TEXT, "which joint, station, key or note"),
            Field("value", Kind.FIGURE, "the reading"),
            Field("unit", Kind.TEXT, "its unit"),
            Field("lowest", Kind.FIGURE, "the least allowed"),
            Field("highest", Kind.FIGURE, "the most allowed"),
            Field("passed", Kind.YES_NO, "whether it passed", required=True),
            Field("temperature_c", Kind.FIGURE, "air temperature in °C"),
            Field("gauge", Kind.TEXT, "what it was measured with"),
            Field("who", Kind.TEXT, "who checked", required=True),
            Field("day", Kind.DAY, "when"),
            NOTE,
        ),
    ),
)

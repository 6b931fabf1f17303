"""What is proved: every check of an instrument, its sign-off, and the certificates issued."""

from __future__ import annotations

from datetime import date
from typing import Annotated

from borewright.ledger.record import Is, Note, Record, record
from borewright.words import Choice, say, say_as


class Subject(Choice):
    """What is checked, in the order of the bench; last, somebody signs the instrument off."""

    BORE = "bore", say_as("check", "bore")
    CORK_FIT = "cork fit", say_as("check", "cork fit")
    LEAK = "leak", say_as("check", "leak")
    SPRINGS = "springs", say_as("check", "springs")
    LIFTS = "lifts", say_as("check", "lifts")
    TUNING = "tuning", say_as("check", "tuning")
    SIGN_OFF = "sign-off", say_as("check", "sign-off")


SIGN_OFF = Subject.SIGN_OFF
#: Checks that an instrument must pass.
NEEDED_CHECKS = tuple(subject for subject in Subject if subject is not SIGN_OFF)


@record("check", say_as("record", "check"), say("checks of instruments"))
class Check(Record):
    """One reading or look at an instrument, or its sign-off."""

    instrument: Annotated[str, Is(say("the instrument"), link="instrument")]
    subject: Annotated[Subject, Is(say("the check"))]
    feature: Annotated[str | None, Is(say("which joint, station, key or note"))] = None
    value: Annotated[float | None, Is(say("the reading"))] = None
    unit: Annotated[str | None, Is(say("its unit"))] = None
    lowest: Annotated[float | None, Is(say("the least allowed"))] = None
    highest: Annotated[float | None, Is(say("the most allowed"))] = None
    passed: Annotated[bool, Is(say("whether it passed"))]
    temperature_c: Annotated[float | None, Is(say("air temperature in °C"), bounds="check_c")] = (
        None
    )
    gauge: Annotated[str | None, Is(say("what it was measured with"))] = None
    who: Annotated[str, Is(say("who checked"))]
    day: Annotated[date | None, Is(say("when"))] = None
    note: Note = None


@record("certificate", say_as("record", "certificate"), say("certificates issued"))
class IssuedCertificate(Record):
    """A certificate that left the workshop; whether it still holds is never kept, but asked."""

    instrument: Annotated[str, Is(say("the instrument"), link="instrument")]
    sign_off: Annotated[str, Is(say("the sign-off it rests on"), link="check")]
    digest: Annotated[str, Is(say("SHA-256 of what it says"))]
    day: Annotated[date, Is(say("the day it was issued"))]
    who: Annotated[str, Is(say("who issued it"))]
    note: Note = None


PROVING: tuple[type[Record], ...] = (Check, IssuedCertificate)

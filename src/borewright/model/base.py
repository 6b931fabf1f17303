"""What every class of the model shares: strict fields, finite numbers, printable names."""

from __future__ import annotations

import math
from typing import Annotated, Any

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Field

from borewright.errors import RefusedValue
from borewright.words import say

NUMBER_WANTED = say("Write a number such as 12.5.")


def _number(value: Any) -> Any:
    # pydantic would read true as 1.0: a slip in a file, never a measure.
    if isinstance(value, bool):
        raise RefusedValue(
            say("'{found}' is not a number", found=str(value).lower()), NUMBER_WANTED
        )
    if isinstance(value, float) and not math.isfinite(value):
        raise RefusedValue(say("{value} is not a finite number", value=str(value)), NUMBER_WANTED)
    return value


def printable(name: str) -> str:
    """The name, if a person can read it; RefusedValue for blanks and control characters."""
    if not name.strip() or not name.isprintable():
        raise RefusedValue(
            say("the name {name} cannot be read", name=repr(name)),
            say("Use letters, digits and spaces."),
        )
    return name


def _one_word(name: str) -> str:
    if any(character.isspace() or character in ",;" for character in name):
        raise RefusedValue(
            say(
                "the hole name '{name}' holds a space or a comma, but fingerings list holes as "
                "single words",
                name=name,
            ),
            say("Join its words, as in L2 or side_1."),
        )
    return name


Finite = Annotated[float, BeforeValidator(_number), Field(allow_inf_nan=False)]
Positive = Annotated[float, BeforeValidator(_number), Field(gt=0, allow_inf_nan=False)]
NotNegative = Annotated[float, BeforeValidator(_number), Field(ge=0, allow_inf_nan=False)]
Name = Annotated[str, Field(min_length=1, max_length=60), AfterValidator(printable)]
HoleName = Annotated[
    str, Field(min_length=1, max_length=40), AfterValidator(printable), AfterValidator(_one_word)
]


class Entity(BaseModel):
    """A frozen record: unknown keys are refused, so that a typing slip is noticed."""

    model_config = ConfigDict(extra="forbid", frozen=True)

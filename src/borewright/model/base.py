"""What every class of the model shares: strict fields, finite numbers, printable names."""

from __future__ import annotations

import math
from typing import Annotated, Any

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Field


def _number(value: Any) -> Any:
    # pydantic would read true as 1.0: a slip in a file, never a measure.
    if isinstance(value, bool):
        raise ValueError(f"'{str(value).lower()}' is not a number. Write a number such as 12.5")
    if isinstance(value, float) and not math.isfinite(value):
        raise ValueError(f"{value} is not a finite number. Write a number such as 12.5")
    return value


def printable(name: str) -> str:
    """The name, if a person can read it; ValueError for blanks and control characters."""
    if not name.strip() or not name.isprintable():
        raise ValueError(f"the name {name!r} cannot be read. Use letters, digits and spaces")
    return name


def _one_word(name: str) -> str:
    if any(character.isspace() or character in ",;" for character in name):
        raise ValueError(
            f"the hole name '{name}' holds a space or a comma, but fingerings list holes as "
            "single words. Join its words, as in L2 or side_1"
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

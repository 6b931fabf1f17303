"""What every class of the model shares: strict fields, finite numbers."""

from __future__ import annotations

from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field

Finite = Annotated[float, Field(allow_inf_nan=False)]
Positive = Annotated[float, Field(gt=0, allow_inf_nan=False)]
NotNegative = Annotated[float, Field(ge=0, allow_inf_nan=False)]


class Entity(BaseModel):
    """A frozen record: unknown keys are refused, so that a typing slip is noticed."""

    model_config = ConfigDict(extra="forbid", frozen=True)

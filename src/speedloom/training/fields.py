"""Field types: how precisely each kind of number is stored, so that memory and file are the same.

Documents are always validated as JSON text (TOML is turned into JSON first): pydantic's strict mode then
reads dates, times and tuples from JSON, and still refuses "3" for 3.
"""

from __future__ import annotations

from datetime import date, time
from typing import Annotated

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, PlainSerializer

SIGNIFICANT_DIGITS = 4


class Frozen(BaseModel):
    """A document part: immutable, strict, and refusing keys it does not know."""

    model_config = ConfigDict(frozen=True, strict=True, extra="forbid", allow_inf_nan=False)


def _to(decimals: int) -> AfterValidator:
    # Adding 0.0 turns -0.0 into 0.0: one value, one spelling.
    return AfterValidator(lambda value: round(value, decimals) + 0.0)


def significant(value: float, *, digits: int = SIGNIFICANT_DIGITS) -> float:
    """Round to a number of significant digits.

    >>> significant(0.123456)
    0.1235
    """
    return float(f"{value:.{digits}g}") + 0.0


def to_half(value: float) -> float:
    """Round minutes to the half minute in which they are stored.

    >>> to_half(23.8)
    24.0
    """
    return round(value * 2) / 2 + 0.0


Ref = Annotated[str, Field(pattern=r"^[a-z0-9_-]{1,40}$")]
Day = date
TimeOfDay = Annotated[
    time, PlainSerializer(lambda value: value.strftime("%H:%M"), return_type=str, when_used="json")
]
Kilograms = Annotated[float, Field(ge=0), _to(2)]
Metres = Annotated[float, Field(ge=0), _to(2)]
JumpHeight = Annotated[float, Field(ge=0), _to(3)]  # metres; a centimetre is the size of a real change
Seconds = Annotated[float, Field(ge=0), _to(3)]
SignedSeconds = Annotated[float, _to(3)]
Share = Annotated[float, Field(ge=0, le=1), _to(3)]
Grade = Annotated[float, Field(ge=-1, le=1), _to(3)]
Minutes = Annotated[float, Field(ge=0), AfterValidator(to_half)]
Number = Annotated[float, AfterValidator(significant)]
Count = Annotated[int, Field(ge=1)]
Whole = Annotated[int, Field(ge=0)]

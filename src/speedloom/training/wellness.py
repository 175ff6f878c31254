"""How an athlete feels, in their own five answers; it informs people and changes no number by itself."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from speedloom.training.fields import Day, Frozen, Ref

LOWEST, HIGHEST = 1, 5
"""Five items from 1 to 5, 5 being good (`mclean_2010`, read); another known scale runs the other way."""
Answer = Annotated[int, Field(ge=LOWEST, le=HIGHEST)]


class Wellness(Frozen):
    """One athlete's answers of one day; 5 is always the good end. The total has no unit and is not judged."""

    athlete: Ref
    date: Day
    fatigue: Answer = Field(description="1 worn out, 5 fresh.")
    sleep: Answer = Field(description="1 slept badly, 5 slept very well.")
    soreness: Answer = Field(description="1 very sore, 5 not sore.")
    stress: Answer = Field(description="1 very stressed, 5 very relaxed.")
    mood: Answer = Field(description="1 low, 5 very good.")

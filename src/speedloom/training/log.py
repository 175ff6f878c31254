"""The log: what really happened. Appended, never edited."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated, Literal

from pydantic import AwareDatetime, Field

from speedloom.training.fields import Count, Day, Frozen, Kilograms, Metres, Ref, Seconds, Whole
from speedloom.training.words import Clock, Timing

SCHEMA = "speedloom.log/1"


class Result(Frozen):
    """One repetition or set as it was done."""

    set: Count
    rep: Count | None = None
    load_kg: Kilograms | None = None
    distance_m: Metres | None = None
    time_s: Seconds | None = None
    reps: Whole | None = None
    rir: Whole | None = None
    contacts: Whole | None = None
    mark: Literal["unusual"] | None = None


class LogEntry(Frozen):
    """What one person wrote about one line or one session."""

    id: Annotated[str, Field(pattern=r"^[0-9a-fA-F-]{36}$")]
    at: AwareDatetime
    by: str
    revision: Count
    athlete: Ref
    session: Ref | None
    line: Ref | None
    date: Day
    exercise: Ref | None
    replaces: str | None
    status: Literal["done", "modified", "skipped", "stopped", "absent", "extra"]
    reason: Literal["pain", "illness", "kit", "weather", "time", "other"] | None
    timing: Timing | None
    clock: Clock | None
    behind_m: Metres | None
    surface: str | None
    results: tuple[Result, ...]
    effort: Annotated[float, Field(ge=0, le=10)] | None
    minutes: Annotated[float, Field(ge=0)] | None
    note: str
    mark: Literal["unusual"] | None = None
    """Whether effort or minutes of the whole session are unusual; results carry marks of their own."""
    sent_by: Annotated[str | None, Field(exclude_if=lambda value: value is None)] = None
    """Who sent in a file with this entry, where that is not the one who wrote it; else it is left out."""

    @property
    def order(self) -> tuple[datetime, str]:
        """Later entries win; ties are settled by id."""
        return (self.at, self.id)


class Log(Frozen):
    """All entries about one programme."""

    schema_: Literal["speedloom.log/1"] = Field(alias="schema")
    programme: str
    timezone: str
    entries: tuple[LogEntry, ...]

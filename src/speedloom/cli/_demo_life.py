"""The invented squad on any day: its dates moved, the test it ran, how it felt, whom the coach held back."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING, Any

from speedloom.cli._demo_luck import HURT, LIVED, gain, luck

if TYPE_CHECKING:
    from speedloom.training.athlete import Restriction
    from speedloom.training.brief import Brief
    from speedloom.training.log import Log
    from speedloom.training.measurement import Measurements, Trial
    from speedloom.training.programme import Programme
    from speedloom.training.wellness import Wellness

WEEK = timedelta(days=7)
TEST_DAY = timedelta(days=(LIVED - 1) * 7 + 4)
"""From the first Monday to the test again, the Friday of the last whole week."""


@dataclass(frozen=True)
class Life:
    """What an invented squad has behind it: its second test, its log, its answers, a coach's limit."""

    test: Measurements
    log: Log
    wellness: tuple[Wellness, ...]
    restriction: Restriction


def moved(brief: Brief, measurements: Measurements, *, today: date) -> tuple[Brief, Measurements]:
    """Move every date of a squad by whole weeks, so that today lies in the week after six whole ones.

    Birthdays move too: everybody stays as old as the brief was written for.
    """
    first = brief.start - timedelta(days=brief.start.weekday())
    by = (today - timedelta(days=today.weekday())) - (first + LIVED * WEEK)
    return (
        type(brief).model_validate(_later(brief.model_dump(by_alias=True), by)),
        type(measurements).model_validate(_later(measurements.model_dump(by_alias=True), by)),
    )


def _later(value: Any, by: timedelta) -> Any:  # noqa: ANN401 - a document's values
    if isinstance(value, dict):
        return {key: _later(one, by) for key, one in value.items()}
    if isinstance(value, list | tuple):
        return type(value)(_later(one, by) for one in value)
    return value + by if isinstance(value, date) else value


def life(programme: Programme, measurements: Measurements, *, today: date) -> Life:
    """Make up what lies behind an invented squad on a day; the same day gives the same again."""
    from speedloom.cli._demo_log import invented_log

    test = _tested_again(measurements, on=_first(programme) + TEST_DAY)
    log = invented_log(programme, until=today - timedelta(days=1))
    return Life(test, log, tuple(_felt(programme, today)), _held_back(programme))


def _first(programme: Programme) -> date:
    return min(week.monday for own in programme.programmes for week in own.weeks)


def _tested_again(measurements: Measurements, *, on: date) -> Measurements:
    return measurements.model_copy(
        update={
            "trials": tuple(_faster(trial, on) for trial in measurements.trials),
            "jumps": (),
            "lifts": (),
            "traces": (),
        }
    )


def _faster(trial: Trial, on: date) -> Trial:
    """Run a trial again: most a little faster than six weeks ago, some not, nobody the same twice."""
    gained = gain(trial.athlete)
    chance = luck("again", trial.athlete, trial.trial)
    day = 1.0 - gained + chance.gauss(0.0, 0.003)
    splits = tuple(
        split.model_copy(update={"time_s": round(split.time_s * day + chance.gauss(0.0, 0.006), 2)})
        for split in trial.splits
    )
    return trial.model_copy(update={"date": on, "splits": splits})


def _felt(programme: Programme, today: date) -> Iterator[Wellness]:
    from speedloom.training.wellness import Wellness

    items = ("fatigue", "sleep", "soreness", "stress", "mood")
    for own in programme.programmes[::2]:
        for back in range(10):
            day = today - timedelta(days=back)
            chance = luck("felt", own.athlete, day)
            # Not everybody answers every day, and today is still young.
            if chance.random() < (0.3 if back else 0.6):
                continue
            answers = {item: min(5, max(1, round(chance.gauss(3.6, 0.8)))) for item in items}
            yield Wellness(athlete=own.athlete, date=day, **answers)


def _held_back(programme: Programme) -> Restriction:
    from speedloom.training.athlete import Limit, Restriction

    pulled = _first(programme) + (LIVED - 1) * WEEK
    return Restriction.model_validate(
        {
            "ref": f"{HURT}_hamstring",
            "limits": (Limit(what="share_vmax", at_most=0.85), Limit(what="distance_m", at_most=15.0)),
            "from": pulled + timedelta(days=1),
            "until": pulled + 2 * WEEK,
            "set_by": "the coach (invented)",
            "set_as": "coach",
            "set_on": pulled,
        }
    )

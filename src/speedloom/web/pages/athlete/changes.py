"""What changed since the test before, and every measure over time, of one athlete."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from math import hypot
from typing import TypeVar

from speedloom.report.charts.over_time import DayPoint, OverTime, over_time_svg
from speedloom.science.constants import BAND_90_SD
from speedloom.training.exercise import Catalogue
from speedloom.training.kept import of_people
from speedloom.training.measurement import Jump, Lift, Measurements, Trial
from speedloom.training.profile import Profile
from speedloom.training.rule import load_rulebook
from speedloom.web.pages.squad.fits import Body, Reading
from speedloom.wording.athlete_retest_left_out import own_left_out
from speedloom.wording.athlete_retest_values import (
    NOT_JUDGED_ALONE,
    NOT_JUDGED_WHY,
    between_text,
    measure_name,
    unit_text,
    value_text,
    verdict_text,
)
from speedloom.wording.units import KG_PER_LB, Units
from speedloom.workflows.retest import Change, Panel, Retest, retest
from speedloom.workflows.retest_errors import GivenError, typical_error
from speedloom.workflows.retest_values import DayValue, Measure, plain_values

KEPT = 500
FEWEST_POINTS = 2
MOST_PICTURES = 12
Row = TypeVar("Row", Trial, Jump, Lift)
_CM = 100.0


@dataclass(frozen=True)
class ChangeShown:
    """One measure: before, after, the change, and what the chance says."""

    what: str
    before: str
    before_day: date
    after: str
    after_day: date
    change: str
    said: str


@dataclass(frozen=True)
class OverTimeShown:
    """A measure over time as a picture and as rows."""

    title: str
    picture: str
    rows: tuple[tuple[date, str], ...]


def changes_shown(
    tested: Measurements, ref: str, *, body: Body, reading: Reading, catalogue: Catalogue, units: Units
) -> tuple[tuple[ChangeShown, ...], tuple[str, ...]]:
    """Say what changed since the test before, and what cannot be compared."""
    found = _compared(last_two(tested), ref, body, reading)
    shown = tuple(
        _shown(panel, change, catalogue=catalogue, units=units) for panel, change in found.of_athlete(ref)
    )
    several = {len({one.date for one in rows}) > 1 for rows in (tested.trials, tested.jumps, tested.lifts)}
    alone = (NOT_JUDGED_WHY,) if any(one.said == NOT_JUDGED_ALONE for one in shown) else ()
    return shown, alone + (own_left_out(found, ref, catalogue=catalogue) if True in several else ())


@of_people
@lru_cache(maxsize=KEPT)
def _compared(tested: Measurements, ref: str, body: Body, reading: Reading) -> Retest:
    return retest(
        tested,
        trial_rule=reading.rule,
        rulebook=load_rulebook().with_changes(reading.changes),
        people={ref: body},
    )


def last_two(tested: Measurements) -> Measurements:
    """Keep the last two days of runs, of jumps and of each lift."""
    lifts = {one.exercise for one in tested.lifts}
    return Measurements(
        trials=tuple(_of_last_two(tested.trials)),
        jumps=tuple(_of_last_two(tested.jumps)),
        lifts=tuple(
            one
            for exercise in sorted(lifts)
            for one in _of_last_two([lift for lift in tested.lifts if lift.exercise == exercise])
        ),
    )


def _of_last_two(rows: Sequence[Row]) -> Iterator[Row]:
    days = sorted({row.date for row in rows})[-2:]
    return (row for row in rows if row.date in days)


def _shown(panel: Panel, change: Change, *, catalogue: Catalogue, units: Units) -> ChangeShown:
    measure = panel.measure
    return ChangeShown(
        what=measure_name(measure, catalogue=catalogue, units=units),
        before=value_text(measure, change.before.value, units=units),
        before_day=change.before.date,
        after=value_text(measure, change.after.value, units=units),
        after_day=change.after.date,
        change=between_text(measure, change.before.value, change.after.value, units=units),
        said=NOT_JUDGED_ALONE if change.verdict == "not_judged" else verdict_text(measure, change),
    )


def over_time(
    tested: Measurements,
    profiles: Iterable[Profile],
    *,
    reading: Reading,
    catalogue: Catalogue,
    units: Units,
    distance_m: float | None,
) -> tuple[OverTimeShown, ...]:
    """Draw top speed, the time that counts, jumps and lifts over the days they were tested."""
    values, _refused = plain_values(tested, rule=reading.rule)
    lines: dict[tuple[Measure, object], list[DayValue]] = {}
    for value in sorted(values, key=lambda one: one.date):
        if value.measure.kind != "split_time" or value.measure.distance_m == distance_m:
            lines.setdefault((value.measure, value.setting), []).append(value)
    charts = [*_top_speed(profiles), *(_chart(days, catalogue, units, reading) for days in lines.values())]
    drawn = [chart for chart in charts if len(chart.points) >= FEWEST_POINTS][:MOST_PICTURES]
    return tuple(
        OverTimeShown(
            chart.title,
            over_time_svg(chart, ident=f"time{place}"),
            tuple((one.day, f"{one.value:.{chart.decimals}f} {chart.unit}") for one in chart.points),
        )
        for place, chart in enumerate(drawn)
    )


def jumps_and_lifts(
    tested: Measurements, *, reading: Reading, catalogue: Catalogue, units: Units
) -> tuple[tuple[str, str, date], ...]:
    """Give what the newest test of each jump and lift says: the measure, its value, the day."""
    values, _refused = plain_values(tested, rule=reading.rule)
    newest = {one.measure: one for one in sorted(values, key=lambda one: one.date)}
    return tuple(
        (
            measure_name(measure, catalogue=catalogue, units=units),
            value_text(measure, one.value, units=units),
            one.date,
        )
        for measure, one in sorted(newest.items(), key=lambda item: item[0].place)
        if measure.kind != "split_time"
    )


def _top_speed(profiles: Iterable[Profile]) -> Iterator[OverTime]:
    by_timing: dict[str, list[DayPoint]] = {}
    for one in profiles:
        if one.vmax_mps:
            error = (one.vmax_mps.high - one.vmax_mps.low) / (2.0 * BAND_90_SD)
            point = DayPoint(one.date, one.vmax_mps.value, error)
            by_timing.setdefault(f"{one.timing}, {one.clock}", []).append(point)
    yield from (OverTime("Top speed", "m/s", tuple(points)) for points in by_timing.values())


def _chart(days: Sequence[DayValue], catalogue: Catalogue, units: Units, reading: Reading) -> OverTime:
    measure = days[0].measure
    rulebook = load_rulebook().with_changes(reading.changes)
    known = typical_error(measure, days[0].setting, days, rulebook=rulebook, given=GivenError())
    pounds = measure.kind == "one_rep_max" and units.mass == "lb"
    scale = _CM if measure.unit == "m" else 1.0 / KG_PER_LB if pounds else 1.0
    return OverTime(
        measure_name(measure, catalogue=catalogue, units=units),
        "lb" if pounds else unit_text(measure),
        tuple(
            DayPoint(
                one.date,
                scale * one.value,
                scale * hypot(one.formula_sd, known.at(one) if known else 0.0) or None,
            )
            for one in days
        ),
        decimals=2 if measure.kind in {"split_time", "reactive_strength"} else 1,
    )

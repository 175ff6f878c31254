"""First against last: which two days of an athlete are compared, and what cannot be."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from typing import Literal

from speedloom.workflows.retest_values import DayValue, Measure, Setting


@dataclass(frozen=True)
class Pair:
    """An athlete's two values of a measure, tested in one way."""

    before: DayValue
    after: DayValue


@dataclass(frozen=True)
class Changed:
    """A field of the test that was not the same on both days, and its two words."""

    field: str
    before: str
    after: str


@dataclass(frozen=True)
class LeftOut:
    """A measure of an athlete that cannot be compared: tested once only, or in different ways."""

    athlete: str
    measure: Measure
    why: Literal["one_test_only", "mixed_methods"]
    days: tuple[date, ...]
    changed: tuple[Changed, ...] = ()


def pairs(
    values: Iterable[DayValue], *, since: date | None = None, until: date | None = None
) -> tuple[tuple[Pair, ...], tuple[LeftOut, ...]]:
    """Pair each athlete's first day on or after `since` with the last on or before `until`, by measure."""
    by_measure: dict[tuple[str, Measure], list[DayValue]] = {}
    for value in values:
        if (since is None or value.date >= since) and (until is None or value.date <= until):
            by_measure.setdefault((value.athlete, value.measure), []).append(value)
    found = [_pair(those) for those in by_measure.values()]
    timed: dict[str, set[date]] = {}
    for (athlete, measure), those in by_measure.items():
        if measure.kind == "split_time":
            timed.setdefault(athlete, set()).update(one.date for one in those)
    left = (one for one in found if isinstance(one, LeftOut) and not _only_not_shown(one, timed))
    return (
        tuple(one for one in found if isinstance(one, Pair)),
        tuple(sorted(left, key=lambda one: (one.athlete, one.measure.place))),
    )


def _only_not_shown(one: LeftOut, timed: dict[str, set[date]]) -> bool:
    """Say whether a fitted value is missing on a day that was run: the times say all there is to say."""
    fitted = one.measure.kind in {"vmax", "f0"} and one.why == "one_test_only"
    return fitted and len(timed.get(one.athlete, ())) > 1


def _pair(values: list[DayValue]) -> Pair | LeftOut:
    first, last = min(one.date for one in values), max(one.date for one in values)
    athlete, measure = values[0].athlete, values[0].measure
    if first == last:
        return LeftOut(athlete, measure, "one_test_only", (first,))
    before = {one.setting: one for one in values if one.date == first}
    after = {one.setting: one for one in values if one.date == last}
    alike = sorted(before.keys() & after.keys(), key=lambda one: (-len(after[one].trials), one))
    if alike:
        return Pair(before[alike[0]], after[alike[0]])
    changed = min((tuple(_changed(one, other)) for one in sorted(before) for other in sorted(after)), key=len)
    return LeftOut(athlete, measure, "mixed_methods", (first, last), changed)


def _changed(before: Setting, after: Setting) -> Iterator[Changed]:
    now = dict(after)
    for field, word in before:
        if now.get(field, "") != word:
            yield Changed(field, word, now.get(field, ""))

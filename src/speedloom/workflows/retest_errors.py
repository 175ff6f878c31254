"""How noisy a test is and which change is worth having: typical error and smallest worthwhile change."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

import numpy as np

from speedloom.science.statistics.change import SMALL_SHARE, SOLO_SHARE
from speedloom.science.statistics.reliability import (
    intraclass_correlations,
    mean_squares,
    repeatability_coefficient,
)
from speedloom.training.rule import Rulebook
from speedloom.training.typical_error import PublishedError, published_error
from speedloom.training.words import Mark
from speedloom.workflows.profile_surroundings import Person
from speedloom.workflows.retest_pairs import Pair
from speedloom.workflows.retest_values import DayValue, Measure, Setting

_TWO = 2


@dataclass(frozen=True)
class GivenError:
    """What a coach knows of a test: typical error of a trial, smallest worthwhile change; in its unit."""

    typical_error: float | None = None
    smallest: float | None = None


@dataclass(frozen=True)
class TypicalError:
    """The typical error of a measure: whose, how large, and from how many repeats.

    `of` says what it is the error of: one trial, or a test as it is usually done (then several trials do not
    make it smaller); a published one grows with the value, and `value` is that of the mean athlete.
    `more_sd` is what a stopwatch adds to it. `freedom` are the repeats it rests on, infinite for one
    that was given or published.
    `icc` (one trial, consistency) and `repeatability` (two trials of a day differ by less in 95 of 100) come
    from the largest group with equally many trials.
    """

    kind: Literal["own", "published", "given"]
    of: Literal["trial", "test"]
    value: float
    freedom: float
    athletes: int = 0
    published: PublishedError | None = None
    more_sd: float = 0.0
    icc: float | None = None
    repeatability: float | None = None

    @property
    def source(self) -> str | None:
        """The key of the publication."""
        return self.published.source if self.published else None

    @property
    def mark(self) -> Mark | None:
        """How well the published number is known."""
        return self.published.mark if self.published else None

    def at(self, day: DayValue) -> float:
        """Give the error of a day's value, in its unit: of the best, or the mean, of its trials."""
        if self.published is None:
            return self.value * day.spread
        return math.hypot(self.published.of(day.value), self.more_sd)


@dataclass(frozen=True)
class Smallest:
    """The smallest worthwhile change of a measure, and where it comes from."""

    how: Literal["squad_spread", "error_instead", "given", "solo"]
    value: float
    athletes: int = 0


def typical_error(
    measure: Measure, setting: Setting, days: Sequence[DayValue], *, rulebook: Rulebook, given: GivenError
) -> TypicalError | None:
    """Give the error that was given, else the squad's own, else a published one, else None."""
    if given.typical_error is not None:
        return TypicalError("given", "trial", given.typical_error, math.inf)
    own = own_error(days)
    fewest = rulebook.number("retest", "repeats_fewest")
    if own is not None and own.freedom >= fewest and own.value > 0.0:
        return own
    found = published_error(measure.kind, distance_m=measure.distance_m)
    if found is None:
        return None
    # A stopwatch scatters more than the tests that errors were published for.
    hand = dict(setting).get("timing") == "hand" and measure.kind == "split_time"
    more = rulebook.number("expected_time", "timing_hand_s") if hand else 0.0
    usual = math.hypot(found.of(float(np.mean([day.value for day in days]))), more)
    return TypicalError("published", "test", usual, math.inf, published=found, more_sd=more)


def own_error(days: Iterable[DayValue]) -> TypicalError | None:
    """Pool the scatter of trials of one day over athletes and days, without what the trials have in common.

    Athletes of a day with equally many trials form a table; its residual mean square counts by its degrees
    of freedom. An athlete alone in a table gives the variance of the trials.
    """
    tables = _tables(days)
    squares, freedom = 0.0, 0.0
    for table in tables:
        rows, columns = table.shape
        own = (rows - 1) * (columns - 1) if rows >= _TWO else columns - 1
        scatter = mean_squares(table).residual if rows >= _TWO else table.var(ddof=1)
        squares, freedom = squares + own * float(scatter), freedom + own
    if not freedom:
        return None
    largest = max(tables, key=lambda one: one.shape)
    several = largest.shape[0] >= _TWO
    return TypicalError(
        kind="own",
        of="trial",
        value=math.sqrt(squares / freedom),
        freedom=freedom,
        athletes=len({one.athlete for one in days if len(one.trials) >= _TWO}),
        icc=float(intraclass_correlations(largest).one_consistency) if several else None,
        repeatability=float(repeatability_coefficient(largest[:, 0], largest[:, 1])) if several else None,
    )


def _tables(days: Iterable[DayValue]) -> list[np.ndarray]:
    groups: dict[tuple[date, int], list[tuple[str, tuple[float, ...]]]] = {}
    for day in days:
        if len(day.trials) >= _TWO:
            groups.setdefault((day.date, len(day.trials)), []).append((day.athlete, day.trials))
    return [np.array([trials for _, trials in sorted(group)]) for _, group in sorted(groups.items())]


def smallest_worthwhile(
    pairs: Sequence[Pair],
    *,
    error: TypicalError,
    people: Mapping[str, Person],
    given: GivenError,
    solo: Literal["team", "solo"],
    rulebook: Rulebook,
) -> Smallest:
    """Give the smallest worthwhile change: given, of the squad's spread, or from the error where that fails.

    0.2 of the SD between athletes before, freed of the test's noise and taken within each sex; for those who
    compete alone 0.3 of the error, which stands for the spread from race to race.
    """
    if given.smallest is not None:
        return Smallest("given", given.smallest)
    test_error = float(np.mean([error.at(pair.before) for pair in pairs]))
    # Of both tests, as the error that is shown beside it; the spread is that of the first test alone.
    of_both = float(np.mean([error.at(day) for pair in pairs for day in (pair.before, pair.after)]))
    if solo == "solo":
        return Smallest("solo", SOLO_SHARE * of_both, len(pairs))
    variance = _spread_squared([pair.before for pair in pairs], people) - test_error**2
    if len(pairs) < rulebook.number("retest", "spread_fewest") or variance <= 0.0:
        return Smallest("error_instead", SOLO_SHARE * of_both, len(pairs))
    return Smallest("squad_spread", SMALL_SHARE * math.sqrt(variance), len(pairs))


def _spread_squared(days: Sequence[DayValue], people: Mapping[str, Person]) -> float:
    groups: dict[str | None, list[float]] = {}
    for day in days:
        person = people.get(day.athlete)
        groups.setdefault(person.sex if person else None, []).append(day.value)
    freedom = sum(len(group) - 1 for group in groups.values())
    squares = sum(float(np.var(group, ddof=0)) * len(group) for group in groups.values())
    return squares / freedom if freedom else 0.0

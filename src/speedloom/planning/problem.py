"""One athlete's week as a choice of whole numbers: one count for each line, in the minutes there are.

Each line offers a few counts, each with its exact minutes and cost, so the model is a plain integer
programme with no rounding inside. Weeks are solved one after another (docs/decisions/0004): every week's
wish is a formula already.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from hashlib import sha256
from math import ceil, floor

import numpy as np
from numpy.typing import NDArray

from speedloom.planning.draft import Draft
from speedloom.planning.limits import UNITS, adds_up, amount
from speedloom.planning.setting import Setting
from speedloom.planning.solver import IntegerProblem

DEVIATION_COST = 1
# A percent outside the band of a lighter week costs more than a run or set of the first five ranks.
BAND_COST = 60_000
TIE_MOST = 10_000
# More than the ties of a whole week's lines, so that ties decide only between equally many changes.
CHANGE_COST = 1_000_000


@dataclass(frozen=True)
class Filled:
    """A session with its drafted lines and its minutes."""

    setting: Setting
    drafts: tuple[Draft, ...]
    down_min: float
    available_min: float

    @property
    def room_half_minutes(self) -> int:
        """Half minutes left for the lines."""
        return round(2 * (self.available_min - self.down_min))


@dataclass(frozen=True)
class WeekModel:
    """The integer problem with the meaning of its columns."""

    problem: IntegerProblem
    columns: tuple[tuple[int, int, int], ...]  # (session, line, count)

    def counts(self, solution: NDArray[np.int64]) -> dict[tuple[int, int], int]:
        """Give the chosen count of each (session, line)."""
        return {
            (session, line): count
            for column, (session, line, count) in enumerate(self.columns)
            if solution[column] == 1
        }


@dataclass(frozen=True)
class Band:
    """What a lighter week should hold as a whole, from a loading week's amount."""

    kind: str
    usual: float
    low: float
    high: float


@dataclass(frozen=True)
class Before:
    """What an earlier revision chose, by (session, line): some counts stand, the others change little.

    Where there is a `most`, no more is chosen, unless even the fewest are more.
    """

    standing: Mapping[tuple[int, int], int] = field(default_factory=dict)
    chosen: Mapping[tuple[int, int], int] = field(default_factory=dict)
    most: Mapping[tuple[int, int], int] = field(default_factory=dict)


NOTHING_BEFORE = Before()


def week_model(
    sessions: tuple[Filled, ...],
    *,
    seed: str,
    beyond_most_m: float,
    bands: tuple[Band, ...] = (),
    before: Before = NOTHING_BEFORE,
) -> WeekModel:
    """Build the model of one week.

    Args:
        sessions: the week's sessions with their drafted lines.
        seed: decides between equally good weeks, nothing else.
        beyond_most_m: most metres beyond the 95 % point in one session (rule S2).
        bands: what the whole week should hold; given way to where nothing else is possible.
        before: an earlier revision's counts; among equally good weeks the one with the fewest changes wins.
    """
    columns = tuple(
        (at, line, count)
        for at, session in enumerate(sessions)
        for line, draft in enumerate(session.drafts)
        for count in _offered(draft, before.standing.get((at, line)), most=before.most.get((at, line)))
    )
    drafts = [sessions[at].drafts[line] for at, line, _ in columns]
    costs = [
        draft.cost.of(int(draft.proposed.value), count)
        for draft, (_, _, count) in zip(drafts, columns, strict=True)
    ]
    ties = [
        _tie(f"{seed}/{sessions[at].setting.day.slot.ref}/{draft.key}/{count}")
        + CHANGE_COST * abs(count - before.chosen.get((at, line), count))
        for draft, (at, line, count) in zip(drafts, columns, strict=True)
    ]
    rows = _Rows(len(columns))
    _one_count_each(rows, columns)
    _minutes(rows, sessions, columns)
    _fast_metres(rows, sessions, columns, beyond_most_m)
    _restricted(rows, sessions, columns)
    extra = _volumes(rows, sessions, columns)
    slack = _bands(rows, sessions, columns, bands, first=len(columns) + extra)
    deviations = [DEVIATION_COST] * extra + slack
    problem = rows.problem(
        costs=costs + deviations, ties=ties + [0] * len(deviations), deviations=len(deviations)
    )
    return WeekModel(problem, columns)


def _offered(draft: Draft, standing: int | None, *, most: int | None) -> tuple[int, ...]:
    """Give the counts to choose from; one that stands leaves no choice."""
    if standing is not None:
        return (standing,)
    counts = draft.counts()
    if most is None or draft.minutes is not None or draft.by_coach:
        return counts
    return tuple(count for count in counts if count <= most) or counts[:1]


def _tie(name: str) -> int:
    """Give a choice's fixed place among equally good ones, from its meaning alone and not from any order."""
    return int.from_bytes(sha256(name.encode()).digest()[:8], "big") % TIE_MOST + 1


class _Rows:
    """Rows collected before the number of columns is known."""

    def __init__(self, choices: int) -> None:
        self.choices = choices
        self.rows: list[tuple[dict[int, int], int, int]] = []

    def add(self, terms: dict[int, int], *, low: int, high: int) -> None:
        self.rows.append((terms, low, high))

    def problem(self, *, costs: list[int], ties: list[int], deviations: int) -> IntegerProblem:
        width = self.choices + deviations
        matrix = np.zeros((len(self.rows), width), dtype=np.int64)
        for place, (terms, _, _) in enumerate(self.rows):
            for column, value in terms.items():
                matrix[place, column] = value
        upper = np.concatenate([np.ones(self.choices), np.full(deviations, FREE)]).astype(np.int64)
        return IntegerProblem(
            cost=np.array(costs, dtype=np.int64),
            tie=np.array(ties, dtype=np.int64),
            matrix=matrix,
            low=np.array([low for _, low, _ in self.rows], dtype=np.int64),
            high=np.array([high for _, _, high in self.rows], dtype=np.int64),
            upper=upper,
        )


FREE = 1_000_000


def _one_count_each(rows: _Rows, columns: tuple[tuple[int, int, int], ...]) -> None:
    groups: dict[tuple[int, int], dict[int, int]] = {}
    for column, (session, line, _) in enumerate(columns):
        groups.setdefault((session, line), {})[column] = 1
    for terms in groups.values():
        rows.add(terms, low=1, high=1)


def _minutes(rows: _Rows, sessions: tuple[Filled, ...], columns: tuple[tuple[int, int, int], ...]) -> None:
    for at, session in enumerate(sessions):
        terms = {
            column: round(2 * session.drafts[line].minutes_for(count))
            for column, (where, line, count) in enumerate(columns)
            if where == at
        }
        rows.add(terms, low=0, high=session.room_half_minutes)


def _fast_metres(
    rows: _Rows,
    sessions: tuple[Filled, ...],
    columns: tuple[tuple[int, int, int], ...],
    beyond_most_m: float,
) -> None:
    for at, session in enumerate(sessions):
        terms = {
            column: round(10 * session.drafts[line].beyond_m) * count
            for column, (where, line, count) in enumerate(columns)
            if where == at and session.drafts[line].beyond_m > 0
        }
        fewest = sum(
            round(10 * draft.beyond_m) * (0 if draft.optional else draft.fewest) for draft in session.drafts
        )
        if terms:
            # A rule that only warns gives way where even the fewest runs are more.
            rows.add(terms, low=0, high=max(round(10 * beyond_most_m), fewest))


def _restricted(rows: _Rows, sessions: tuple[Filled, ...], columns: tuple[tuple[int, int, int], ...]) -> None:
    for at, session in enumerate(sessions):
        for limit in session.setting.limits:
            terms = {
                column: amount(limit, session.drafts[line], count)
                for column, (where, line, count) in enumerate(columns)
                if where == at and adds_up(limit, session.drafts[line])
            }
            if terms:
                rows.add(terms, low=0, high=floor(UNITS * limit.at_most))


def _volumes(rows: _Rows, sessions: tuple[Filled, ...], columns: tuple[tuple[int, int, int], ...]) -> int:
    """Measure how far each method's week is from its wish, in percent of the wish."""
    wishes: dict[str, float] = {}
    for session in sessions:
        for draft in session.drafts:
            if draft.volume is not None and draft.wanted is not None:
                wishes[draft.volume] = wishes.get(draft.volume, 0.0) + float(draft.wanted.value)
    wishes = {volume: wish for volume, wish in wishes.items() if wish > 0}
    for extra, (volume, wish) in enumerate(sorted(wishes.items())):
        terms = {
            column: round(100 * sessions[at].drafts[line].units_for(count) / wish)
            for column, (at, line, count) in enumerate(columns)
            if sessions[at].drafts[line].volume == volume
        }
        deviation = len(columns) + extra
        rows.add(terms | {deviation: 1}, low=100, high=FREE)
        rows.add(terms | {deviation: -1}, low=-FREE, high=100)
    return len(wishes)


def _bands(
    rows: _Rows,
    sessions: tuple[Filled, ...],
    columns: tuple[tuple[int, int, int], ...],
    bands: tuple[Band, ...],
    *,
    first: int,
) -> list[int]:
    """Hold the week's metres and sets in a band, with a slack above and below; give the slacks' costs."""
    costs: list[int] = []
    for band in bands:
        terms = {}
        for column, (at, line, count) in enumerate(columns):
            kind, amount = sessions[at].drafts[line].amount_for(count)
            if kind == band.kind and sessions[at].drafts[line].volume is not None:
                terms[column] = round(amount)
        above, below = first + len(costs), first + len(costs) + 1
        rows.add(terms | {above: -1}, low=-FREE, high=int(band.high))
        rows.add(terms | {below: 1}, low=ceil(band.low), high=FREE)
        costs += [round(100 * BAND_COST / band.usual)] * 2
    return costs

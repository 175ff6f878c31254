"""What a review says, page by page: the squad's week, and an athlete's own weeks. Paper and text share it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta

from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Programme
from speedloom.wording.brief_news import whom
from speedloom.wording.dates import day_month, listing, span
from speedloom.wording.names import WEEK_NAMES, athlete_name
from speedloom.wording.review_cells import (
    Grid,
    detail_grids,
    line_grid,
    load_grid,
    one_grid,
    sessions_of,
    work_grid,
)
from speedloom.wording.review_differences import DifferenceWords, difference_words, question_sentences
from speedloom.wording.units import METRIC, Units
from speedloom.workflows.reviewed import (
    AthleteWeek,
    Beside,
    Review,
    WeekReview,
)

LEGEND = (
    "150 of 200, or 150/200: 150 done of 200 planned. 200: as planned. 150+: at least 150, since of some of "
    "the work nothing was written down. ?: nothing was written down of any of it. –: none."
)
COUNTED = (
    "Runs with their run-ins. ≥ 90 % and ≥ 95 %: metres at that share of the athlete's own top speed. "
    "Hard sets: working sets of strength work, without ramp-up sets."
)
LOADS = (
    "Session load: effort (0–10) × minutes; two sessions of a day are summed, a day without one is 0. "
    "Monotony: mean of the seven days over their standard deviation (n − 1). Strain: sum × monotony."
)
UNDEFINED = "Undefined: every day had the same load, so the days have no spread to divide by."
NOT_KNOWN = "Not known: a session has no effort or minutes written down, or nothing at all."
NOT_YET = "Not yet: the week is not over."
LEANS = "The 28-day line leans on the first day until about four weeks are logged."
SETTLING_DAYS = 28
MOST_WEEKS = 12


@dataclass(frozen=True)
class Named:
    """Sentences about one athlete."""

    name: str
    texts: tuple[str, ...]


@dataclass(frozen=True)
class ReviewPage:
    """One page of a review."""

    title: str
    subtitle: str
    grids: tuple[Grid, ...]
    details: tuple[Grid, ...]
    differed: tuple[Named, ...]
    unwritten: tuple[Named, ...]
    questions: tuple[Named, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True)
class Reviewer:
    """Writes the pages of one review."""

    review: Review
    programme: Programme
    catalogue: Catalogue
    units: Units = METRIC

    def name(self, athlete: str) -> str:
        """Name an athlete."""
        return athlete_name(self.programme, athlete)

    def squad_week(self, week: WeekReview) -> ReviewPage:
        """Write the squad's page of a week."""
        rows = [(self.name(one.athlete), one) for one in week.athletes]
        return ReviewPage(
            title=f"{self._week_title(week)}: planned beside done",
            subtitle=self._dates(week),
            grids=(
                self._work("", rows, sums="Squad"),
                load_grid("Session load", [(label, one.load) for label, one in rows]),
            ),
            details=detail_grids(week.squad, catalogue=self.catalogue, units=self.units),
            **self._sentences(week.athletes, with_notes=False),
            notes=(*self._notes(week.athletes), *self._squad_line_notes(week)),
        )

    def period(self) -> ReviewPage:
        """Write one page about all weeks reviewed: week by week, then athlete by athlete."""
        weeks = self.review.weeks
        every = [one for week in weeks for one in week.athletes]
        own = {athlete: [one for one in every if one.athlete == athlete] for athlete in self.review.athletes}
        last = weeks[-1]
        by_week = [(self._week_title(week), week.squad, sessions_of(week.athletes)) for week in weeks]
        by_athlete = [
            (self.name(ref), _sum(found), sessions_of(found)) for ref, found in own.items() if found
        ]
        loads = [(self.name(one.athlete), one.load) for one in last.athletes]
        return ReviewPage(
            title=f"{self._span_title()}: planned beside done",
            subtitle=f"Until {day_month(self.review.until)}",
            grids=(
                work_grid("Squad, week by week", by_week, units=self.units),
                work_grid("Athlete by athlete", by_athlete, units=self.units, sums="Squad"),
                load_grid(f"Session load, {self._week_title(last).lower()}", loads),
            ),
            details=detail_grids(_sum(every), catalogue=self.catalogue, units=self.units),
            **self._sentences(every, with_notes=False),
            notes=tuple(self._notes(every)),
        )

    def athlete(self, athlete: str) -> ReviewPage:
        """Write an athlete's page of all weeks reviewed."""
        own = [(week, one) for week in self.review.weeks for one in week.athletes if one.athlete == athlete]
        weeks = [one for _, one in own]
        rows = [(self._week_title(week), one) for week, one in own]
        return ReviewPage(
            title=self.name(athlete),
            subtitle=f"{self._span_title()}: planned beside done",
            grids=(
                self._work("", rows, sums="All weeks"),
                load_grid("Session load", [(label, one.load) for label, one in rows]),
            ),
            details=detail_grids(_sum(weeks), catalogue=self.catalogue, units=self.units),
            **self._sentences(weeks, with_notes=True),
            notes=(*self._notes(weeks), *self._line_notes(athlete)),
        )

    def lines(self) -> Grid:
        """Lay out where everybody's weighted averages stand on the last day."""
        rows = [(self.name(line.athlete), line) for line in self.review.lines if line.loads]
        return line_grid(f"Weighted averages of the daily load on {day_month(self.review.until)}", rows)

    def squad_table(self, week: WeekReview) -> Grid:
        """Lay out a squad's week in one table for paper: work and loads, a row an athlete."""
        lines = {line.athlete: line for line in self.review.lines}
        sunday = week.monday + timedelta(days=6)
        rows = [(self.name(one.athlete), one, lines[one.athlete].on(sunday)) for one in week.athletes]
        return one_grid(rows, units=self.units, sums="Squad")

    def athlete_table(self, athlete: str) -> Grid:
        """Lay out an athlete's weeks in one table for paper: work and loads, a row a week.

        Of a long programme the latest weeks have a row each, the earlier ones one together.
        """
        line = next(one for one in self.review.lines if one.athlete == athlete)
        own = [(week, one) for week in self.review.weeks for one in week.athletes if one.athlete == athlete]
        early = own[:-MOST_WEEKS] if len(own) > MOST_WEEKS + 1 else []
        rows = [
            (self._week_title(week), one, line.on(week.monday + timedelta(days=6)))
            for week, one in own[len(early) :]
        ]
        numbers = [week.number for week, _ in early]
        label = f"Weeks {numbers[0]} to {numbers[-1]}" if early else ""
        return one_grid(
            rows, units=self.units, sums="All weeks", early=label, before=[one for _, one in early]
        )

    def _work(self, title: str, rows: Sequence[tuple[str, AthleteWeek]], *, sums: str) -> Grid:
        besides = [(label, one.amounts, one.sessions) for label, one in rows]
        return work_grid(title, besides, units=self.units, sums=sums)

    def _week_title(self, week: WeekReview) -> str:
        kinds = {WEEK_NAMES[one.kind] for one in week.athletes}
        kind = kinds.pop() if len(kinds) == 1 else ""
        return f"Week {week.number}{f' ({kind})' if kind else ''}"

    def _span_title(self) -> str:
        numbers = [week.number for week in self.review.weeks]
        if len(numbers) == 1:
            return f"Week {numbers[0]}, {self._dates(self.review.weeks[0])}"
        return f"Weeks {numbers[0]} to {numbers[-1]}"

    def _dates(self, week: WeekReview) -> str:
        sunday = week.monday + timedelta(days=6)
        until = f", until {day_month(self.review.until)}" if self.review.until < sunday else ""
        return f"{span(week.monday, sunday)}{until}"

    def _sentences(self, weeks: Iterable[AthleteWeek], *, with_notes: bool) -> dict[str, tuple[Named, ...]]:
        own: dict[str, list[AthleteWeek]] = {}
        for one in weeks:
            own.setdefault(one.athlete, []).append(one)
        words = {
            ref: difference_words(
                [each for one in found for each in one.differences],
                catalogue=self.catalogue,
                units=self.units,
                with_notes=with_notes,
            )
            for ref, found in own.items()
        }
        asked = {
            ref: tuple(
                question_sentences(
                    [each for one in found for each in one.questions],
                    catalogue=self.catalogue,
                    units=self.units,
                )
            )
            for ref, found in own.items()
        }
        return {
            "differed": self._named(words, lambda found: found.differed),
            "unwritten": self._named(words, lambda found: found.unwritten),
            "questions": tuple(Named(self.name(ref), texts) for ref, texts in asked.items() if texts),
        }

    def _named(
        self, words: dict[str, DifferenceWords], pick: Callable[[DifferenceWords], tuple[str, ...]]
    ) -> tuple[Named, ...]:
        return named_together({self.name(ref): pick(found) for ref, found in words.items()})

    def _notes(self, weeks: Sequence[AthleteWeek]) -> Iterator[str]:
        yield from (LEGEND, COUNTED, LOADS)
        states = {one.load.state for one in weeks if one.load.total or one.load.state != "undefined"}
        said = {"undefined": UNDEFINED, "incomplete": NOT_KNOWN, "not_over": NOT_YET}
        yield from (text for state, text in said.items() if state in states)
        yield from self._gaps(weeks)
        typical = dict.fromkeys(self.name(one.athlete) for one in weeks if not one.measured)
        if typical:
            everybody = len(typical) == len({one.athlete for one in weeks}) > 1
            whose = "everybody" if everybody else listing(typical)
            yield (
                f"No test with three gates or more: the shares of top speed of {whose} rest on "
                "what is typical for age and sex."
            )

    def _gaps(self, weeks: Sequence[AthleteWeek]) -> Iterator[str]:
        trained = sum(one.load.count.trained for one in weeks)
        without = sum(one.load.count.without_effort for one in weeks)
        if without:
            yield f"Without effort or minutes: {without} of {_sessions(trained)} that took place; in no load."
        silent = sum(one.sessions.nothing_written for one in weeks)
        if silent:
            over = sum(one.sessions.planned - one.sessions.to_come for one in weeks)
            yield (
                f"Nothing written down: {silent} of {_sessions(over)} planned until then; "
                "taken neither as done nor as missed."
            )
        as_written = sum(one.sessions.as_written for one in weeks)
        if as_written:
            yield f"Logged as done without their lines, and counted as written: {_sessions(as_written)}."
        from_plan = sum(one.load.count.minutes_from_plan for one in weeks)
        if from_plan:
            yield f"Done without minutes, so that the planned ones are taken: {_sessions(from_plan)}."
        if any(one.questions for one in weeks):
            yield "Values that are asked about are kept in the log and are in no sum."

    def _squad_line_notes(self, week: WeekReview) -> Iterator[str]:
        sunday = min(week.monday + timedelta(days=6), self.review.until)
        first = min((own.weeks[0].monday for own in self.programme.programmes if own.weeks), default=sunday)
        if (sunday - first).days + 1 < SETTLING_DAYS:
            yield LEANS

    def _line_notes(self, athlete: str) -> Iterator[str]:
        line = next(one for one in self.review.lines if one.athlete == athlete)
        if len(line.loads) < SETTLING_DAYS:
            yield LEANS


def named_together(said: Mapping[str, Sequence[str]]) -> tuple[Named, ...]:
    """Say once what is said of several athletes, then what is said of one alone.

    >>> [(one.name, one.texts) for one in named_together({"Ada": ["rain"], "Bea": ["rain", "ill"]})]
    [('All 2', ('rain',)), ('Bea', ('ill',))]
    """
    people: dict[str, list[str]] = {}
    for name, texts in said.items():
        for text in texts:
            people.setdefault(text, []).append(name)
    groups: dict[tuple[str, ...], list[str]] = {}
    for text, names in people.items():
        groups.setdefault(tuple(names), []).append(text)
    shared = [Named(_whom(names, said), tuple(texts)) for names, texts in groups.items() if len(names) > 1]
    alone = [Named(name, tuple(groups[name,])) for name in said if (name,) in groups]
    return (*shared, *alone)


def _whom(names: Sequence[str], said: Mapping[str, Sequence[str]]) -> str:
    text = whom(names, everybody=list(said))
    return text[:1].upper() + text[1:]


def _sum(weeks: Iterable[AthleteWeek]) -> Beside:
    return sum((one.amounts for one in weeks), Beside())


def _sessions(count: int) -> str:
    return f"{count} {'session' if count == 1 else 'sessions'}"

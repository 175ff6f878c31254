"""Review a week, or all weeks so far: planned beside done, session loads, who differs and why."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property, reduce
from operator import add

from speedloom.checking.people import Person
from speedloom.checking.scene import Scene
from speedloom.errors import ReviewError
from speedloom.training.exercise import Catalogue
from speedloom.training.log import Log
from speedloom.training.programme import Programme, Session, Week
from speedloom.training.rule import Rulebook
from speedloom.workflows.athlete_log import SUNDAY, AthleteLog, athlete_logs, in_week, scene_of
from speedloom.workflows.review_differences import outside_difference, questions, session_difference
from speedloom.workflows.review_lines import SessionOutcome
from speedloom.workflows.review_loads import LoadRecord, trained_sessions
from speedloom.workflows.reviewed import (
    AthleteWeek,
    Beside,
    Difference,
    LoadLines,
    Review,
    SessionCount,
    WeekReview,
)
from speedloom.workflows.standing_log import StandingEntry, standing_log


def review(
    programme: Programme,
    log: Log,
    *,
    week: int | None,
    rulebook: Rulebook,
    catalogue: Catalogue,
    until: date | None = None,
) -> Review:
    """Lay what was done beside what was planned, for the squad and each athlete.

    Work is counted in the week of its session, loads on the day of the entry. Unusual results are in no sum.
    What nobody wrote down is kept apart from what was not done.

    Args:
        programme: the programme as it is now.
        log: all entries about it; corrections are applied here.
        week: the number of one week, or None for all weeks so far.
        rulebook: the rules; the programme's own changes are added where it has none yet.
        catalogue: the exercises; entries embedded in the brief win.
        until: the last day that is over; sessions after it are still to come. None: the Sunday of the week
            asked for, or of the week that holds the log's last entry.

    Raises:
        LogError: the log is about another programme.
        ReviewError: the programme has no such week.
    """
    scene = scene_of(programme, rulebook=rulebook, catalogue=catalogue)
    desk = _Desk(scene, standing_log(log, programme).entries)
    mondays = desk.mondays
    if not mondays or (week is not None and week not in mondays):
        last_week = max(mondays, default=0)
        message = f"Expected a week from 1 to {last_week}, got {week}; the programme has no other."
        raise ReviewError(message)
    last = until or desk.sunday(week)
    begun = [number for number, monday in mondays.items() if monday <= last] or [min(mondays)]
    return desk.review(begun if week is None else [week], until=last)


@dataclass(frozen=True)
class _Desk:
    """The programme, with all that stands in its log."""

    scene: Scene
    entries: tuple[StandingEntry, ...]

    @property
    def mondays(self) -> dict[int, date]:
        """Each week's Monday by number."""
        weeks = (week for person in self.scene.people for week in person.programme.weeks)
        return dict(sorted({week.number: week.monday for week in weeks}.items()))

    def sunday(self, week: int | None) -> date:
        """Give the Sunday of a week, or of the week that holds the last entry."""
        mondays = self.mondays
        if week is not None:
            return mondays[week] + SUNDAY
        last = max((one.entry.date for one in self.entries), default=mondays[min(mondays)])
        return last + timedelta(days=6 - last.weekday())

    def review(self, numbers: Sequence[int], *, until: date) -> Review:
        """Review some weeks."""
        programme = self.scene.programme
        athletes = [_AthleteDesk(own, until) for own in athlete_logs(self.scene, self.entries)]
        end = min(until, self.mondays[numbers[-1]] + SUNDAY)
        return Review(
            programme=programme.id,
            revision=programme.revision.number,
            until=end,
            weeks=tuple(
                WeekReview(
                    number,
                    self.mondays[number],
                    tuple(
                        one.week(week)
                        for one in athletes
                        for week in one.person.programme.weeks
                        if week.number == number
                    ),
                )
                for number in numbers
            ),
            lines=tuple(one.lines(end) for one in athletes),
        )


@dataclass(frozen=True)
class _AthleteDesk:
    """One athlete's programme, with what stands in the log of them."""

    log: AthleteLog
    until: date

    @property
    def person(self) -> Person:
        """The athlete."""
        return self.log.person

    def week(self, week: Week) -> AthleteWeek:
        """Review a week."""
        outcomes = [self.log.outcome(week, session) for session in week.sessions if self._is_over(session)]
        outside = self.log.outside(week)
        amounts = reduce(add, (outcome.amounts for outcome in outcomes), Beside())
        extra = reduce(add, (Beside(done=found) for _, found in outside), Beside())
        differences = [session_difference(one, rulebook=self.log.scene.book) for one in outcomes]
        differences += [outside_difference(entry) for entry, _ in outside]
        return AthleteWeek(
            athlete=self.person.ref,
            kind=week.kind,
            measured=self.person.vmax_mps is not None,
            sessions=_count(outcomes, to_come=len(week.sessions) - len(outcomes)),
            amounts=amounts + extra,
            load=self._record.week(week.monday, until=self.until),
            differences=tuple(sorted(filter(None, differences), key=_order)),
            questions=tuple(questions(one for one in self.log.entries if self._belongs(one, week))),
        )

    def lines(self, end: date) -> LoadLines:
        """Draw up the load lines from the first day with a session to the last day reviewed."""
        days = [session.date for week in self.person.programme.weeks for session in week.sessions]
        days += [one.day for one in self._record.sessions]
        first = min((day for day in days if day <= end), default=end)
        return self._record.lines(first, end, book=self.log.scene.book)

    def _is_over(self, session: Session) -> bool:
        # A session that somebody wrote of before its day was done early.
        return session.date <= self.until or bool(self.log.about(session))

    def _belongs(self, one: StandingEntry, week: Week) -> bool:
        if one.session is None:
            return in_week(one.entry.date, week)
        return any(session.ref == one.session.ref for session in week.sessions)

    @cached_property
    def _record(self) -> LoadRecord:
        silent = tuple(
            session.date
            for week in self.person.programme.weeks
            for session in week.sessions
            if session.date <= self.until and not self.log.about(session)
        )
        return LoadRecord(self.person.ref, trained_sessions(self.log.entries), silent)


def _count(outcomes: Sequence[SessionOutcome], *, to_come: int) -> SessionCount:
    states = Counter(outcome.state for outcome in outcomes)
    return SessionCount(
        planned=len(outcomes) + to_come,
        done=states["done"],
        partly=states["partly"],
        not_done=states["not_done"],
        nothing_written=states["nothing_written"],
        to_come=to_come,
        as_written=sum(outcome.as_written for outcome in outcomes),
    )


def _order(difference: Difference) -> tuple[date, str]:
    return (difference.date, difference.session or "~")

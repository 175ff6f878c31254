"""An athlete's own page as plain values: sessions in words, targets, results, bests, own notes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from datetime import date

from speedloom.training.exercise import Catalogue
from speedloom.training.measurement import Measurements
from speedloom.training.programme import Prescription, Programme, Session
from speedloom.web.pages.mine.own import Own
from speedloom.wording.athlete_mine import WrittenWords, written_words
from speedloom.wording.athlete_retest_values import measure_name, value_text
from speedloom.wording.cautions import (
    exercise_cautions,
    in_own_words,
    is_master,
    may_be_minor,
    session_cautions,
)
from speedloom.wording.dates import clock, day_month
from speedloom.wording.names import place_name
from speedloom.wording.session_words import LineWords, SessionWords, line_words, session_words
from speedloom.wording.units import Units
from speedloom.workflows.retest_values import DayValue, plain_values
from speedloom.workflows.sprint_runs import TrialRule

MOST_DAYS = 12
"""Sessions of the own log that stand on the page, the newest first [count]."""
MOST_NOTES = 12
"""Own notes that stand on the page, the newest first [count]."""


@dataclass(frozen=True)
class LineShown:
    """One exercise with its cautions, and whether it is above a limit in force."""

    words: LineWords
    cautions: tuple[str, ...]
    beyond: bool


@dataclass(frozen=True)
class SessionShown:
    """One session in words."""

    ref: str
    programme: str
    date: date
    words: SessionWords
    lines: tuple[LineShown, ...]
    cautions: tuple[str, ...]
    beyond: bool
    stopped: bool
    """Whether everything is stopped on its day."""

    @property
    def names(self) -> str:
        """What is trained, in one line."""
        return ", ".join(dict.fromkeys(line.words.name for line in self.lines))


@dataclass(frozen=True)
class TargetShown:
    """What the week asks of one exercise."""

    day: str
    words: LineWords


@dataclass(frozen=True)
class BestShown:
    """The best so far of one measure, in the same way of testing."""

    what: str
    value: str
    day: date


@dataclass(frozen=True)
class DayShown:
    """What is written of one session, or of a day outside the programme."""

    day: date
    session: str
    """The session's ref, where it is in the programme now."""
    entries: tuple[WrittenWords, ...]


def session_shown(
    one: Own,
    session: Session,
    *,
    catalogue: Catalogue,
    units: Units,
    beyond: AbstractSet[str],
    clinician: bool,
) -> SessionShown:
    """Put one session into words, with the cautions it needs."""
    person = one.person
    work = [line for line in session.prescriptions if line.purpose == "work"]
    return SessionShown(
        ref=session.ref,
        programme=one.card.id,
        date=session.date,
        words=session_words(session, catalogue=catalogue, person=person, units=units),
        lines=tuple(
            LineShown(
                line_words(line, catalogue=catalogue, units=units),
                exercise_cautions(line.exercise, catalogue=catalogue),
                line.ref in beyond,
            )
            for line in work
        ),
        cautions=in_own_words(
            session_cautions(
                work,
                catalogue=catalogue,
                place_kind=_kinds(one.document).get(session.place, "hall"),
                minors=may_be_minor(person, on=session.date),
                clinician=clinician or any(card.restriction.set_as == "clinician" for card in one.limits),
                masters=is_master(person, on=session.date),
            )
        ),
        beyond=session.ref in beyond,
        stopped=one.stopped(session.date),
    )


def _kinds(document: Programme) -> dict[str, str]:
    content = document.brief.content
    return {place.ref: place.kind for place in content.places} if content else {}


def targets_shown(
    sessions: Iterable[Session], *, catalogue: Catalogue, units: Units
) -> tuple[TargetShown, ...]:
    """Give the loads and times the coming sessions ask for, the first of each exercise."""
    found: dict[str, TargetShown] = {}
    for session, line in _work(sessions):
        words = line_words(line, catalogue=catalogue, units=units)
        if (line.load_kg or line.expect) and line.exercise not in found:
            found[line.exercise] = TargetShown(day_month(session.date), words)
    return tuple(found.values())


def _work(sessions: Iterable[Session]) -> Iterator[tuple[Session, Prescription]]:
    for session in sessions:
        for line in session.prescriptions:
            if line.purpose == "work":
                yield session, line


def bests_shown(
    tested: Measurements, *, rule: TrialRule, catalogue: Catalogue, units: Units
) -> tuple[BestShown, ...]:
    """Give an athlete's own best of each measure; only tests taken in the same way are compared."""
    values, _refused = plain_values(tested, rule=rule)
    groups: dict[tuple[object, object], list[DayValue]] = {}
    for value in values:
        groups.setdefault((value.measure, value.setting), []).append(value)
    best = [max(days, key=lambda one: one.measure.sign * one.value) for days in groups.values()]
    return tuple(
        BestShown(
            measure_name(one.measure, catalogue=catalogue, units=units),
            value_text(one.measure, one.value, units=units),
            one.date,
        )
        for one in sorted(best, key=lambda one: (one.measure.place, one.date))
    )


def written_shown(one: Own, *, catalogue: Catalogue, units: Units) -> tuple[DayShown, ...]:
    """Give what stands in the athlete's own log, session by session, the newest first."""
    groups: dict[tuple[date, str], list[WrittenWords]] = {}
    for each in one.standing.of_athlete(one.own.athlete):
        key = (each.entry.date, each.session.ref if each.session else "")
        groups.setdefault(key, []).append(written_words(each.entry, catalogue=catalogue, units=units))
    newest = sorted(groups, reverse=True)[:MOST_DAYS]
    return tuple(DayShown(day, ref, tuple(groups[day, ref])) for day, ref in newest)


def own_notes(one: Own, *, login: str) -> tuple[tuple[date, str], ...]:
    """Give the athlete's own words with their days, the newest first."""
    entries = [each.entry for each in one.standing.of_athlete(one.own.athlete)]
    said = [(entry.date, entry.note) for entry in entries if entry.note and entry.by == login]
    return tuple(sorted(said, key=lambda pair: pair[0], reverse=True)[:MOST_NOTES])


def title_of(session: Session) -> str:
    """Name a session by its day, time and place."""
    return f"{day_month(session.date)}, {clock(session.start)}, {place_name(session.place)}"

"""Files of a retest: tests, brief, programme and log read; the answer as text, JSON and paper."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

from speedloom.exchange.documents import read_log, read_programme
from speedloom.exchange.retests import retest_value
from speedloom.exchange.tests_file import read_tests
from speedloom.training.athlete import Athlete
from speedloom.training.brief import Brief, ResolvedBrief
from speedloom.training.exercise import Catalogue, load_catalogue
from speedloom.training.measurement import Measurements
from speedloom.training.programme import Programme
from speedloom.training.rule import Rulebook, load_rulebook
from speedloom.wording.books import books_of
from speedloom.wording.retest import retest_text
from speedloom.workflows.done_between import DoneBetween, done_by_athlete
from speedloom.workflows.profile_surroundings import Person
from speedloom.workflows.retest import Retest, Sport, retest
from speedloom.workflows.retest_errors import GivenError
from speedloom.workflows.sprint_runs import TrialRule
from speedloom.workflows.standing_log import standing_log


@dataclass(frozen=True)
class RetestFiles:
    """What is read."""

    tests: tuple[Path, ...]
    brief: Path | None
    programme: Path | None
    log: Path | None


@dataclass(frozen=True)
class RetestedFiles:
    """A retest with the names, rules and counts its answer needs."""

    retest: Retest
    names: Mapping[str, str]
    goal_m: float | None
    done: Mapping[str, DoneBetween]
    rulebook: Rulebook
    catalogue: Catalogue

    def text(self) -> str:
        """Write it for the screen."""
        return retest_text(
            self.retest, catalogue=self.catalogue, rulebook=self.rulebook, names=self.names, done=self.done
        )

    def value(self) -> dict[str, Any]:
        """Give it as plain values."""
        return retest_value(self.retest, done=self.done)

    def athlete_pdf(self, athlete: str | None) -> bytes:
        """Print the athletes' pages, or one."""
        from speedloom.report.sheets.paper import Paper
        from speedloom.report.sheets.retest_athlete import RetestPeople, retest_athlete_pdf

        return retest_athlete_pdf(
            self.retest,
            people=RetestPeople(self.names, self.goal_m, self.done),
            catalogue=self.catalogue,
            paper=Paper(printed=_today()),
            athletes=(athlete,) if athlete else None,
        )

    def colleagues_pdf(self) -> bytes:
        """Print the pages for colleagues."""
        from speedloom.report.sheets.paper import Paper
        from speedloom.report.sheets.retest_athlete import RetestPeople
        from speedloom.report.sheets.retest_colleagues import retest_colleagues_pdf

        return retest_colleagues_pdf(
            self.retest,
            people=RetestPeople(self.names, self.goal_m, self.done),
            catalogue=self.catalogue,
            rulebook=self.rulebook,
            paper=Paper(printed=_today()),
        )


def read_and_retest(
    files: RetestFiles,
    *,
    since: date | None,
    until: date | None,
    trial_rule: TrialRule,
    sport: Sport,
    given: Mapping[str, GivenError],
) -> RetestedFiles:
    """Read all files and compare the first test with the last.

    Raises:
        UnusableFileError: a file is wrong in shape, with every fault.
        LogError: the log is about another programme.
    """
    programme = read_programme(files.programme) if files.programme else None
    content, of_brief = _content(files.brief, programme)
    parts = [*(read_tests(path) for path in files.tests), *of_brief]
    measurements = _together(parts)
    rulebook = load_rulebook().with_changes(content.rules if content else ())
    found = retest(
        measurements,
        trial_rule=trial_rule,
        rulebook=rulebook,
        people=_people(content, measurements),
        since=since,
        until=until,
        sport=sport,
        given=given,
    )
    return RetestedFiles(
        retest=found,
        names={athlete.ref: athlete.title for athlete in content.athletes} if content else {},
        goal_m=content.goal.distance_m if content else None,
        done=_done(found, files.log, programme),
        rulebook=rulebook,
        catalogue=load_catalogue(),
    )


def _content(
    brief: Path | None, programme: Programme | None
) -> tuple[Brief | ResolvedBrief | None, tuple[Measurements, ...]]:
    if brief is not None:
        from speedloom.exchange.brief_file import read_brief_with_notes

        read = read_brief_with_notes(brief)
        return read.brief, (read.measurements,)
    content = programme.brief.content if programme else None
    return content, ((content.measurements,) if content else ())


def _together(parts: Sequence[Measurements]) -> Measurements:
    """Put tests together; a row that stands in two files counts once."""
    return Measurements(
        # The same run may stand in two files with more or less about the body.
        trials=tuple(
            {
                (one.session, one.trial, one.splits): one for part in reversed(parts) for one in part.trials
            }.values()
        ),
        jumps=tuple(dict.fromkeys(one for part in parts for one in part.jumps)),
        lifts=tuple(dict.fromkeys(one for part in parts for one in part.lifts)),
    )


def _people(content: Brief | ResolvedBrief | None, measurements: Measurements) -> dict[str, Person | Athlete]:
    known: dict[str, Person | Athlete] = {}
    for trial in measurements.trials:
        if trial.sex is not None:
            known.setdefault(trial.athlete, trial)
    return known | ({one.ref: one for one in content.athletes} if content else {})


def _done(found: Retest, log: Path | None, programme: Programme | None) -> dict[str, DoneBetween]:
    if log is None or programme is None:
        return {}
    days = ((ref, *found.days(ref)) for ref in found.athletes)
    book, catalogue = books_of(programme)
    return done_by_athlete(standing_log(read_log(log), programme), days, rulebook=book, catalogue=catalogue)


def _today() -> date:
    return datetime.now(tz=UTC).astimezone().date()

"""Plans the briefs of `examples/` and `tests/golden/briefs`, each once, and looks into what came out."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

from house import ROOT
from speedloom.exchange.brief_file import read_brief
from speedloom.planning.clash import Clash
from speedloom.training.brief import Brief, ResolvedBrief
from speedloom.training.exercise import load_catalogue
from speedloom.training.measurement import Measurements
from speedloom.training.programme import AthleteProgramme, Prescription, Programme, Session, Week
from speedloom.training.rule import load_rulebook
from speedloom.training.words import METHODS, Level
from speedloom.workflows.plan_programme import plan_programme
from speedloom.workflows.resolve_brief import resolve_brief

EXAMPLES = ROOT / "examples"
GOLDEN = ROOT / "tests" / "golden" / "briefs"
Change = Callable[[Brief, Measurements], tuple[Brief, Measurements]]


def resolved(path: Path, *, change: Change | None = None) -> ResolvedBrief:
    """Read a brief with its tests, perhaps changed by a test, and fill in what it leaves open."""
    brief, measurements = read_brief(path)
    if change is not None:
        brief, measurements = change(brief, measurements)
    rulebook = load_rulebook().with_changes(brief.rules)
    return resolve_brief(brief, measurements, rulebook=rulebook, catalogue=load_catalogue())


def outcome(brief: ResolvedBrief) -> Programme | Clash:
    """Plan a resolved brief."""
    rulebook = load_rulebook().with_changes(brief.rules)
    return plan_programme(brief, rulebook=rulebook, catalogue=load_catalogue())


@cache
def planned(path: Path) -> Programme:
    """Plan a brief that can be planned."""
    programme = outcome(resolved(path))
    assert isinstance(programme, Programme)
    return programme


@cache
def planned_at(path: Path, level: Level) -> Programme:
    """Plan a brief with every athlete at one level in every method."""

    def at_level(brief: Brief, measurements: Measurements) -> tuple[Brief, Measurements]:
        levels = dict.fromkeys(METHODS, level)
        athletes = tuple(athlete.model_copy(update={"level": levels}) for athlete in brief.athletes)
        return brief.model_copy(update={"athletes": athletes}), measurements

    programme = outcome(resolved(path, change=at_level))
    assert isinstance(programme, Programme)
    return programme


def of_athlete(programme: Programme, athlete: str) -> AthleteProgramme:
    """Give one athlete's part."""
    return next(own for own in programme.programmes if own.athlete == athlete)


def lines_of(
    week: Week, *, gym: bool | None = None, **fields: object
) -> Iterator[tuple[Session, Prescription]]:
    """Give a week's working lines whose fields have these values, on gym days, field days or both."""
    for session in week.sessions:
        if gym is not None and (session.place == "gym") != gym:
            continue
        for line in session.prescriptions:
            same = all(getattr(line, name) == value for name, value in fields.items())
            if line.purpose == "work" and same:
                yield session, line

"""The demo squad in the middle of its programme, planned once for all tests that look at it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from functools import cache
from importlib.resources import as_file, files

from speedloom.cli._demo_life import Life, life, moved
from speedloom.exchange.brief_file import read_brief
from speedloom.training.brief import Brief
from speedloom.training.exercise import load_catalogue
from speedloom.training.measurement import Measurements
from speedloom.training.programme import Programme
from speedloom.training.rule import load_rulebook
from speedloom.workflows.plan_programme import plan_programme
from speedloom.workflows.resolve_brief import resolve_brief

TODAY = date(2026, 11, 25)
"""A Wednesday."""


@dataclass(frozen=True)
class Living:
    """A squad with its programme and the life behind it."""

    brief: Brief
    measurements: Measurements
    programme: Programme
    life: Life


def demo_brief() -> tuple[Brief, Measurements]:
    """Read the demo squad as it is written."""
    with as_file(files("speedloom.cli") / "demo_squad") as squad:
        return read_brief(squad / "spring_build.toml")


def demo_on(today: date) -> tuple[Brief, Measurements]:
    """Give the demo squad as it is on a day."""
    return moved(*demo_brief(), today=today)


@cache
def living(*athletes: str) -> Living:
    """Plan the squad of `TODAY`, or some of it, and give it with its life."""
    brief, measurements = demo_on(TODAY)
    if athletes:
        brief = brief.model_copy(
            update={"athletes": tuple(one for one in brief.athletes if one.ref in athletes)}
        )
        measurements = Measurements(
            trials=tuple(one for one in measurements.trials if one.athlete in athletes),
            lifts=tuple(one for one in measurements.lifts if one.athlete in athletes),
        )
    rulebook, catalogue = load_rulebook(), load_catalogue()
    resolved = resolve_brief(brief, measurements, rulebook=rulebook, catalogue=catalogue)
    programme = plan_programme(resolved, rulebook=rulebook, catalogue=catalogue)
    assert isinstance(programme, Programme)
    return Living(brief, measurements, programme, life(programme, measurements, today=TODAY))

"""Check a programme against every rule it can break."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from speedloom.checking.finding import Finding, Findings, merge
from speedloom.checking.register import CHECKS
from speedloom.checking.scene import Scene
from speedloom.training.brief import ResolvedBrief
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Programme
from speedloom.training.rule import Rulebook

NEVER_PAST = ("document_sound", "derivation", "basis_present")
"""Rules about the document itself: they hold for days gone by as well."""


def check(
    programme: Programme, *, brief: ResolvedBrief | None, rulebook: Rulebook, catalogue: Catalogue
) -> Findings:
    """Find every rule that a programme does not keep; days that are frozen are context, not judged."""
    return judged(Scene(programme, brief, rulebook, catalogue))


def judged(scene: Scene) -> Findings:
    """Find the same in a scene that is there."""
    return merge(_judged(scene))


def _judged(scene: Scene) -> Iterator[Finding]:
    past = set(_past(scene))
    for rule in sorted(CHECKS):
        for finding in CHECKS[rule](scene):
            where = finding.session or f"{finding.athlete}-w{finding.week}"
            if rule in NEVER_PAST or where not in past:
                yield finding


def _past(scene: Scene) -> Iterator[str]:
    """Name the sessions, and the weeks as a whole, that are frozen."""
    for person in scene.people:
        for week in person.programme.weeks:
            if scene.is_over(week.monday + timedelta(days=6)):
                yield f"{person.ref}-w{week.number}"
            yield from (session.ref for session in week.sessions if scene.is_over(session.date))

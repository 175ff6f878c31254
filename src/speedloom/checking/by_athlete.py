"""The check of a squad put together from those of its athletes: after a change, most stand already."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from speedloom.checking.check import judged
from speedloom.checking.finding import Finding, Findings, merge
from speedloom.checking.people import Person
from speedloom.checking.rules.basis import under
from speedloom.checking.scene import Scene
from speedloom.training.brief import ResolvedBrief
from speedloom.training.document import Beside
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import AthleteProgramme, Node, Programme
from speedloom.training.rule import Rulebook

Rests = tuple[ResolvedBrief | None, Rulebook, Catalogue, date | None, tuple[int, ...]]
"""What an athlete's findings rest on beside weeks and steps: brief, books, what is over, who is there."""

OF_ALL = frozenset({"derivation", "adult_named"})
"""Rules that name one place for what several athletes may share."""


@dataclass(frozen=True)
class _Part:
    """What was found about one athlete, with all that it rests on."""

    rests: Rests
    steps: Mapping[str, Node]
    found: tuple[Finding, ...]

    def stands(self, rests: Rests, basis: Mapping[str, Node]) -> bool:
        """Say whether it would be found again: the brief and every step are the very ones in memory."""
        same = self.rests[0] is rests[0] and self.rests[1:] == rests[1:]
        return same and all(basis.get(name) is node for name, node in self.steps.items())


_PARTS = Beside[_Part]()


def check_by_athlete(
    programme: Programme, *, brief: ResolvedBrief | None, rulebook: Rulebook, catalogue: Catalogue
) -> Findings:
    """Find what `check` finds, looking only at athletes for whom something is new since they were looked at.

    What is of no athlete, and a step that does not hold, are of the document: then it is looked at whole.
    """
    scene = Scene(programme, brief, rulebook, catalogue)
    parts = [_part(scene, person) for person in scene.people]
    if not _of_athletes(programme, parts):
        return judged(scene)
    return merge(finding for part in parts for finding in part.found)


def _of_athletes(programme: Programme, parts: Sequence[_Part]) -> bool:
    """Say whether the parts are the whole: no athlete twice, every step somebody's, nothing wrong besides."""
    once = len({own.athlete for own in programme.programmes}) == len(programme.programmes)
    steps = {name for part in parts for name in part.steps}
    told = (one for part in parts for one in part.found)
    return (
        once
        and len(steps) == len(programme.basis)
        and all(one.athlete is not None and one.rule not in OF_ALL for one in told)
    )


def _part(scene: Scene, person: Person) -> _Part:
    own, programme = person.programme, scene.programme
    present = tuple(map(scene.squad, scene.held(person)))
    rests: Rests = (scene.brief, scene.book, scene.catalogue, programme.revision.frozen_until, present)
    known = _PARTS.get(own)
    if known is not None and known.stands(rests, programme.basis):
        return known
    reached = under(programme.basis, _named(own))
    steps = {name: node for name, node in programme.basis.items() if name in reached}
    alone = programme.model_copy(update={"programmes": (own,), "basis": steps})
    found = judged(Scene(alone, scene.brief, scene.book, scene.catalogue, present=scene.squads))
    return _PARTS.keep(own, _Part(rests, steps, found.items))


def _named(own: AthleteProgramme) -> Iterator[str]:
    for week in own.weeks:
        yield from week.basis.values()
        for session in week.sessions:
            yield from session.basis.values()
            yield from (name for line in session.prescriptions for name in line.basis.values())

"""Copy one athlete's programme to another of the squad: the same days and exercises, but own numbers."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from speedloom.errors import EditError
from speedloom.planning.acts import Act, Add, Remove, Swap
from speedloom.planning.clash import Clash
from speedloom.planning.edited import Change
from speedloom.planning.for_exercise import drafted_for
from speedloom.planning.ledger import Ledger
from speedloom.planning.past import OUT
from speedloom.planning.rework import DraftsOf, ledger_of
from speedloom.training.athlete import Athlete
from speedloom.training.brief import ResolvedBrief
from speedloom.training.exercise import Catalogue
from speedloom.training.measurement import Measurements
from speedloom.training.programme import AthleteProgramme, Prescription, Programme, Session, Week
from speedloom.training.rule import Rulebook
from speedloom.training.succession import succeeding
from speedloom.workflows.copy_week import same_part, work_of
from speedloom.workflows.edit import brief_of, edited_content, next_revision
from speedloom.workflows.lines import drafts, measurements_of, reworked_content
from speedloom.workflows.replan import replan
from speedloom.workflows.resolve_brief import resolve_brief


@dataclass(frozen=True)
class LeftOut:
    """An exercise of a day that the other athlete does not do: not allowed there, or without numbers."""

    date: date
    exercise: str


@dataclass(frozen=True)
class CopiedProgramme:
    """The programme with the other athlete's weeks in it, and what could not be taken over."""

    programme: Programme
    left_out: tuple[LeftOut, ...]


def with_athlete(
    brief: ResolvedBrief,
    person: Athlete,
    measurements: Measurements,
    *,
    rulebook: Rulebook,
    catalogue: Catalogue,
) -> ResolvedBrief:
    """Give a programme's brief with one athlete more, and what was measured of that athlete.

    Args:
        brief: the brief inside the programme.
        person: who joins.
        measurements: everything measured; only what is of that athlete is taken.
        rulebook: the packaged rulebook.
        catalogue: the packaged catalogue.
    """
    own = measurements_of(measurements, person.ref)
    alone = brief.model_copy(update={"athletes": (person,)})
    book = rulebook.with_changes(brief.rules)
    resolved = resolve_brief(alone, own, rulebook=book, catalogue=catalogue)
    joined = {
        name: (*getattr(brief.measurements, name), *getattr(resolved.measurements, name))
        for name in Measurements.model_fields
    }
    people = sorted((*brief.athletes, *resolved.athletes), key=lambda one: one.ref)
    known = {entry.ref: entry for entry in (*resolved.catalogue, *brief.catalogue)}
    return brief.model_copy(
        update={
            "athletes": tuple(people),
            "measurements": Measurements(**joined),
            "catalogue": tuple(known[ref] for ref in sorted(known)),
            "assumed": (*brief.assumed, *(one for one in resolved.assumed if one not in brief.assumed)),
        }
    )


def copy_programme(
    programme: Programme,
    source: str,
    target: str,
    *,
    since: date,
    brief: ResolvedBrief | None = None,
    reason: str,
    rulebook: Rulebook,
    catalogue: Catalogue,
) -> CopiedProgramme | Clash:
    """Take one athlete's days and exercises from a day on into another's weeks of the same programme.

    Whoever is not in the programme joins it. Every number is written by the formulas for the other athlete:
    own tests, level, restrictions and kit.

    Args:
        programme: the revision before.
        source: whose days and exercises.
        target: whose weeks.
        since: first day that is copied.
        brief: the brief with the other athlete in it; None for somebody who is in the programme.
        reason: why, in the coach's words.
        rulebook: the packaged rulebook.
        catalogue: the packaged catalogue.

    Raises:
        EditError: no such athletes, or a day that is over.
    """
    brief_of(programme, reason)
    own = _own(programme, source)
    if source == target:
        message = f"Expected another athlete than {source}; copy a week to copy within one programme."
        raise EditError(message)
    made: Programme | Clash = programme
    if all(one.athlete != target for one in programme.programmes):
        made = _joined(
            programme, target, since=since, brief=brief, reason=reason, rulebook=rulebook, catalogue=catalogue
        )
    if isinstance(made, Clash):
        return made
    copy = _Copy(made, own, _own(made, target), since, catalogue, rulebook)
    copied, left = copy.done(reason)
    frozen = made.revision.frozen_until
    revision = next_revision(programme, "edit", reason).model_copy(update={"frozen_until": frozen})
    same = copied.programmes == programme.programmes
    return CopiedProgramme(
        programme if same else succeeding(copied, before=programme, revision=revision), left_out=tuple(left)
    )


def _own(programme: Programme, athlete: str) -> AthleteProgramme:
    own = next((one for one in programme.programmes if one.athlete == athlete), None)
    if own is None:
        known = ", ".join(one.athlete for one in programme.programmes)
        message = f"{athlete}: expected an athlete of the programme ({known})."
        raise EditError(message)
    return own


def _joined(
    programme: Programme,
    target: str,
    *,
    since: date,
    brief: ResolvedBrief | None,
    reason: str,
    rulebook: Rulebook,
    catalogue: Catalogue,
) -> Programme | Clash:
    if brief is None or all(one.ref != target for one in brief.athletes):
        message = f"{target}: expected an athlete of the programme, or a brief with this athlete in it."
        raise EditError(message)
    return replan(programme, since=since, brief=brief, rulebook=rulebook, catalogue=catalogue, reason=reason)


@dataclass(frozen=True)
class _Copy:
    """One athlete's days beside another's."""

    programme: Programme
    source: AthleteProgramme
    target: AthleteProgramme
    since: date
    catalogue: Catalogue
    rulebook: Rulebook

    def done(self, reason: str) -> tuple[Programme, list[LeftOut]]:
        """Give the programme with the copy made, and what was left out."""
        brief = brief_of(self.programme, reason)
        book = self.rulebook.with_changes(brief.rules)
        days = drafts(self.programme, brief, rulebook=book, catalogue=self.catalogue)
        fits = _Fits(days, self.target, self._ledger(brief, book), self.catalogue)
        acts: list[Act] = []
        left: list[LeftOut] = []
        changes: list[Change] = []
        for week, a, b in self._pairs():
            acts += _session_acts(a, b, week, fits, left)
            changes += _moves(a, b)
        gone = list(self._gone())
        made = self.programme
        if acts or gone:
            made = reworked_content(
                made,
                [*acts, *gone],
                reason=reason,
                rulebook=self.rulebook,
                catalogue=self.catalogue,
                unlock=True,
            )
        if changes:
            made = edited_content(made, changes, reason=reason, rulebook=self.rulebook, unlock=True)
        return made, left

    def _ledger(self, brief: ResolvedBrief, book: Rulebook) -> Ledger:
        return ledger_of(self.programme, {self.target.athlete}, brief=brief, rulebook=book)

    def _weeks(self) -> Iterator[tuple[Week, Week]]:
        others = {week.number: week for week in self.target.weeks}
        yield from ((week, others[week.number]) for week in self.source.weeks if week.number in others)

    def _pairs(self) -> Iterator[tuple[Week, Session, Session]]:
        """Give the sessions of one slot in one week that lie ahead for both."""
        for week, other in self._weeks():
            slots = {one.slot: one for one in other.sessions if one.date >= self._first}
            for session in week.sessions:
                like = slots.get(session.slot)
                if session.slot is not None and like is not None and session.date >= self._first:
                    yield other, session, like

    def _gone(self) -> Iterator[Act]:
        """Take out what the coach has taken out of the other's week."""
        for week, other in self._weeks():
            out = {name.removeprefix(OUT) for name in week.basis if name.startswith(OUT)}
            yield from (
                Remove(one.ref) for one in other.sessions if one.slot in out and one.date >= self._first
            )

    @property
    def _first(self) -> date:
        frozen = self.programme.revision.frozen_until
        return self.since if frozen is None else max(self.since, frozen + timedelta(days=1))


@dataclass(frozen=True)
class _Fits:
    """Says whether the formulas have numbers for an exercise on one of the other athlete's days."""

    days: DraftsOf
    target: AthleteProgramme
    ledger: Ledger
    catalogue: Catalogue

    def __call__(self, week: Week, session: Session, exercise: str, instead: str | None) -> bool:
        entry = self.catalogue.get(exercise)
        filled = self.days(self.target, week.number, self.ledger).get(session.ref)
        if entry is None or filled is None:
            return False
        before = None if instead is None else self.catalogue.get(instead)
        return drafted_for(filled, entry, instead=before) is not None

    @property
    def same_part(self) -> Callable[[Prescription, Prescription], bool]:
        """Say whether two lines stand for the same part of a session."""
        return lambda old, new: same_part(old, new, self.catalogue)


def _session_acts(a: Session, b: Session, week: Week, fits: _Fits, left: list[LeftOut]) -> Iterator[Act]:
    there: Mapping[object, Prescription] = work_of(b)
    lines = work_of(a)
    free = [line for key, line in there.items() if key not in lines]
    some_left = len(free) < len(there)
    for line in (line for key, line in lines.items() if key not in there):
        instead = next((one for one in free if fits.same_part(one, line)), None)
        if not fits(week, b, line.exercise, instead.exercise if instead else None):
            left.append(LeftOut(b.date, line.exercise))
            some_left = some_left or instead is not None
            if instead is not None:
                free.remove(instead)  # What the formulas chose for this athlete stands in its place.
            continue
        some_left = True
        if instead is None:
            yield Add(b.ref, line.exercise, cue=line.cue if "cue" in line.locked else "")
        else:
            free.remove(instead)
            yield Swap(instead.ref, line.exercise)
    if some_left:
        yield from (Remove(line.ref) for line in free)


def _moves(a: Session, b: Session) -> Iterator[Change]:
    """Move a session that the coach has moved by hand."""
    if "date" in a.basis and a.date != b.date:
        yield Change(b.ref, "date", a.date.isoformat())
    if "start" in a.basis and a.start != b.start:
        yield Change(b.ref, "start", a.start.strftime("%H:%M"))

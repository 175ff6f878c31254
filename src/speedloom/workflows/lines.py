"""Swap, add and take out lines and sessions by hand, as one new revision; what can be swapped and added."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from difflib import get_close_matches
from functools import cache
from math import inf
from typing import Any

from pydantic import ValidationError

from speedloom.errors import EditError
from speedloom.planning.acts import Act, Add, Remove, Swap, where
from speedloom.planning.for_exercise import drafted_for, suits
from speedloom.planning.holding import LINE_NUMBERS
from speedloom.planning.ledger import Ledger
from speedloom.planning.measured import athlete_numbers
from speedloom.planning.past import Past
from speedloom.planning.problem import Filled
from speedloom.planning.redrafted import drafts_behind
from speedloom.planning.rework import DraftsOf, ledger_of, reworked
from speedloom.planning.setting import Plan
from speedloom.training.brief import ResolvedBrief
from speedloom.training.exercise import Catalogue, Exercise
from speedloom.training.measurement import Measurements
from speedloom.training.programme import AthleteProgramme, Programme
from speedloom.training.rule import Rulebook
from speedloom.training.succession import succeeding
from speedloom.training.words import COACH_METHODS, SPRINTS
from speedloom.workflows.edit import brief_of, next_revision, refused
from speedloom.workflows.editable import can_have, line_number
from speedloom.workflows.group import Found, for_group, found
from speedloom.workflows.locked import locked_by_acts
from speedloom.workflows.plan_programme import measured_athletes

MOST_MINUTES = 180
SHOWN = ("warm_up", "other")
"""Places in the catalogue that nobody adds a line of work from, but for a coach's own line."""
OWN_LINE = "own_line"


@dataclass(frozen=True)
class Choice:
    """An exercise that can be done on a day, and whether the formulas write its numbers."""

    exercise: Exercise
    prescribed: bool


def rework(
    programme: Programme,
    acts: Sequence[Act],
    *,
    reason: str,
    rulebook: Rulebook,
    catalogue: Catalogue,
    unlock: bool = False,
) -> Programme:
    """Swap, add and take out, as one new revision; everything is possible or nothing is done.

    Args:
        programme: the revision before.
        acts: what is done.
        reason: why, in the coach's words.
        rulebook: the packaged rulebook.
        catalogue: the packaged catalogue.
        unlock: whether lines and sessions that are locked are changed too.

    Raises:
        EditError: every fault, a line each.
    """
    made = reworked_content(
        programme, acts, reason=reason, rulebook=rulebook, catalogue=catalogue, unlock=unlock
    )
    return succeeding(made, before=programme, revision=next_revision(programme, "edit", reason))


def rework_group(
    programme: Programme,
    act: Act,
    *,
    reason: str,
    rulebook: Rulebook,
    catalogue: Catalogue,
    unlock: bool = False,
) -> tuple[Programme, tuple[str, ...]]:
    """Do the same for everybody who does that line, or has that session, that day.

    Give the programme and the athletes for whom it cannot be done: they keep what they had. For the one who
    is asked for it must be possible. Arguments and faults are those of `rework`.
    """
    first, *others = for_group(programme, act)
    brief = brief_of(programme, reason)
    possible = _allowed(programme, [first, *others], catalogue, unlock=unlock)
    spare = frozenset(where(one) for one in others)
    made, left = _made(programme, possible, brief, reason=reason, books=(rulebook, catalogue), spare=spare)
    known = dict(found(programme))
    revision = next_revision(programme, "edit", reason)
    made = succeeding(made, before=programme, revision=revision)
    return made, tuple(known[ref].athlete for ref in left)


def reworked_content(
    programme: Programme,
    acts: Sequence[Act],
    *,
    reason: str,
    rulebook: Rulebook,
    catalogue: Catalogue,
    unlock: bool = False,
) -> Programme:
    """Give the content that `rework` makes, under the revision it was made from; the same faults."""
    brief = brief_of(programme, reason)
    possible = _allowed(programme, acts, catalogue, unlock=unlock)
    return _made(programme, possible, brief, reason=reason, books=(rulebook, catalogue))[0]


def _allowed(programme: Programme, acts: Sequence[Act], catalogue: Catalogue, *, unlock: bool) -> list[Act]:
    """Give the acts with their numbers read.

    Raises:
        EditError: every fault, a line each; what is locked, where that is not to be changed.
    """
    possible = _possible(programme, acts, catalogue)
    held = [] if unlock else locked_by_acts(programme, possible)
    if held:
        raise EditError("\n".join(held))
    return possible


def _made(
    programme: Programme,
    acts: Sequence[Act],
    brief: ResolvedBrief,
    *,
    reason: str,
    books: tuple[Rulebook, Catalogue],
    spare: frozenset[str] = frozenset(),
) -> tuple[Programme, tuple[str, ...]]:
    book, catalogue = books[0].with_changes(brief.rules), books[1]
    known = dict(found(programme))
    athletes = {known[where(act)].athlete for act in acts}
    ledger = ledger_of(programme, athletes, brief=brief, rulebook=book)
    days = drafts(programme, brief, rulebook=book, catalogue=catalogue)
    try:
        return reworked(programme, acts, ledger=ledger, drafts_of=days, reason=reason, spare=spare)
    except ValidationError as error:
        raise EditError(refused(error)) from error


def drafts(
    programme: Programme, brief: ResolvedBrief, *, rulebook: Rulebook, catalogue: Catalogue
) -> DraftsOf:
    """Give what drafts the days of a programme's weeks again.

    Args:
        programme: the programme.
        brief: the brief inside it.
        rulebook: the rulebook with the brief's changes.
        catalogue: the packaged catalogue.
    """
    frozen = programme.revision.frozen_until
    since = brief.start if frozen is None else frozen + timedelta(days=1)
    people = {athlete.ref: athlete for athlete in brief.athletes}

    @cache
    def measured(ref: str) -> Any:  # noqa: ANN401 - a measured athlete or None
        alone = brief.model_copy(
            update={"athletes": (people[ref],), "measurements": measurements_of(brief.measurements, ref)}
        )
        return measured_athletes(alone, rulebook=rulebook).get(ref)

    known: dict[tuple[str, int], Mapping[str, Filled]] = {}

    def drafts_of(own: AthleteProgramme, week: int, ledger: Ledger) -> Mapping[str, Filled]:
        if own.athlete not in people:
            return {}
        if (own.athlete, week) not in known:
            athlete = people[own.athlete]
            numbers = athlete_numbers(ledger, athlete, measured=measured(own.athlete))
            # The weeks before are taken as they stand: without news they come out the same.
            monday = next(one.monday for one in own.weeks if one.number == week)
            past = Past(max(since, monday), own, Ledger(brief, rulebook), through_locks=True)
            plan = Plan(brief, rulebook, catalogue, ledger, athlete, numbers, past=past)
            known[own.athlete, week] = drafts_behind(plan, week=week)
        return known[own.athlete, week]

    return drafts_of


def measurements_of(measurements: Measurements, athlete: str) -> Measurements:
    """Give what was measured of one athlete."""
    names = Measurements.model_fields
    found_ = {
        name: tuple(one for one in getattr(measurements, name) if one.athlete == athlete) for name in names
    }
    return measurements.model_copy(update=found_)


def substitutes(
    programme: Programme, ref: str, *, rulebook: Rulebook, catalogue: Catalogue
) -> tuple[Choice, ...]:
    """Give what can be done instead of a line's exercise on that day, by that athlete, with that kit.

    Those that the catalogue names as substitutes come first, then the others of the same place in a session.

    Raises:
        EditError: there is no such line, or it cannot be changed.
    """
    at, filled = _day(programme, ref, rulebook=rulebook, catalogue=catalogue)
    old = None if at.line is None else catalogue.get(at.line.exercise)
    if at.line is None or old is None or filled is None:
        return ()
    named = [catalogue.get(one) for one in old.substitutes]
    beside = [one for one in catalogue.in_slot(old.slot) if one.ref not in old.substitutes]
    others = [one for one in (*named, *beside) if one is not None and one.ref != old.ref]
    fit = (one for one in others if one.method == old.method and suits(filled.setting, one))
    choices = (Choice(one, prescribed=drafted_for(filled, one, instead=old) is not None) for one in fit)
    # A run that no formula times goes by effort, with the counts that stood; other work needs numbers.
    return tuple(one for one in choices if one.prescribed or one.exercise.method in SPRINTS)


def additions(
    programme: Programme, ref: str, *, rulebook: Rulebook, catalogue: Catalogue
) -> tuple[Choice, ...]:
    """Give what can be added to a session, by that athlete, with that kit.

    Raises:
        EditError: there is no such session, or it cannot be changed.
    """
    at, filled = _day(programme, ref, rulebook=rulebook, catalogue=catalogue)
    if filled is None:
        return ()
    done = {line.exercise for line in at.session.prescriptions}
    fit = [
        one
        for one in catalogue.exercises
        if one.ref not in done
        and one.ref != OWN_LINE
        and (one.slot not in SHOWN or one.method in COACH_METHODS)
        and one.slot != "warm_up"
        and suits(filled.setting, one)
    ]
    return tuple(Choice(one, prescribed=drafted_for(filled, one) is not None) for one in fit)


def _day(
    programme: Programme, ref: str, *, rulebook: Rulebook, catalogue: Catalogue
) -> tuple[Found, Filled | None]:
    at = dict(found(programme)).get(ref)
    brief = programme.brief.content
    if at is None:
        raise EditError(_unknown(programme, ref))
    if brief is None:
        return at, None
    book = rulebook.with_changes(brief.rules)
    days = drafts(programme, brief, rulebook=book, catalogue=catalogue)
    own = next(one for one in programme.programmes if one.athlete == at.athlete)
    ledger = ledger_of(programme, {at.athlete}, brief=brief, rulebook=book)
    return at, days(own, at.week.number, ledger).get(at.session.ref)


def _possible(programme: Programme, acts: Sequence[Act], catalogue: Catalogue) -> list[Act]:
    """Give the acts with numbers as the document holds them.

    Raises:
        EditError: every fault, a line each.
    """
    known = dict(found(programme))
    checked = [_checked(programme, act, known, catalogue) for act in acts]
    faults = [one for one in checked if isinstance(one, str)]
    once = Counter(where(act) for act in acts if not isinstance(act, Add))
    faults += [f"{ref}: expected one change of it, got {count}." for ref, count in once.items() if count > 1]
    gone = {act.ref for act in acts if isinstance(act, Remove)}
    faults += [
        f"{where(act)}: its whole session is taken out at the same time; keep one of the two."
        for act in acts
        if (at := known.get(where(act))) and at.session.ref in gone and where(act) not in gone
    ]
    if not acts:
        faults.append("Expected something to swap, add or take out, got nothing.")
    if faults:
        raise EditError("\n".join(faults))
    return [one for one in checked if not isinstance(one, str)]


def _checked(programme: Programme, act: Act, known: Mapping[str, Found], catalogue: Catalogue) -> Act | str:
    """Give an act that can be done, or what is wrong with it."""
    at = known.get(where(act))
    if at is None:
        return _unknown(programme, where(act))
    fault = _over(programme, at) or _other_kind(act, at) or _other_exercise(act, at, catalogue)
    if fault:
        return f"{where(act)}: {fault}"
    return act if isinstance(act, Remove) else _with_numbers(act, catalogue)


def _over(programme: Programme, at: Found) -> str:
    frozen = programme.revision.frozen_until
    if frozen is None or at.session.date > frozen:
        return ""
    return f"expected a day after {frozen}, got {at.session.date}; the past is frozen."


def _other_kind(act: Act, at: Found) -> str:
    if at.line is not None and at.line.purpose != "work":
        return "expected a line of work; the warm-up follows from the level and the place."
    if isinstance(act, Swap) and at.line is None:
        return "expected the ref of a line, got a session's."
    if isinstance(act, Add) and at.line is not None:
        return f"expected the ref of a session, got a line's; it is in {at.session.ref}."
    return ""


def _other_exercise(act: Act, at: Found, catalogue: Catalogue) -> str:
    if isinstance(act, Remove):
        return ""
    if catalogue.get(act.exercise) is None:
        return _no_exercise(act.exercise, catalogue)
    if at.line is not None and at.line.exercise == act.exercise:
        return f"expected another exercise, got {act.exercise}, which stands there."
    return ""


def _with_numbers(act: Swap | Add, catalogue: Catalogue) -> Act | str:
    """Give an act with its numbers read, or what is wrong with one of them."""
    place = f"{where(act)}, {act.exercise}"
    entry = catalogue.get(act.exercise)
    method = (act.method if isinstance(act, Add) else None) or (entry.method if entry else "other")
    try:
        numbers = {name: _number(name, value) for name, value in act.numbers.items()}
        minutes = None if act.minutes is None else _minutes(act.minutes)
    except ValueError as error:
        return f"{place}: {error}"
    strange = [name for name in numbers if not can_have(method, name)]
    if strange:
        return f"{place}: a line of {method.replace('_', ' ')} has no {' and no '.join(strange)}."
    if numbers.get("reps_to", inf) < numbers.get("reps", 0):
        return f"{place}: expected reps_to of at least reps, got {numbers['reps_to']:g}."
    return replace(act, numbers=numbers, minutes=minutes)


def _number(name: str, value: Any) -> float:  # noqa: ANN401 - what was typed
    if name not in LINE_NUMBERS:
        message = f"expected one of {', '.join(LINE_NUMBERS)}, got {name}."
        raise ValueError(message)
    try:
        return line_number(name, value)
    except ValueError as error:
        message = f"{name}: {error}"
        raise ValueError(message) from error


def _minutes(value: Any) -> float:  # noqa: ANN401 - what was typed
    try:
        minutes = float(str(value).replace(",", "."))
    except ValueError:
        minutes = 0.0
    if not 0 < minutes <= MOST_MINUTES:
        message = f"minutes: expected more than 0 and at most {MOST_MINUTES}, got {value}."
        raise ValueError(message)
    return minutes


def _unknown(programme: Programme, ref: str) -> str:
    near = get_close_matches(ref, [one for one, _ in found(programme)], n=1)
    hint = f"did you mean {near[0]}?" if near else "the sheets and `speedloom why --all` print them."
    return f"{ref}: expected the ref of a line or a session; {hint}"


def _no_exercise(ref: str, catalogue: Catalogue) -> str:
    near = get_close_matches(ref, [one.ref for one in catalogue.exercises], n=1)
    hint = f"did you mean {near[0]}?" if near else "docs/reference/exercises.md lists them."
    return f"expected an exercise of the catalogue, got {ref}; {hint}"

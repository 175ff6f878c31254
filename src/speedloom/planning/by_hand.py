"""Lines that the coach has chosen, added or taken out, put into a session that is drafted again."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from speedloom.planning.draft import Cost, Draft, Timing
from speedloom.planning.for_exercise import drafted_for, suits
from speedloom.planning.ledger import Ledger, Tag, literal
from speedloom.planning.past import OUT, volume_of
from speedloom.planning.problem import Filled
from speedloom.training.exercise import Exercise
from speedloom.training.programme import Prescription, Session
from speedloom.training.words import METHODS, SPRINTS

CHOSEN = "exercise"
"""The name of the node that says the coach has chosen a line's exercise; it stands among the line's locks."""
STANDING = "acceleration"
ORDER = (STANDING, *METHODS, "hamstring_groin_calf")
"""Kinds of work in the order they are done in (rule D4); what is not named comes last."""
LAST_RANK = 9
NOT_KEPT = frozenset({"ref", "locked", "basis", "purpose", "method", "exercise", "sets", "minutes"})


def chosen(line: Prescription, *, ledger: Ledger) -> Tag | None:
    """Give the node of an exercise that the coach has chosen, or None."""
    if CHOSEN not in line.locked or CHOSEN not in line.basis:
        return None
    return ledger.named(line.basis[CHOSEN])


def stood_before(tag: Tag, *, ledger: Ledger) -> str | None:
    """Give the exercise that a chosen one took the place of; None for one that came on top."""
    link = ledger.links_of(tag).get("proposed")
    return link.partition(":")[2] if isinstance(link, str) else None


def with_hand_made(filled: Filled, old: Session | None, *, ledger: Ledger) -> Filled:
    """Give a drafted session with the exercises that the coach chose, added and took out of its earlier self.

    What a restriction, the place or the kit no longer allows is not put in again.

    Args:
        filled: the session as it would be drafted now.
        old: its earlier self.
        ledger: the programme's ledger, with the earlier revision's basis in it.
    """
    if old is None:
        return filled
    catalogue = filled.setting.plan.catalogue
    gone = [catalogue.get(name.removeprefix(OUT)) for name in old.basis if name.startswith(OUT)]
    done = {line.exercise for line in old.prescriptions}
    drafts = [draft for draft in filled.drafts if not _is_out(draft, gone, done=done)]
    for line in old.prescriptions:
        tag = chosen(line, ledger=ledger)
        exercise = catalogue.get(line.exercise)
        if tag is None or exercise is None or not suits(filled.setting, exercise):
            continue
        before = stood_before(tag, ledger=ledger)
        drafts = _put_in(filled, drafts, line, tag, before=(before and catalogue.get(before)) or None)
    return replace(filled, drafts=tuple(drafts))


def _is_out(draft: Draft, gone: Iterable[Exercise | None], *, done: set[str]) -> bool:
    """Say whether a drafted line is one that was taken out, or stands where that one would stand now."""
    if draft.purpose != "work" or draft.exercise is None:
        return False
    return any(
        one is not None
        and (
            one.ref == draft.exercise_ref
            or (one.slot == draft.exercise.slot and draft.exercise_ref not in done)
        )
        for one in gone
    )


def _put_in(
    filled: Filled, drafts: list[Draft], line: Prescription, tag: Tag, *, before: Exercise | None
) -> list[Draft]:
    exercise = filled.setting.plan.catalogue.get(line.exercise)
    if exercise is None:
        return drafts
    made = (
        None
        if by_number(line, ledger=filled.setting.ledger)
        else drafted_for(filled, exercise, instead=before)
    )
    draft = made or as_it_stands(line, exercise, ledger=filled.setting.ledger)
    draft = replace(draft, basis=draft.basis | {CHOSEN: tag})
    if before is None:
        at = place_of(_kind_of(draft), [_kind_of(one) if one.purpose == "work" else "" for one in drafts])
        return [*drafts[:at], draft, *drafts[at:]]
    there = _place_before(drafts, before, line)
    return drafts if there is None else [*drafts[:there], draft, *drafts[there + 1 :]]


def _place_before(drafts: list[Draft], before: Exercise, line: Prescription) -> int | None:
    """Find the draft of what was planned where the coach's exercise stands; a part left out has none."""
    places = [
        at
        for at, draft in enumerate(drafts)
        if draft.purpose == "work"
        and draft.exercise is not None
        and (draft.exercise_ref in {before.ref, line.exercise} or draft.exercise.slot == before.slot)
        and CHOSEN not in draft.basis
    ]
    exact = [at for at in places if drafts[at].exercise_ref == before.ref]
    return next(iter(exact or places), None)


def _kind_of(draft: Draft) -> str:
    return kind_of(draft.method, draft.fields.get("run"))


def kind_of(method: str, run: object) -> str:
    """Name the kind of work that orders a session: standing runs come before the other sprints."""
    return STANDING if run == STANDING else method


def place_of(kind: str, kinds: Iterable[str]) -> int:
    """Give the place of a new line among others, in the order work is done in: after all of its kind.

    >>> place_of("power", ["", "unloaded_sprint", "maximal_strength"])
    2
    >>> place_of("acceleration", ["", "unloaded_sprint"]), place_of("unloaded_sprint", ["", "acceleration"])
    (1, 2)
    """
    found = list(kinds)
    rank = _rank(kind)
    return max((at for at, one in enumerate(found, 1) if not one or _rank(one) <= rank), default=0)


def _rank(kind: str) -> int:
    # General strength and hamstring, groin and calf stand side by side: either may come first.
    name = "general_strength" if kind == "hamstring_groin_calf" else kind
    return ORDER.index(name) if name in ORDER else len(ORDER)


def by_number(line: Prescription, *, ledger: Ledger) -> bool:
    """Say whether the coach has written a line whole, its minutes too."""
    minutes = line.basis.get("minutes")
    return minutes is not None and ledger.nodes[ledger.named(minutes).index].by == "coach"


def as_it_stands(line: Prescription, exercise: Exercise, *, ledger: Ledger) -> Draft:
    """Give a line that no formula writes as a draft: all of it, or nothing of it."""
    basis = {name: ledger.named(node) for name, node in line.basis.items()}
    sets = basis.pop("sets")
    fields = {name: value for name, value in _said(line).items() if name not in NOT_KEPT}
    each = _each(line, exercise, basis, ledger=ledger)
    return Draft(
        key=f"hand_{line.exercise}",
        method=line.method,
        exercise=exercise,
        exercise_ref=line.exercise,
        counted="sets",
        other=basis["reps"],
        proposed=sets,
        fewest=line.sets,
        most=line.sets,
        cost=Cost(rank=LAST_RANK, drop_rank=LAST_RANK),
        timing=Timing(work=sets),
        volume=None if each is None else volume_of(line),
        each=each,
        per_unit=0.0 if each is None else float(each.value),
        wanted=None if each is None else ledger.compute("wanted", "1", "product", sets=sets, each=each),
        optional=True,
        fields=fields,
        basis=basis,
        minutes=line.minutes,
    )


def _said(line: Prescription) -> dict[str, Any]:
    """Give what a line says, without what it leaves open."""
    return {name: getattr(line, name) for name in type(line).model_fields if getattr(line, name) is not None}


def _each(line: Prescription, exercise: Exercise, basis: dict[str, Tag], *, ledger: Ledger) -> Tag | None:
    """Enter what one set adds to its method's week, or None where none is kept."""
    if volume_of(line) is None:
        return None
    if line.method in SPRINTS:
        if "distance_m" not in basis:
            return None
        return ledger.compute(
            "metres a set", "m", "product", reps=basis["reps"], distance=basis["distance_m"]
        )
    if line.method != "plyometric":
        return ledger.given("a set", 1, "sets", literal(1))
    return ledger.compute(
        "contacts a set",
        "contacts",
        "contacts.line",
        sets=literal(1),
        reps=basis["reps"],
        contacts_per_rep=literal(exercise.contacts_per_rep),
        sides=literal(line.side),
    )

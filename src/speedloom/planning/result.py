"""The finished document: refs and node names, given out once."""

from __future__ import annotations

from typing import Any

from speedloom.planning.assembled import AthleteDraft, assembled, standing
from speedloom.planning.athlete_plan import PlannedAthlete
from speedloom.planning.earlier import Earlier
from speedloom.planning.ledger import Ledger
from speedloom.training.brief import ResolvedBrief
from speedloom.training.document import digest
from speedloom.training.exercise import Exercise
from speedloom.training.programme import BriefCopy, Programme, Revision, RulebookStamp, Unmet
from speedloom.training.rule import Rulebook
from speedloom.training.succession import succeeding

ENGINE = "speedloom 0.1.0"


def programme_of(
    brief: ResolvedBrief,
    athletes: tuple[PlannedAthlete, ...],
    *,
    rulebook: Rulebook,
    ledger: Ledger,
    profiles: dict[str, str],
    earlier: Earlier | None = None,
) -> Programme:
    """Assemble the document; the one before comes back where nothing is new."""
    drafts = [assembled(athlete, profiles.get(athlete.plan.athlete.ref)) for athlete in athletes]
    unmet = [item for athlete in athletes for item in athlete.unmet]
    if earlier:
        staying = {athlete.plan.athlete.ref for athlete in athletes}
        drafts += [standing(own, ledger) for own in earlier.who_left(staying)]
        drafts.sort(key=lambda draft: draft.programme.athlete)
        brief = _with_catalogue(brief, earlier.brief.catalogue, drafts)
    names, basis = ledger.numbered(tag for draft in drafts for tag in draft.tags())
    brief = brief.model_copy(update={"catalogue": _used(brief, athletes)})
    brief_digest = digest(brief)
    made = Programme(
        schema="speedloom.programme/1",
        id=earlier.programme.id if earlier else _identity(brief_digest, rulebook),
        revision=earlier.programme.revision if earlier else Revision(),
        engine=ENGINE,
        seed=brief.seed,
        timezone=brief.timezone,
        rulebook=RulebookStamp(digest=rulebook.digest, changed=rulebook.changed),
        brief=BriefCopy(digest=brief_digest, content=brief),
        programmes=tuple(draft.named(names) for draft in drafts),
        basis=basis,
        unmet=tuple(sorted(unmet, key=_unmet_order)),
    )
    if earlier is None:
        return made
    made = succeeding(made, before=earlier.programme, revision=earlier.revision())
    return earlier.programme if _same(made, earlier.programme) else made


def _same(made: Programme, old: Programme) -> bool:
    """Say whether a programme that was planned again is what it was, whatever the engine that made it."""
    beside: dict[str, Any] = {"basis": {}, "engine": "", "revision": old.revision}
    return made.model_copy(update=beside) == old.model_copy(update=beside)


def _with_catalogue(
    brief: ResolvedBrief, earlier: tuple[Exercise, ...], drafts: list[AthleteDraft]
) -> ResolvedBrief:
    """Keep the entries of exercises in sessions that stand: the programme stands alone."""
    named = {
        line.exercise
        for draft in drafts
        for week in draft.programme.weeks
        for session in week.sessions
        for line in session.prescriptions
    }
    known = {entry.ref for entry in brief.catalogue}
    kept = tuple(entry for entry in earlier if entry.ref in named and entry.ref not in known)
    return brief.model_copy(update={"catalogue": (*brief.catalogue, *kept)})


def _used(brief: ResolvedBrief, athletes: tuple[PlannedAthlete, ...]) -> tuple[Exercise, ...]:
    """Give the catalogue's entries that the programme names, with those the brief names: it stands alone."""
    used = {exercise.ref: exercise for exercise in brief.catalogue}
    for athlete in athletes:
        for week in athlete.weeks:
            for session in week.sessions:
                lines = (line.draft.exercise for line in session.lines)
                used |= {exercise.ref: exercise for exercise in lines if exercise is not None}
    return tuple(used[ref] for ref in sorted(used))


def _identity(brief_digest: str, rulebook: Rulebook) -> str:
    from hashlib import sha256  # noqa: PLC0415

    return sha256(f"{brief_digest}{rulebook.digest}".encode()).hexdigest()[:12]


def _unmet_order(item: Unmet) -> tuple[str, int, str, str]:
    return (item.athlete, item.week, item.wish, item.method or item.reason or "")

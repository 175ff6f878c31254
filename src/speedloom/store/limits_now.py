"""A programme with the limits as they stand now: papers and pages for the field must not show old ones."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from speedloom.store import models
from speedloom.store.cards import Actor, RestrictionCard
from speedloom.store.restrictions import cards_of, restrictions
from speedloom.training.athlete import Athlete, Restriction
from speedloom.training.programme import Programme


def with_limits_now(actor: Actor, squad: str, programme: Programme) -> Programme:
    """Give a programme to be shown or printed, its athletes with the limits in force now.

    What is saved or compared is the document itself, never this. A limit that only the document knows, such
    as one of a file, stays in it. Who may not see health gets no limits of either kind.
    """
    return _limited(programme, restrictions(actor, squad, lifted=True))


def linked_with_limits_now(squad: str, athlete: str, programme: Programme) -> Programme:
    """Give the same to whoever holds a link to one athlete's sheet."""
    rows = models.Restriction.objects.filter(athlete__squad__key=squad, athlete__ref=athlete)
    return _limited(programme, cards_of(rows))


def _limited(programme: Programme, cards: Iterable[RestrictionCard]) -> Programme:
    content = programme.brief.content
    if content is None:
        return programme
    known: dict[str, dict[str, Restriction | None]] = {}
    for card in cards:
        known.setdefault(card.athlete, {})[card.restriction.ref] = None if card.lifted else card.restriction
    people = tuple(_one(athlete, known.get(athlete.ref, {})) for athlete in content.athletes)
    now = content.model_copy(update={"athletes": people})
    return programme.model_copy(update={"brief": programme.brief.model_copy(update={"content": now})})


def _one(athlete: Athlete, known: Mapping[str, Restriction | None]) -> Athlete:
    held: dict[str, Restriction | None] = {one.ref: one for one in athlete.restrictions}
    held.update(known)
    kept = tuple(one for _ref, one in sorted(held.items()) if one is not None)
    return athlete.model_copy(update={"restrictions": kept})

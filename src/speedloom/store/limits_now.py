"""A programme with the limits as they stand now: papers and pages for the field must not show old ones."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from speedloom.store import models
from speedloom.store.athletes import athletes
from speedloom.store.cards import Actor, RestrictionCard
from speedloom.store.restrictions import cards_of, restrictions
from speedloom.store.screenings import barred, barred_of
from speedloom.training.athlete import Athlete, Restriction
from speedloom.training.brief import Goal, Phases, ResolvedBrief
from speedloom.training.document import canonical
from speedloom.training.programme import Programme

FEWEST_WEEKS = 3
"""Of a mesocycle: a brief has one, and nothing for the field asks for it."""


def with_limits_now(actor: Actor, squad: str, programme: Programme) -> Programme:
    """Give a programme to be shown or printed, its athletes with the limits in force now.

    What is saved or compared is the document itself, never this. A limit that only the document knows, such
    as one of a file, stays in it, and who is not cleared has the limit that says so. Who may not see health
    gets no limits of any kind.
    """
    return _limited(programme, restrictions(actor, squad, lifted=True), barred(actor, squad))


def with_people_now(actor: Actor, squad: str, programme: Programme) -> Programme:
    """Give the same for the field, where a programme made by hand has the squad's people and limits too.

    Such a document holds no brief, so nobody's name, age or limit: they are those of the squad's athletes of
    the same refs. It has no goal and no tests either, so a book of it is made from the document alone.
    """
    (whole,) = peopled(actor, squad, [programme])
    return with_limits_now(actor, squad, whole)


def peopled(actor: Actor, squad: str, programmes: Sequence[Programme]) -> tuple[Programme, ...]:
    """Give programmes with people in each: those made by hand have the squad's, and no limits yet."""
    if all(one.brief.content is not None for one in programmes):
        return tuple(programmes)
    people = [card.athlete for card in athletes(actor, squad)]
    return tuple(_peopled(one, people) if one.brief.content is None else one for one in programmes)


def _peopled(programme: Programme, squad: Iterable[Athlete]) -> Programme:
    trains = {own.athlete for own in programme.programmes}
    people = tuple(one for one in squad if one.ref in trains)
    days = [session.date for _athlete, session in programme.sessions()]
    if not people or not days:
        return programme
    bare = ResolvedBrief(
        schema="speedloom.brief/1",
        name="",
        timezone=programme.timezone,
        start=min(days),
        end=max(days),
        goal=Goal(kind="general"),
        phases=Phases(mesocycle_weeks=(FEWEST_WEEKS,)),
        places=(),
        slots=(),
        athletes=people,
    )
    brief = programme.brief.model_copy(update={"content": bare})
    return programme.model_copy(update={"brief": brief})


def linked_with_limits_now(squad: str, athlete: str, programme: Programme) -> Programme:
    """Give the same to whoever holds a link to one athlete's sheet."""
    if programme.brief.content is None:
        own = models.Athlete.objects.filter(squad__key=squad, ref=athlete)
        programme = _peopled(programme, [Athlete.model_validate_json(row.document) for row in own])
    rows = models.Restriction.objects.filter(athlete__squad__key=squad, athlete__ref=athlete)
    whose = models.Athlete.objects.filter(squad__key=squad, ref=athlete)
    return _limited(programme, cards_of(rows), barred_of(whose))


def whole_with_limits_now(squad: str, programme: Programme) -> Programme:
    """Give the same to be planned from: every limit counts, whoever plans; clearance has its own rule."""
    return _limited(programme, cards_of(models.Restriction.objects.filter(athlete__squad__key=squad)), {})


def known_limits(squad: str) -> Mapping[str, frozenset[Restriction]]:
    """Give every limit the store knows of, lifted or not, by athlete; another only a document holds."""
    known: dict[str, set[Restriction]] = {}
    for card in cards_of(models.Restriction.objects.filter(athlete__squad__key=squad)):
        known.setdefault(card.athlete, set()).add(card.restriction.in_order())
    return {athlete: frozenset(those) for athlete, those in known.items()}


def _limited(
    programme: Programme, cards: Iterable[RestrictionCard], uncleared: Mapping[str, Restriction]
) -> Programme:
    content = programme.brief.content
    if content is None:
        return programme
    known: dict[str, list[RestrictionCard]] = {}
    for card in cards:
        known.setdefault(card.athlete, []).append(card)
    limited = (_one(athlete, known.get(athlete.ref, ())) for athlete in content.athletes)
    people = tuple(
        one.model_copy(update={"restrictions": (*one.restrictions, uncleared[one.ref])})
        if one.ref in uncleared
        else one
        for one in limited
    )
    now = content.model_copy(update={"athletes": people})
    return programme.model_copy(update={"brief": programme.brief.model_copy(update={"content": now})})


def _one(athlete: Athlete, cards: Sequence[RestrictionCard]) -> Athlete:
    """Give an athlete with what the store has in force, and what of the document it does not know.

    Limits are the same when all of them is: two that are only named alike are two.
    """
    known = {card.restriction.in_order() for card in cards}
    in_force = {card.restriction.in_order() for card in cards if not card.lifted}
    only_here = {one.in_order() for one in athlete.restrictions} - known
    kept = sorted(in_force | only_here, key=lambda one: (one.ref, canonical(one)))
    return athlete.model_copy(update={"restrictions": tuple(kept)})

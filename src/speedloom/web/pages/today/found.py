"""What the check finds in the programmes that run, and what newer limits do not allow."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from django.urls import reverse

from speedloom.store.cards import Actor
from speedloom.store.permissions import allowed
from speedloom.store.restrictions import restrictions
from speedloom.store.training_now import ProgrammeOf, documents, programmes_of_athletes
from speedloom.training.athlete import Restriction
from speedloom.training.programme import Programme
from speedloom.web.pages.programme.found import everybody, found_of
from speedloom.web.pages.today.facts import facts_of
from speedloom.web.pages.today.trainings import looked_at, running
from speedloom.wording.books import books_of
from speedloom.wording.dates import listing
from speedloom.wording.names import athlete_name
from speedloom.workflows.beyond_limits import beyond_limits

MOST_LOOKED_AT = 3
"""Programmes of one athlete that are looked into, the newest first [count]."""


@dataclass(frozen=True)
class FoundShown:
    """One programme: how many hard findings, and who has lines above a limit that holds now."""

    name: str
    hard: int
    address: str
    beyond: str
    replan: str


def found_today(actor: Actor, squad: str, *, today: date) -> tuple[FoundShown, ...]:
    """Look at every programme that runs; those in which nothing is found are left out."""
    cards = looked_at(programmes_of_athletes(actor, squad), most=MOST_LOOKED_AT)
    now = [card for card, _facts in running(facts_of(actor, squad, cards), today=today)]
    read = documents(actor, squad, now)
    held: dict[str, list[Restriction]] = {}
    if allowed(actor, "see_health", squad=squad):
        for card in restrictions(actor, squad):
            held.setdefault(card.athlete, []).append(card.restriction)
    plans = allowed(actor, "change_programme", squad=squad)
    shown = (_found(squad, card, document, held, today, plans) for card, document in read)
    return tuple(one for one in shown if one.hard or one.beyond)


def _found(
    squad: str,
    card: ProgrammeOf,
    document: Programme,
    held: dict[str, list[Restriction]],
    today: date,
    plans: bool,  # noqa: FBT001 - one of many of a row
) -> FoundShown:
    rulebook, catalogue = books_of(document)
    above = beyond_limits(document, held, since=today, rulebook=rulebook, catalogue=catalogue)
    refs = list(dict.fromkeys(one.athlete for one in above if one.athlete))
    return FoundShown(
        name=card.name,
        hard=len(found_of(document, everybody(document)).hard()),
        address=reverse("programme", args=[squad, card.id]),
        beyond=listing(athlete_name(document, ref) for ref in refs),
        replan=reverse("replan", args=[squad, card.id]) if plans else "",
    )

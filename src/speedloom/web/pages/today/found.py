"""What the check finds in the programmes that run, and what newer limits do not allow."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from django.urls import reverse

from speedloom.store.cards import Actor
from speedloom.store.limits_now import peopled
from speedloom.store.permissions import allowed
from speedloom.store.restrictions import restrictions
from speedloom.store.screenings import barred
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
        for ref, limit in barred(actor, squad).items():
            held.setdefault(ref, []).append(limit)
    plans = allowed(actor, "change_programme", squad=squad)
    # One that was made by hand knows nobody: its people are the squad's.
    whole = peopled(actor, squad, [document for _card, document in read]) if held else ()
    beyond = [_beyond(one, held, today) for one in whole] or [""] * len(read)
    shown = (
        _found(squad, card, document, said, plans)
        for (card, document), said in zip(read, beyond, strict=True)
    )
    return tuple(one for one in shown if one.hard or one.beyond)


def _beyond(document: Programme, held: Mapping[str, Sequence[Restriction]], today: date) -> str:
    """Name who has lines ahead above a limit that holds now."""
    rulebook, catalogue = books_of(document)
    above = beyond_limits(document, held, since=today, rulebook=rulebook, catalogue=catalogue)
    refs = dict.fromkeys(one.athlete for one in above if one.athlete)
    return listing(athlete_name(document, ref) for ref in refs)


def _found(
    squad: str,
    card: ProgrammeOf,
    document: Programme,
    beyond: str,
    plans: bool,  # noqa: FBT001 - one of many of a row
) -> FoundShown:
    return FoundShown(
        name=card.name,
        hard=len(found_of(document, everybody(document)).hard()),
        address=reverse("programme", args=[squad, card.id]),
        beyond=beyond,
        replan=reverse("replan", args=[squad, card.id]) if plans else "",
    )

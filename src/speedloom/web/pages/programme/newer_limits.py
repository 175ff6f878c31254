"""Limits that are newer than a programme: the check of the document alone cannot know them."""

from __future__ import annotations

from collections.abc import Set as AbstractSet

from django.utils.timezone import localdate

from speedloom.store.cards import Actor
from speedloom.store.limits_now import peopled
from speedloom.store.permissions import allowed
from speedloom.store.programme_part import only
from speedloom.store.restrictions import restrictions
from speedloom.store.screenings import barred
from speedloom.training.athlete import Restriction
from speedloom.training.programme import Programme
from speedloom.wording.books import books_of
from speedloom.wording.findings import FindingsBook, FindingWords, finding_words
from speedloom.wording.names import athletes_of
from speedloom.workflows.beyond_limits import beyond_limits


def newer_limits(
    actor: Actor, squad: str, document: Programme, people: AbstractSet[str]
) -> tuple[FindingWords, ...]:
    """Say what is above limits set after the programme was made; nothing to eyes health is not for."""
    if not allowed(actor, "see_health", squad=squad):
        return ()
    known = {
        ref: {each.in_order() for each in one.restrictions} for ref, one in athletes_of(document).items()
    }
    held: dict[str, list[Restriction]] = {}
    for card in restrictions(actor, squad):
        if card.athlete in people and card.restriction.in_order() not in known.get(card.athlete, set()):
            held.setdefault(card.athlete, []).append(card.restriction)
    for ref, limit in barred(actor, squad).items():
        if ref in people:
            held.setdefault(ref, []).append(limit)
    if not held:
        return ()
    (part,) = peopled(actor, squad, [only(document, set(held))])
    rulebook, catalogue = books_of(document)
    found = beyond_limits(part, held, since=localdate(), rulebook=rulebook, catalogue=catalogue)
    book = FindingsBook(rulebook=rulebook, catalogue=catalogue, programme=part)
    return tuple(finding_words(one, book=book) for one in found)

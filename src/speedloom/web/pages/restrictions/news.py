"""A restriction that was just set or lifted is news: which programmes may be planned again for it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.urls import reverse

from speedloom.store.cards import RestrictionCard, SquadCard
from speedloom.store.permissions import allowed
from speedloom.store.training_now import programmes_of_athletes
from speedloom.web.access import Request


@dataclass(frozen=True)
class News:
    """What changed, and where the programmes of the athlete are planned again."""

    lifted: bool
    programmes: tuple[tuple[str, str], ...]


def news_of(
    request: Request, squad: SquadCard, athlete: str, cards: Sequence[RestrictionCard]
) -> News | None:
    """Give the news that the address names, for somebody who may change the athlete's programmes."""
    wanted = request.GET.get("news", "")
    card = next((one for one in cards if str(one.id) == wanted), None)
    if card is None or not allowed(request.actor, "change_programme", squad=squad.key):
        return None
    programmes = tuple(
        (one.name, reverse("replan", args=[squad.key, one.id]))
        for one in programmes_of_athletes(request.actor, squad.key)
        if athlete in one.athletes
    )
    return News(card.lifted, programmes)

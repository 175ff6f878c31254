"""Restrictions and clearances as the pages show them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from datetime import date

from speedloom.report.sheets.restrictions import limit_text
from speedloom.store.cards import Actor, ClearanceCard, RestrictionCard
from speedloom.store.restrictions import may_lift_this
from speedloom.training.exercise import load_catalogue
from speedloom.wording.athlete_restrictions import (
    AFTER_NAMES,
    State,
    came_text,
    holds_text,
    lifts_text,
    set_text,
    state_of,
)
from speedloom.wording.dates import full_date
from speedloom.wording.units import Units

_ORDER: Mapping[State, int] = {"now": 0, "later": 1, "over": 2, "lifted": 3}


@dataclass(frozen=True)
class RestrictionShown:
    """A restriction in words, and whether the person who looks may lift it."""

    card: RestrictionCard
    name: str
    limits: str
    state: State
    holds: str
    set_by: str
    lifts: str
    lifted: str
    came: str
    may_lift: bool
    nobody_lifts: bool = False

    @property
    def in_force(self) -> bool:
        """Say whether it binds, now or from a later day."""
        return self.state in {"now", "later"}


@dataclass(frozen=True)
class ClearanceShown:
    """A clearance in words."""

    card: ClearanceCard
    name: str
    text: str


def restrictions_shown(
    actor: Actor,
    squad: str,
    cards: Sequence[RestrictionCard],
    *,
    names: Mapping[str, str],
    units: Units,
    today: date,
    nobody: AbstractSet[int] = frozenset(),
) -> tuple[RestrictionShown, ...]:
    """Put restrictions into words, those in force first, by athlete; `nobody` names those nobody may lift."""
    catalogue = load_catalogue()
    shown = []
    for card in cards:
        own = card.restriction
        limits = (limit_text(limit, catalogue=catalogue, units=units) for limit in own.limits)
        text = "; ".join(dict.fromkeys(limits))
        state = state_of(own, lifted=card.lifted, today=today)
        shown.append(
            RestrictionShown(
                card=card,
                name=names.get(card.athlete, card.athlete),
                limits=f"{text[:1].upper()}{text[1:]}",
                state=state,
                holds=holds_text(own, today=today, lifted=card.lifted),
                set_by=set_text(own, set_in=card.set_in, at=card.set_at.date()),
                lifts=lifts_text(own, set_in=card.set_in),
                lifted=_lifted(card),
                came=came_text(card.came_with) if card.came_with else "",
                nobody_lifts=card.id in nobody,
                may_lift=state in {"now", "later"} and may_lift_this(actor, squad, card),
            )
        )
    return tuple(sorted(shown, key=lambda one: (_ORDER[one.state], one.name.casefold())))


def _lifted(card: RestrictionCard) -> str:
    if card.lifted_at is None:
        return ""
    return f"Lifted by {card.lifted_by} on {full_date(card.lifted_at.date())}: {card.lifted_reason}"


def clearances_shown(
    cards: Sequence[ClearanceCard], *, names: Mapping[str, str]
) -> tuple[ClearanceShown, ...]:
    """Put clearances into words."""
    return tuple(
        ClearanceShown(
            card,
            names.get(card.athlete, card.athlete),
            f"Cleared {AFTER_NAMES[card.after]}: written by {card.written_by} on "
            f"{full_date(card.written_on)}, seen by {card.seen_by} on {full_date(card.at.date())}",
        )
        for card in cards
    )

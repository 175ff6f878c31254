"""Who takes part in a new programme, and what a careful coach asks each of them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import get_args

from django.http import QueryDict
from django.utils.translation import gettext as _

from speedloom.store.cards import AskedCard, AthleteCard
from speedloom.training.athlete import Athlete, Screening
from speedloom.training.words import METHODS, Level
from speedloom.web.faults import Stated
from speedloom.wording.screening import not_planned_text

LEVELS = get_args(Level)
CHOICES = frozenset({"all", "none"})
"""What the buttons send that tick everybody, or nobody."""


@dataclass(frozen=True)
class Asked:
    """One athlete's answers before hard work."""

    card: AthleteCard
    taken: bool
    pain: str
    cleared: str
    years: str
    level: str
    last_sprint: str
    faults: tuple[Stated, ...] = ()
    held: str = ""
    """A clinician's "not cleared" in words: it is not changed here."""

    @property
    def ref(self) -> str:
        """The athlete's ref."""
        return self.card.ref

    def screening(self, today: date) -> Screening:
        """Give the answers as they are kept."""
        last = date.fromisoformat(self.last_sprint) if self.last_sprint else None
        return Screening(
            on=today, pain=self.pain == "yes", cleared=self.cleared == "yes", last_hard_sprint=last
        )

    def athlete(self) -> Athlete:
        """Give the athlete with years and level as they were typed."""
        one = self.card.athlete
        years = float(self.years.replace(",", ".")) if self.years else one.training_years
        level = dict.fromkeys(METHODS, self.level) if self.level else one.level
        return Athlete.model_validate_json(
            one.model_copy(update={"training_years": years, "level": level}).model_dump_json(by_alias=True)
        )


def asked(
    cards: Sequence[AthleteCard],
    data: QueryDict | None,
    *,
    alone: str | None = None,
    not_cleared: Mapping[str, AskedCard],
) -> list[Asked]:
    """Read what was asked of each athlete; without data nothing is answered yet.

    Args:
        cards: the squad's athletes.
        data: what was sent.
        alone: the only athlete who is ticked at first; None for everybody.
        not_cleared: the answers of clinicians that stand; these athletes are not ticked at first.
    """
    choice = data.get("choose") if data else None
    held = {ref: not_planned_text(one.screening, by=one.by) for ref, one in not_cleared.items()}
    found = [
        _held(_one(card, data, taken=alone in (None, card.ref)), held.get(card.ref, ""), fresh=data is None)
        for card in cards
    ]
    return [replace(one, taken=choice == "all", faults=()) for one in found] if choice in CHOICES else found


def _held(one: Asked, held: str, *, fresh: bool) -> Asked:
    if not held:
        return one
    wrong = one.taken and one.cleared == "yes"
    faults = (*one.faults, _stated(one, "cleared", held)) if wrong else one.faults
    return replace(one, held=held, taken=one.taken and not fresh, faults=faults)


def _one(card: AthleteCard, data: QueryDict | None, *, taken: bool) -> Asked:
    years = card.athlete.training_years
    if data is None:
        known = "" if years is None else f"{years:g}"
        return Asked(card, taken=taken, pain="", cleared="", years=known, level="", last_sprint="")
    well = "all_well" in data
    found = Asked(
        card,
        taken=f"{card.ref}-taken" in data,
        pain="no" if well else data.get(f"{card.ref}-pain", ""),
        cleared="yes" if well else data.get(f"{card.ref}-cleared", ""),
        years=data.get(f"{card.ref}-years", "").strip(),
        level=data.get(f"{card.ref}-level", ""),
        last_sprint=data.get(f"{card.ref}-last_sprint", ""),
    )
    return Asked(**{**found.__dict__, "faults": tuple(_faults(found))}) if found.taken else found


def _faults(one: Asked) -> Iterator[Stated]:
    if one.pain not in {"yes", "no"}:
        yield _stated(one, "pain", _("Please say whether anything hurts today."))
    if one.cleared not in {"yes", "no"}:
        yield _stated(one, "cleared", _("Please say whether hard work is cleared."))
    if one.level and one.level not in LEVELS:
        yield _stated(one, "level", _("Expected one of the levels."))
    yield from _unreadable(one)


def _stated(one: Asked, name: str, text: str) -> Stated:
    """Say what is wrong with one answer, at the box of that athlete."""
    return Stated(one.card.name, text, f"{one.ref}-{name}")


def _unreadable(one: Asked) -> Iterator[Stated]:
    try:
        if one.years and not 0 <= float(one.years.replace(",", ".")) <= 60:  # noqa: PLR2004 - a life
            yield _stated(one, "years", _("Expected years from 0 to 60."))
    except ValueError:
        yield _stated(one, "years", _("Expected a number of years."))
    try:
        if one.last_sprint:
            date.fromisoformat(one.last_sprint)
    except ValueError:
        yield _stated(one, "last_sprint", _("Expected a date."))

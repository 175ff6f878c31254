"""From when to when a new programme is proposed: behind what its athletes already go by."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from django.utils.translation import gettext as _

from speedloom.store.cards import Actor
from speedloom.store.training_now import programmes_of_athletes
from speedloom.training.brief import Brief
from speedloom.web.pages.today.facts import facts_of
from speedloom.web.pages.today.trainings import looked_at
from speedloom.wording.dates import day_month

MOST_LOOKED_AT = 3
"""Programmes of one athlete that are looked into, the newest first [count]."""


@dataclass(frozen=True)
class Proposed:
    """First and last day, the day to be fastest on where it lies between them, and why it is these."""

    start: date
    end: date
    peak: date | None
    why: str


def proposed(actor: Actor, squad: str, brief: Brief, *, today: date, alone: str | None = None) -> Proposed:
    """Propose the Monday after the last programme that runs or is to come, else the next Monday.

    A brief whose own first day is still ahead of all that keeps it.

    Args:
        actor: who plans.
        squad: its key.
        brief: its length is kept.
        today: on the squad's calendar.
        alone: the one athlete whose programmes count; None for everybody's.
    """
    last, name = max(_ends(actor, squad, today=today, alone=alone), default=(today, ""))
    if brief.start > last or (brief.start == today and not name):
        start, why = brief.start, _("As the squad's brief has it.")
    elif name:
        when = {"name": name, "day": day_month(last), "year": last.year}
        start, why = next_monday(last), _("The Monday after %(name)s ends (%(day)s %(year)d).") % when
    else:
        start, why = next_monday(today), _("The next Monday: no programme runs.")
    end = start + (brief.end - brief.start)
    peaks = [peak.date for peak in brief.goal.peaks if peak.size == "main" and start <= peak.date <= end]
    return Proposed(start, end, max(peaks, default=None), why)


def _ends(actor: Actor, squad: str, *, today: date, alone: str | None) -> Iterator[tuple[date, str]]:
    """Give the last day, and the name, of every programme that somebody still goes by."""
    cards = looked_at(programmes_of_athletes(actor, squad), most=MOST_LOOKED_AT)
    for card, facts in facts_of(actor, squad, cards):
        for athlete, (_first, last) in facts.spans.items():
            if last >= today and alone in (None, athlete):
                yield last, card.name


def next_monday(day: date) -> date:
    """Give the first Monday after a day.

    >>> next_monday(date(2026, 1, 11)), next_monday(date(2026, 1, 12))
    (datetime.date(2026, 1, 12), datetime.date(2026, 1, 19))
    """
    return day + timedelta(days=7 - day.weekday())

"""What is an athlete's own: the programme that runs, its days, its log, the limits in force."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from speedloom.store.cards import Actor, RestrictionCard
from speedloom.store.logs import log
from speedloom.store.programmes import read_programme
from speedloom.store.restrictions import restrictions
from speedloom.store.training_now import ProgrammeOf, programmes_of_athletes
from speedloom.training.athlete import Athlete
from speedloom.training.programme import AthleteProgramme, Programme, Session
from speedloom.wording.books import books_of
from speedloom.wording.names import athletes_of
from speedloom.workflows.beyond_limits import not_as_written
from speedloom.workflows.own_days import OwnDays, own_days, sessions_of
from speedloom.workflows.standing_log import StandingLog, standing_log

MOST_LOOKED_AT = 3
"""Programmes that are looked at for the one that runs, the newest first [count]."""
AHEAD_DAYS = 7
BACK_DAYS = 14


@dataclass(frozen=True)
class Own:
    """One athlete's part of a programme."""

    card: ProgrammeOf
    document: Programme
    own: AthleteProgramme
    limits: tuple[RestrictionCard, ...]
    standing: StandingLog
    today: date

    @property
    def days(self) -> OwnDays:
        """The sessions around today."""
        return own_days(self.own, self.standing, today=self.today, ahead_days=AHEAD_DAYS, back_days=BACK_DAYS)

    @property
    def person(self) -> Athlete | None:
        """The athlete as the programme knows them, with the limits as they stand now."""
        known = athletes_of(self.document).get(self.own.athlete)
        held = tuple(card.restriction for card in self.limits)
        return known.model_copy(update={"restrictions": held}) if known else None

    def beyond(self) -> frozenset[str]:
        """Name the lines and sessions of the next days that are above a limit in force."""
        rulebook, catalogue = books_of(self.document)
        held = {self.own.athlete: tuple(card.restriction for card in self.limits)}
        last = max((one.date for one in self.days.ahead), default=self.today)
        return not_as_written(
            self.document, held, first=self.today, last=last, rulebook=rulebook, catalogue=catalogue
        )

    def stopped(self, day: date) -> bool:
        """Say whether nothing is trained on a day."""
        held = (card.restriction for card in self.limits)
        return any(restriction.forbids_all and restriction.holds(day) for restriction in held)

    def session(self, ref: str) -> Session | None:
        """Find a session by its ref."""
        return next((one for one in sessions_of(self.own) if one.ref == ref), None)


def running(actor: Actor, squad: str, athlete: str, *, today: date) -> Own | None:
    """Give the athlete's programme that runs today, else the newest; None where there is none."""
    cards = programmes_of_athletes(actor, squad)
    those = [card for card in cards if athlete in card.athletes][:MOST_LOOKED_AT]
    documents = [(card, read_programme(actor, squad, card.id)) for card in those]
    found = [(card, document, _of(document, athlete)) for card, document in documents]
    chosen = next((one for one in found if _runs(one[2], today)), found[0] if found else None)
    return _own(actor, squad, *chosen, today=today) if chosen else None


def named(actor: Actor, squad: str, athlete: str, programme: str, *, today: date) -> Own | None:
    """Give the athlete's part of one programme."""
    cards = programmes_of_athletes(actor, squad)
    card = next((one for one in cards if one.id == programme and athlete in one.athletes), None)
    if card is None:
        return None
    document = read_programme(actor, squad, card.id)
    return _own(actor, squad, card, document, _of(document, athlete), today=today)


def _own(
    actor: Actor, squad: str, card: ProgrammeOf, document: Programme, own: AthleteProgramme, *, today: date
) -> Own:
    return Own(
        card=card,
        document=document,
        own=own,
        limits=restrictions(actor, squad, athlete=own.athlete),
        standing=standing_log(log(actor, squad, card.id), document),
        today=today,
    )


def _of(document: Programme, athlete: str) -> AthleteProgramme:
    return next(one for one in document.programmes if one.athlete == athlete)


def _runs(own: AthleteProgramme, today: date) -> bool:
    mondays = [week.monday for week in own.weeks]
    return bool(mondays) and min(mondays) <= today <= max(mondays) + timedelta(days=6)

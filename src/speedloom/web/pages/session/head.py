"""The head of the session page: when and where, warm-up, limits, kit and the short cautions."""

from __future__ import annotations

from dataclasses import dataclass

from speedloom.report.sheets.restrictions import clinician_named, limits_text, minors_among, with_adult
from speedloom.report.sheets.squad import SquadSession
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Programme
from speedloom.wording.cautions import in_own_words, is_master, session_cautions
from speedloom.wording.dates import clock, day_month
from speedloom.wording.names import ROLE_NAMES, WEEK_NAMES, place_name
from speedloom.wording.units import Units, number
from speedloom.wording.warm_ups import Warming, WarmUpWords, squad_warm_up


@dataclass(frozen=True)
class Head:
    """What holds for the whole training."""

    title: str
    start: str
    place: str
    about: str
    warm_up: WarmUpWords
    limits: tuple[str, ...]
    cautions: tuple[str, ...]


def head_of(
    programme: Programme,
    session: SquadSession,
    *,
    catalogue: Catalogue,
    units: Units,
    clinician: bool,
    own: bool = False,
) -> Head:
    """Put what holds for a whole training into words.

    Args:
        programme: the document with people and limits as they are now.
        session: the training.
        catalogue: the exercises.
        units: what the person reads in.
        clinician: whether somebody of the squad is one.
        own: whether an athlete reads it, by themselves.
    """
    cautions = _cautions(programme, session, catalogue=catalogue, clinician=clinician)
    lead = session.lead
    about = (
        f"week {lead.week.number}",
        WEEK_NAMES[lead.week.kind],
        ROLE_NAMES[lead.session.role],
        f"{number(lead.session.minutes)} of {number(lead.session.minutes_available)} min",
    )
    warm_up = squad_warm_up(
        [Warming(one.name, one.session, one.person) for one in session.present],
        catalogue=catalogue,
        units=units,
    )
    return Head(
        title=f"{day_month(session.date)}, {clock(session.start)}",
        start=clock(session.start),
        place=place_name(session.place),
        about=" · ".join(filter(None, about)),
        warm_up=warm_up,
        limits=tuple(limits_of(session, catalogue=catalogue, units=units)),
        cautions=with_adult(in_own_words(cautions) if own else cautions, programme),
    )


def limits_of(session: SquadSession, *, catalogue: Catalogue, units: Units) -> list[str]:
    """List the limits of the day, each with the name of whom it is."""
    said = (
        (one.name, limits_text(one.person, on=session.date, catalogue=catalogue, units=units))
        for one in session.present
    )
    return [f"{name}: {text}" for name, text in said if text]


def _cautions(
    programme: Programme, session: SquadSession, *, catalogue: Catalogue, clinician: bool
) -> tuple[str, ...]:
    content = programme.brief.content
    kinds = {place.ref: place.kind for place in content.places} if content else {}
    people = [one.person for one in session.present]
    return session_cautions(
        [line for one in session.present for line in one.work],
        catalogue=catalogue,
        place_kind=kinds.get(session.place, "gym" if session.place == "gym" else "hall"),
        minors=minors_among(people, on=session.date),
        clinician=clinician or clinician_named(programme),
        masters=any(is_master(person, on=session.date) for person in people),
    )

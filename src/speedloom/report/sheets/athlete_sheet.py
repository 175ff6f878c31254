"""The athlete's own sheet: one week, one athlete, plain words, boxes to fill."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from speedloom.report.sheets.paper import Paper, pdf
from speedloom.report.sheets.restrictions import clinician_named, limits_text, minors_among, with_adult
from speedloom.report.sheets.session_sheet import NothingToPrintError, foot
from speedloom.report.sheets.week_words import WeekWords, week_words
from speedloom.training.athlete import Athlete
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import AthleteProgramme, Programme, Week
from speedloom.wording.cautions import in_own_words, is_master, session_cautions
from speedloom.wording.dates import day_month, listing
from speedloom.wording.names import athlete_name, athletes_of
from speedloom.wording.units import METRIC, Units
from speedloom.wording.warm_ups import own_warm_up_steps


@dataclass(frozen=True)
class OwnSheet:
    """One athlete's week."""

    name: str
    programme: str
    week: WeekWords
    limits: str
    warm_ups: tuple[tuple[str, str], ...]
    cautions: tuple[str, ...]
    foot: str


@dataclass(frozen=True)
class OwnSheets:
    """Several athletes' sheets in one document."""

    title: str
    sheets: tuple[OwnSheet, ...]


def athlete_sheet_pdf(
    programme: Programme,
    *,
    week: int,
    catalogue: Catalogue,
    paper: Paper,
    athletes: tuple[str, ...] | None = None,
    units: Units = METRIC,
) -> bytes:
    """Print the week of each athlete, or of some, on a page of their own.

    Raises:
        NothingToPrintError: when none of them has such a week.
    """
    sheets = tuple(
        _sheet(programme, own, found, catalogue=catalogue, paper=paper, units=units)
        for own in programme.programmes
        if athletes is None or own.athlete in athletes
        for found in own.weeks
        if found.number == week
    )
    if not sheets:
        whom = "anybody" if athletes is None else listing(athletes)
        last = max((len(own.weeks) for own in programme.programmes), default=0)
        msg = f"Expected an athlete of the programme and a week from 1 to {last}, got {whom} in week {week}."
        raise NothingToPrintError(msg)
    return pdf("athlete", OwnSheets(f"{sheets[0].week.title}: own sheets", sheets), paper=paper)


def _sheet(
    programme: Programme,
    own: AthleteProgramme,
    week: Week,
    *,
    catalogue: Catalogue,
    paper: Paper,
    units: Units,
) -> OwnSheet:
    content = programme.brief.content
    person = athletes_of(programme).get(own.athlete)
    return OwnSheet(
        name=athlete_name(programme, own.athlete),
        programme=content.name if content else "",
        week=week_words(
            programme, week, weeks=len(own.weeks), catalogue=catalogue, units=units, person=person
        ),
        limits=week_limits(person, week, catalogue=catalogue, units=units),
        warm_ups=own_warm_up_steps(week.sessions, person, catalogue=catalogue),
        cautions=week_cautions(programme, week, person, catalogue=catalogue, clinician=paper.clinician),
        foot=foot(programme, paper=paper),
    )


def week_limits(person: Athlete | None, week: Week, *, catalogue: Catalogue, units: Units = METRIC) -> str:
    """Write the limits of a week's sessions; with their days where they do not hold in every session.

    A limit that begins or ends inside the week would else stand above work it does not allow, or be missing.
    """
    days = sorted({session.date for session in week.sessions}) or [week.monday]
    held: dict[str, list[date]] = {}
    for day in days:
        held.setdefault(limits_text(person, on=day, catalogue=catalogue, units=units), []).append(day)
    if len(held) == 1:
        return next(iter(held))
    return ". ".join(f"{listing(map(day_month, on))}: {text}" for text, on in held.items() if text)


def week_cautions(
    programme: Programme,
    week: Week,
    person: Athlete | None,
    *,
    catalogue: Catalogue,
    clinician: bool = False,
) -> tuple[str, ...]:
    """Choose the cautions of all sessions of a week, each once, in words for the athlete."""
    content = programme.brief.content
    kinds = {place.ref: place.kind for place in content.places} if content else {}
    chosen: dict[str, None] = {}
    for session in week.sessions:
        chosen |= dict.fromkeys(
            session_cautions(
                session.prescriptions,
                catalogue=catalogue,
                place_kind=kinds.get(session.place, "hall"),
                minors=minors_among([person], on=session.date),
                clinician=clinician or clinician_named(programme),
                masters=is_master(person, on=session.date),
            )
        )
    return with_adult(in_own_words(chosen), programme)

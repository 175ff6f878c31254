"""Calls about squads: the squads themselves, athletes, what was measured, the brief."""

from __future__ import annotations

from typing import Annotated

from django.http import HttpResponse
from ninja import Query, Router

from speedloom.store import athletes, briefs, measurements, squads
from speedloom.store.cards import Actor, AthleteCard, BriefRevision, SquadCard
from speedloom.training.athlete import Athlete
from speedloom.training.measurement import Measurements
from speedloom.web.pages.api.doors import Call, Key
from speedloom.web.pages.api.shapes import MeasurementsKept, give, give_all, read

MOST_REVISIONS = 1_000_000
RevisionNumber = Annotated[int | None, Query(ge=1, le=MOST_REVISIONS, description="empty: the newest")]
OneAthlete = Annotated[str | None, Query(description="only this athlete's")]

router = Router()
TAKES = "x-takes"
"""In a call's extra: the model of what is sent."""


@router.get("/me", auth=Key(None), response=Actor, summary="Who asks, and what they are in which squad")
def me(request: Call) -> HttpResponse:
    """Give the person whose key it is."""
    return give(request.auth)


@router.get("/squads", auth=Key(None), response=list[SquadCard], summary="The person's squads")
def list_squads(request: Call) -> HttpResponse:
    """List the squads the person is of, by name."""
    return give_all(squads.my_squads(request.auth))


@router.get("/squads/{squad}", auth=Key("see_squad", whole=True), response=SquadCard, summary="One squad")
def one_squad(request: Call, squad: str) -> HttpResponse:
    """Give a squad."""
    return give(squads.squad_card(request.auth, squad))


@router.get(
    "/squads/{squad}/athletes",
    auth=Key("see_athlete"),
    response=list[AthleteCard],
    summary="The athletes the person may see",
)
def list_athletes(request: Call, squad: str) -> HttpResponse:
    """List athletes by name; restrictions and screening are not in it."""
    return give_all(athletes.athletes(request.auth, squad))


@router.post(
    "/squads/{squad}/athletes",
    auth=Key("change_athlete", whole=True),
    response={201: AthleteCard},
    summary="Add an athlete",
    openapi_extra={TAKES: Athlete},
)
def add_athlete(request: Call, squad: str) -> HttpResponse:
    """Add an athlete."""
    answer = give(athletes.add_athlete(request.auth, squad, read(request, Athlete)))
    answer.status_code = 201
    return answer


@router.get(
    "/squads/{squad}/athletes/{athlete}",
    auth=Key("see_athlete"),
    response=AthleteCard,
    summary="One athlete",
)
def one_athlete(request: Call, squad: str, athlete: str) -> HttpResponse:
    """Give an athlete; restrictions and screening are not in it."""
    return give(athletes.athlete(request.auth, squad, athlete))


@router.get(
    "/squads/{squad}/measurements",
    auth=Key("see_tests"),
    response=Measurements,
    summary="What was measured and not struck out",
)
def list_measurements(request: Call, squad: str, athlete: OneAthlete = None) -> HttpResponse:
    """Give what was measured, of the athletes the person may see."""
    return give(measurements.measurements(request.auth, squad, athlete=athlete))


@router.post(
    "/squads/{squad}/measurements",
    auth=Key("write_tests", whole=True),
    response=MeasurementsKept,
    summary="Add measurements; those that are known are left alone",
    openapi_extra={TAKES: Measurements},
)
def add_measurements(request: Call, squad: str) -> HttpResponse:
    """Add measurements; sending them again adds nothing."""
    those = read(request, Measurements)
    sent = len(those.trials) + len(those.jumps) + len(those.lifts) + len(those.traces)
    new = measurements.add_measurements(request.auth, squad, those)
    return give(MeasurementsKept(sent=sent, new=new))


@router.get(
    "/squads/{squad}/brief",
    auth=Key("see_squad", whole=True),
    response=BriefRevision,
    summary="The brief: goal, dates, slots, places, kit, rules",
)
def brief(request: Call, squad: str, revision: RevisionNumber = None) -> HttpResponse:
    """Give the newest brief, or one by its number; its athletes stand apart."""
    return give(briefs.brief(request.auth, squad, number=revision))

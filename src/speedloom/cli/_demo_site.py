"""The demo squad stored in a data folder of its own, ready to be served."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from speedloom.cli._answer import message
from speedloom.cli._site import keeper, open_site, options

if TYPE_CHECKING:
    from speedloom.cli._demo_life import Life
    from speedloom.store.cards import Actor
    from speedloom.training.brief import Brief
    from speedloom.training.measurement import Measurements
    from speedloom.training.programme import Programme

NAME = "Demo squad (invented)"


def store_demo(
    data: Path, brief: Brief, measurements: Measurements, programme: Programme, *, life: Life | None = None
) -> None:
    """Put the squad, its tests, its programme and the life behind it into the data folder, once."""
    open_site(options(data, None))
    from speedloom.store.squads import my_squads

    who = keeper()
    if any(squad.name == NAME for squad in my_squads(who)):
        message("The demo squad is there already; what you changed stays.")
        return
    store_squad(who, brief, measurements, programme, life=life)


def store_squad(
    who: Actor, brief: Brief, measurements: Measurements, programme: Programme, *, life: Life | None = None
) -> str:
    """Store the squad of somebody in one go: all of it, or nothing; give its key."""
    from django.db import transaction

    from speedloom.store.athletes import add_athlete
    from speedloom.store.measurements import add_measurements
    from speedloom.store.people import again
    from speedloom.store.programmes import save_programme
    from speedloom.store.squads import make_squad

    with transaction.atomic():
        squad = make_squad(who, name=NAME, brief=brief)
        who = again(who)
        for athlete in brief.athletes:
            add_athlete(who, squad, athlete)
        add_measurements(who, squad, measurements)
        save_programme(who, squad, programme)
        if life is not None:
            _store_life(who, squad, programme.id, life)
    return squad


def _store_life(who: Actor, squad: str, programme: str, life: Life) -> None:
    from speedloom.cli._demo_luck import HURT
    from speedloom.store.cards import Membership
    from speedloom.store.daily import record_wellness
    from speedloom.store.logs import append
    from speedloom.store.measurements import add_measurements
    from speedloom.store.restrictions import set_restriction

    add_measurements(who, squad, life.test)
    append(who, squad, programme, life.log.entries)
    set_restriction(who, squad, HURT, life.restriction)
    for said in life.wellness:
        # Only athletes themselves say how they feel, so each invented one speaks for herself.
        herself = Membership(squad=squad, role="athlete", athlete=said.athlete)
        record_wellness(
            who.model_copy(update={"login": said.athlete, "memberships": (herself,)}), squad, said
        )

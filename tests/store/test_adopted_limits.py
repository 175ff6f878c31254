"""A limit that only a programme's document held: kept with the squad's, lifted there, never dropped."""

from __future__ import annotations

from importlib import import_module
from types import SimpleNamespace

import pytest
from django.apps import apps
from django.db import connection

from invented_squads import Squads, limit
from speedloom.store import athletes, models
from speedloom.store.briefs import brief_to_plan
from speedloom.store.programmes import save_programme
from speedloom.store.refusals import NotAllowedError
from speedloom.store.restrictions import lift_restriction, restrictions
from speedloom.store.squads import audit
from speedloom.training.athlete import Athlete
from store.test_limits_now import held, holding

OF_CLINICIAN = limit("calf", set_as="clinician", said="Physio Ann")


def test_it_is_kept_when_the_programme_is_saved_and_a_clinician_lifts_it(squads: Squads) -> None:
    coach, clinician = squads.by_role["coach"], squads.by_role["clinician"]
    programme = holding([OF_CLINICIAN])
    save_programme(coach, squads.ours, programme, name="From a file")
    (card,) = restrictions(coach, squads.ours)
    assert (card.restriction, card.set_in, card.came_with) == (OF_CLINICIAN, "clinician", "From a file")
    assert any("came with the programme" in one.detail for one in audit(coach, squads.ours))
    with pytest.raises(NotAllowedError):
        lift_restriction(coach, squads.ours, "mila", card.id, reason="feels fine")
    (mila, _noa) = brief_to_plan(coach, squads.ours)[0].athletes
    assert mila.restrictions == (OF_CLINICIAN,)
    lifted = lift_restriction(clinician, squads.ours, "mila", card.id, reason="seen on Monday")
    assert (lifted.lifted_by, lifted.lifted_reason) == ("The clinician", "seen on Monday")
    assert held(squads, programme) == ()


def test_saving_again_takes_nothing_twice_and_brings_nothing_back(squads: Squads) -> None:
    coach, clinician = squads.by_role["coach"], squads.by_role["clinician"]
    save_programme(coach, squads.ours, holding([OF_CLINICIAN]), name="From a file")
    (card,) = restrictions(coach, squads.ours)
    lift_restriction(clinician, squads.ours, "mila", card.id, reason="seen on Monday")
    again = holding([OF_CLINICIAN]).model_copy(update={"id": "0123456789ab"})
    save_programme(coach, squads.ours, again, name="The same once more")
    assert [one.id for one in restrictions(coach, squads.ours, lifted=True)] == [card.id]


def test_another_limit_of_the_same_name_is_kept_beside(squads: Squads) -> None:
    coach = squads.by_role["coach"]
    both = [OF_CLINICIAN, limit("calf")]
    save_programme(coach, squads.ours, holding(both), name="From a file")
    assert {one.restriction for one in restrictions(coach, squads.ours)} == set(both)
    rows = models.Restriction.objects.filter(athlete__squad__key=squads.ours)
    assert len({row.ref for row in rows}) == len(both)


def test_who_joins_the_squad_later_brings_the_limit_too(squads: Squads) -> None:
    coach = squads.by_role["coach"]
    models.Athlete.objects.filter(squad__key=squads.ours, ref="mila").delete()
    save_programme(coach, squads.ours, holding([OF_CLINICIAN]), name="From a file")
    assert restrictions(coach, squads.ours) == ()
    athletes.add_athlete(coach, squads.ours, Athlete(ref="mila", name="Mila"))
    assert [one.restriction for one in restrictions(coach, squads.ours)] == [OF_CLINICIAN]


def test_an_update_of_the_tables_keeps_those_of_programmes_saved_before(squads: Squads) -> None:
    coach = squads.by_role["coach"]
    save_programme(coach, squads.ours, holding([OF_CLINICIAN, limit("hip")]), name="From a file")
    models.Restriction.objects.filter(athlete__squad__key=squads.ours).delete()
    step = import_module("speedloom.store.migrations.0004_limits_of_documents")
    for _twice in range(2):
        step.adopt(apps, SimpleNamespace(connection=connection))
    found = restrictions(coach, squads.ours)
    assert [(one.restriction, one.set_in, one.set_by) for one in found] == [
        (OF_CLINICIAN, "clinician", coach.person),
        (limit("hip"), "coach", coach.person),
    ]
    assert {one.came_with for one in found} == {"From a file"}

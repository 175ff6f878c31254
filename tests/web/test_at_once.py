"""Two people change the same thing at the same time: the second is told, and nothing is written over."""

from __future__ import annotations

import pytest
from django.test import Client

from invented_squads import Squads, brief
from speedloom.store import athletes, briefs, models
from speedloom.store.cards import Actor
from speedloom.store.refusals import ConflictError
from speedloom.training.athlete import Athlete


def signed_in(who: Actor) -> Client:
    client = Client()
    person = models.Person.objects.get(pk=who.person)
    client.force_login(person, backend="speedloom.store.signing_in.PersonBackend")
    return client


def version(squads: Squads) -> str:
    return athletes.athlete(squads.keeper, squads.ours, "mila").version


def test_absences_changed_meanwhile_are_kept_and_what_was_typed_comes_back(squads: Squads) -> None:
    client, where = signed_in(squads.by_role["coach"]), f"/squads/{squads.ours}/calendar/absences/mila/"
    before = version(squads)
    assert f'name="after" value="{before}"' in client.get(where).content.decode()
    first = {"rows": "1", "row0-date": "2026-01-19", "after": before}
    assert client.post(where, first | {"do": "save"}).status_code == 302
    second = {"rows": "1", "row0-date": "2026-01-26", "after": before}
    for do in ("", "save"):
        page = client.post(where, second | {"do": do})
        said = page.content.decode()
        assert page.status_code == 409
        assert "Somebody changed this athlete meanwhile" in said
        assert 'value="2026-01-26"' in said
        assert "19 Jan" in said
        assert f'name="after" value="{version(squads)}"' in said
    days = [
        away.date.isoformat() for away in athletes.athlete(squads.keeper, squads.ours, "mila").athlete.away
    ]
    assert days == ["2026-01-19"]


def test_a_person_changed_meanwhile_is_kept_and_what_was_typed_comes_back(squads: Squads) -> None:
    client, where = signed_in(squads.by_role["coach"]), f"/squads/{squads.ours}/athletes/mila/about/"
    before = version(squads)
    assert client.post(where, {"name": "Mila J", "after": before}).status_code == 302
    page = client.post(where, {"name": "Mila K", "after": before})
    assert page.status_code == 409
    assert "meanwhile" in page.content.decode()
    assert 'value="Mila K"' in page.content.decode()
    assert athletes.athlete(squads.keeper, squads.ours, "mila").name == "Mila J"


def test_the_store_takes_no_change_of_an_older_version(squads: Squads) -> None:
    coach, ours = squads.by_role["coach"], squads.ours
    before = version(squads)
    athletes.change_athlete(coach, ours, Athlete(ref="mila", name="Mila J"), after=before)
    with pytest.raises(ConflictError, match="Somebody changed what is known of"):
        athletes.change_athlete(coach, ours, Athlete(ref="mila", name="Mila K"), after=before)
    briefs.save_brief(coach, ours, brief("Autumn"), after=1)
    with pytest.raises(ConflictError, match="coach changed this meanwhile"):
        briefs.save_brief(coach, ours, brief("Winter"), after=1)
    assert briefs.brief(coach, ours).brief.name == "Autumn"

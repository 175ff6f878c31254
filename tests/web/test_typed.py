"""The sign NUL, which PostgreSQL does not keep, is refused with a sentence wherever text comes in."""

from __future__ import annotations

import pytest
from django.test import Client

from invented_entries import next_one
from invented_squads import PASSWORD, PROGRAMME, Squads, brief, two_athletes
from speedloom.store import (
    athletes,
    briefs,
    daily,
    invitations,
    models,
    programmes,
    restrictions,
)
from speedloom.store import (
    squads as places,
)
from speedloom.store.cards import Actor
from speedloom.store.refusals import RefusedError
from speedloom.training.athlete import Athlete
from speedloom.training.document import digest

NUL = "\0"


def signed_in(who: Actor) -> Client:
    client = Client()
    person = models.Person.objects.get(pk=who.person)
    client.force_login(person, backend="speedloom.store.signing_in.PersonBackend")
    return client


@pytest.mark.parametrize(
    ("where", "sent"),
    [
        ("squads/{squad}/athletes/mila/notes/", {"text": f"sore{NUL}"}),
        ("squads/{squad}/athletes/mila/about/", {"name": f"Mi{NUL}la"}),
        ("squads/{squad}/programmes/{programme}/change/mila-203/", {"sets": "2", "reason": f"{NUL}"}),
        ("squads/{squad}/programmes/{programme}/lock/mila-203/", {f"rea{NUL}son": "x"}),
        ("account/", {"mass": f"kg{NUL}"}),
    ],
)
def test_a_form_with_it_is_refused_and_the_field_is_named(
    where: str, sent: dict[str, str], squads: Squads
) -> None:
    client = signed_in(squads.by_role["coach"])
    page = client.post("/" + where.format(squad=squads.ours, programme=PROGRAMME), sent)
    assert page.status_code == 422
    name = next(iter(name for name, text in sent.items() if NUL in name + text)).replace(NUL, "")
    assert f"Expected text without the sign NUL in {name}" in page.content.decode()
    assert daily.notes(squads.keeper, squads.ours, "mila") == ()


@pytest.mark.parametrize("where", ["?athlete=mi%00la", "%00/", "athletes/mila%00/", "programmes/%00/"])
def test_an_address_with_it_is_of_no_page(where: str, squads: Squads) -> None:
    page = signed_in(squads.by_role["coach"]).get(f"/squads/{squads.ours}/{where}")
    assert page.status_code == 404
    assert "Nothing is here" in page.content.decode()


def test_the_door_of_the_log_refuses_it(squads: Squads) -> None:
    where = f"/squads/{squads.ours}/programmes/{PROGRAMME}/written/"
    client = signed_in(squads.by_role["coach"])
    sent = '{"entries": [{"note": "so\\u0000re"}]}'
    answer = client.post(where, sent, content_type="application/json")
    assert answer.status_code == 422
    assert "without the sign NUL" in answer.json()["why"]
    written = client.post(where, sent.replace("\\u", "\\\\u"), content_type="application/json")
    assert "without the sign NUL" not in written.content.decode()


def test_the_store_keeps_it_out_wherever_it_came_from(squads: Squads) -> None:
    coach, ours = squads.by_role["coach"], squads.ours
    latest = two_athletes()
    with pytest.raises(RefusedError, match="without the sign NUL in reason; leave it out"):
        programmes.save_programme(coach, ours, next_one(latest, f"so{NUL}re"), after=digest(latest))
    with pytest.raises(RefusedError, match="NUL in name"):
        athletes.add_athlete(coach, ours, Athlete(ref="lea", name=f"L{NUL}ea"))
    with pytest.raises(RefusedError, match="NUL in name"):
        athletes.change_athlete(coach, ours, Athlete(ref="mila", name=f"M{NUL}"))
    with pytest.raises(RefusedError, match="NUL in text"):
        daily.add_note(coach, ours, "mila", text=f"a{NUL}b")
    with pytest.raises(RefusedError, match="NUL in reason"):
        briefs.save_brief(coach, ours, brief("Autumn"), after=1, reason=NUL)
    with pytest.raises(RefusedError, match="NUL in name"):
        places.make_squad(squads.keeper, name=f"S{NUL}", brief=brief())
    _, secret = invitations.invite(squads.keeper, ours, role="viewer")
    with pytest.raises(RefusedError, match="NUL in"):
        invitations.accept_with_new_account(secret, login="someone", name=NUL + "x", password=PASSWORD)
    assert restrictions.restrictions(coach, ours) == ()
    assert [one.ref for one in athletes.athletes(coach, ours)] == ["mila", "noa"]

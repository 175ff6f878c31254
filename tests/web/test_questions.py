"""How often a page asks the database does not grow with what is stored (must show: query counts tested)."""

from __future__ import annotations

from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from invented_squads import PASSWORD, Squads, brief, two_athletes
from speedloom.store import athletes, people, programmes
from speedloom.store.squads import make_squad, my_squads
from speedloom.training.athlete import Athlete


def questions(client: Client, page: str) -> int:
    with CaptureQueriesContext(connection) as asked:
        assert client.get(page).status_code == 200
    return len(asked)


def test_today_asks_no_more_for_more_programmes_and_athletes(squads: Squads) -> None:
    client, owner = Client(), squads.by_role["owner"]
    client.post("/sign-in/", {"login": "owner", "password": PASSWORD})
    questions(client, "/")  # which reads a programme that is new to it
    before = questions(client, "/")
    for number in range(12):
        athletes.add_athlete(owner, squads.ours, Athlete(ref=f"one_{number}"))
        document = two_athletes().model_copy(update={"id": f"{number:012x}"})
        programmes.save_programme(owner, squads.ours, document)
    questions(client, "/")
    assert questions(client, "/") == before <= 13


def test_many_programmes_are_listed_in_one_question(squads: Squads) -> None:
    owner = squads.by_role["owner"]
    for number in range(5):
        document = two_athletes().model_copy(update={"id": f"{number:012x}"})
        programmes.save_programme(owner, squads.ours, document)
    with CaptureQueriesContext(connection) as asked:
        assert len(programmes.programmes(owner, squads.ours)) == 6
    assert len(asked) == 1


def test_who_somebody_is_takes_three_questions_whatever_the_number_of_squads(squads: Squads) -> None:
    for number in range(5):
        make_squad(squads.keeper, name=f"Squad {number}", brief=brief())
    with CaptureQueriesContext(connection) as asked:
        who = people.again(squads.keeper)
    assert (len(who.memberships), len(asked)) == (6, 3)
    with CaptureQueriesContext(connection) as asked:
        assert len(my_squads(who)) == 6
    assert len(asked) == 1

"""The squad's page and one athlete's: rows with errors, sorted and filtered; who may see health sees it."""

from __future__ import annotations

import json
import re

import pytest
from django.db import connection
from django.http import HttpResponse
from django.test import Client
from django.test.utils import CaptureQueriesContext

from invented_squads import REFS, Squads, limit, sprint
from speedloom.store import models
from speedloom.store.athletes import archive_athlete, athletes
from speedloom.store.measurements import add_measurements
from speedloom.store.restrictions import set_restriction
from speedloom.training.measurement import Measurements


def as_(squads: Squads, role: str) -> Client:
    client = Client()
    row = models.Person.objects.get(pk=squads.by_role[role].person)  # type: ignore[index]
    client.force_login(row, backend="speedloom.store.signing_in.PersonBackend")
    return client


@pytest.fixture
def coach(squads: Squads) -> Client:
    return as_(squads, "coach")


def text(page: HttpResponse) -> str:
    return re.sub(r"\s+", " ", page.content.decode())


def squad(client: Client, squads: Squads, **asked: str | list[str]) -> str:
    page = client.get(f"/squads/{squads.ours}/", asked)
    assert page.status_code == 200
    return text(page)  # type: ignore[arg-type]


def athlete(client: Client, squads: Squads, ref: str = "mila") -> str:
    page = client.get(f"/squads/{squads.ours}/athletes/{ref}/")
    assert page.status_code == 200
    return text(page)  # type: ignore[arg-type]


def names(page: str) -> list[str]:
    return re.findall(r'<th scope="row"><a href="[^"]+">(\w+)</a>', page)


def test_a_row_holds_the_last_test_with_its_error_and_the_programme(coach: Client, squads: Squads) -> None:
    page = squad(coach, squads)
    assert names(page) == ["Mila", "Noa"]
    assert re.search(r'<span class="big">4\.41</span> <small class="soft">± 0\.0\d</small>', page)
    assert "8 Jan 2026" in page
    assert ">Spring</a>" in page


def test_rows_are_sorted_and_filtered_by_the_address(coach: Client, squads: Squads) -> None:
    add_measurements(squads.keeper, squads.ours, sprint("noa", day="2026-02-01", last=4.2))
    assert names(squad(coach, squads, sort="time")) == ["Noa", "Mila"]
    assert names(squad(coach, squads, sort="tested")) == ["Mila", "Noa"]
    assert names(squad(coach, squads, name="mi")) == ["Mila"]
    assert names(squad(coach, squads, show="untested")) == []
    assert "Nobody fits what is asked for" in squad(coach, squads, show="untested")
    assert names(squad(coach, squads, sort="nonsense", show="nonsense", page="nonsense")) == ["Mila", "Noa"]


def test_only_those_who_may_see_health_see_a_restriction(coach: Client, squads: Squads) -> None:
    set_restriction(squads.by_role["coach"], squads.ours, "mila", limit())
    said = "t most 80 % of top speed"
    assert said in squad(coach, squads)
    assert names(squad(coach, squads, show="restricted")) == ["Mila"]
    assert said in athlete(coach, squads)
    viewer = as_(squads, "viewer")
    assert said not in squad(viewer, squads)
    assert said not in athlete(viewer, squads)
    assert "Restriction" not in squad(viewer, squads)
    assert said in athlete(as_(squads, "athlete"), squads)


def test_own_answers_are_for_coach_and_clinician_without_a_total(coach: Client, squads: Squads) -> None:
    scales = ("fatigue", "sleep", "soreness", "stress", "mood")
    own = f"/squads/{squads.ours}/athletes/mila/mine/answers/"
    as_(squads, "athlete").post(own, dict.fromkeys(scales, "3") | {"sleep": "1"})
    for role, sees in {"clinician": True, "assistant": False, "viewer": False}.items():
        assert ("Own answers" in athlete(as_(squads, role), squads)) == sees
    shown = athlete(coach, squads).partition("Own answers")[2].partition("</section>")[0]
    assert re.findall(r'<td class="number">(\d+)</td>', shown) == ["3", "1", "3", "3", "3"]
    assert "sleep: 1 badly, 5 very well" in shown
    assert "13" not in re.sub(r"<th[^>]*>.*?</th>", "", shown)


def test_athletes_stand_side_by_side_on_one_picture(coach: Client, squads: Squads) -> None:
    three = {"10 m": 1.9, "20 m": 3.2, "30 m": 4.45}
    for ref in REFS:
        table = "\n".join(
            ["\t".join(["Name", *three]), "\t".join([ref, *(str(one) for one in three.values())])]
        )
        how = {
            "date": "2026-03-01",
            "timing": "gates",
            "clock": "movement",
            "start": "standing",
            "table": table,
        }
        looked = coach.post(f"/squads/{squads.ours}/tests/", how)
        stamp = re.search(r'name="stamp" value="(\w+)"', looked.content.decode())
        assert stamp
        coach.post(f"/squads/{squads.ours}/tests/", {**how, "save": "1", "stamp": stamp[1]})
    page = squad(coach, squads, beside=["mila", "noa", "nobody"])
    assert "Speed over distance, side by side" in page
    assert page.count('class="curve-line"') == 2
    assert page.count(" checked") == 2
    assert "curve-line" not in squad(coach, squads)


def test_somebody_new_is_added_and_faults_stay_at_their_field(coach: Client, squads: Squads) -> None:
    where = f"/squads/{squads.ours}/add/"
    wrong = coach.post(where, {"name": "Zoë", "mass_kg": "640"})
    assert wrong.status_code == 422
    assert 'value="Zoë"' in wrong.content.decode()
    assert "less than or equal to 200" in wrong.content.decode()
    assert coach.post(where, {"name": "Zoë", "mass_kg": "64", "born": "2008-02-03"}).status_code == 302
    assert coach.post(where, {"name": "Zoe", "again": "1"})["Location"].endswith("/add/")
    assert coach.post(where, {"name": "Ilse Brandsma"})["Location"].endswith("/athletes/ilse_brandsma/")
    found = {card.ref: card.athlete for card in athletes(squads.keeper, squads.ours)}
    assert found["zoe"].mass_kg == 64
    assert found["zoe_2"].title == "Zoe"
    assert as_(squads, "assistant").get(where).status_code == 403


def test_an_empty_squad_teaches_the_next_step(coach: Client, squads: Squads) -> None:
    for ref in REFS:
        archive_athlete(squads.keeper, squads.ours, ref)
    page = squad(coach, squads)
    assert "The quickest way in" in page
    assert f"/squads/{squads.ours}/tests/" in page


def test_an_athlete_is_shown_with_what_changed_and_how_sure_it_is(coach: Client, squads: Squads) -> None:
    assert "Tested in the same way on two days" in athlete(coach, squads)
    add_measurements(squads.keeper, squads.ours, sprint("mila", day="2026-03-01", last=4.05))
    page = athlete(coach, squads)
    assert re.search(r"30 m time</th>.*?4\.41 s.*?4\.05 s.*?−0\.36 s.*?likely faster \(\w*\s?\d+ %\)", page)
    assert "30 m time" in page
    assert page.count("<figure>") >= 1
    assert ">Spring</a>" in page


def test_a_change_is_the_difference_of_what_stands_beside_it(coach: Client, squads: Squads) -> None:
    add_measurements(squads.keeper, squads.ours, sprint("mila", trial=2, last=4.404))
    add_measurements(squads.keeper, squads.ours, sprint("mila", day="2026-02-20", last=4.386))
    page = athlete(coach, squads)
    rows = re.findall(
        r'<td class="number">([\d.]+) \S+ <small.*?<td class="number">([\d.]+) \S+ <small.*?'
        r'<td class="number">([+−]?[\d.]+) ',
        page,
    )
    assert ("4.40", "4.39", "−0.01") in rows, "as measured it is 0.018, which reads 0.02"
    for before, after, change in rows:
        assert float(change.replace("−", "-")) == pytest.approx(float(after) - float(before), abs=1e-9)
    assert "are compared as the mean of all runs of a day" in page


def test_what_cannot_be_judged_alone_says_why_where_it_stands(coach: Client, squads: Squads) -> None:
    for day, times in (("2026-02-08", (1.10, 1.84, 3.18, 4.44)), ("2026-03-01", (1.07, 1.81, 3.11, 4.35))):
        add_measurements(squads.keeper, squads.ours, four_gates(day, times))
    page = athlete(coach, squads)
    assert re.search(r"Start force</th>.*?<td>not judged here</td>", page)
    assert "Not judged here: how much this test scatters is not known from these tests alone" in page
    assert "Not judged here" in text(as_(squads, "athlete").get(f"/squads/{squads.ours}/athletes/mila/mine/"))  # type: ignore[arg-type]


def four_gates(day: str, times: tuple[float, ...]) -> Measurements:
    splits = [
        {"distance_m": far, "time_s": at} for far, at in zip((5.0, 10.0, 20.0, 30.0), times, strict=True)
    ]
    about = {
        "athlete": "mila",
        "date": day,
        "trial": 1,
        "timing": "gates",
        "clock": "behind",
        "behind_m": 0.5,
    }
    return Measurements.model_validate_json(json.dumps({"trials": [about | {"splits": splits}]}))


def test_one_training_year_and_answers_under_what_was_asked(coach: Client, squads: Squads) -> None:
    coach.post(f"/squads/{squads.ours}/athletes/mila/about/", {"name": "Mila", "training_years": "1"})
    answers = dict.fromkeys(("fatigue", "sleep", "soreness", "stress", "mood"), "5")
    as_(squads, "athlete").post(f"/squads/{squads.ours}/athletes/mila/mine/answers/", answers)
    page = athlete(coach, squads)
    assert "1 training year<" in page.replace("</p>", "<") or "1 training year " in page
    assert "1 training years" not in page
    assert '<th scope="col">calm</th>' in page
    assert '<th scope="col">stress</th>' not in page


def test_units_and_the_mark_of_what_is_usual_are_explained_where_they_stand(
    coach: Client, squads: Squads
) -> None:
    pages = [athlete(coach, squads, ref) for ref in REFS]
    assert ["newtons and watts for each kilogram of body mass" in page for page in pages] == [True, True]
    marked = ["°</span>" in page for page in pages]
    assert marked == ["° rests partly on what is usual" in page for page in pages]


def test_what_is_known_and_levels_are_changed_by_a_form(coach: Client, squads: Squads) -> None:
    where = f"/squads/{squads.ours}/athletes/mila/about/"
    assert "proposed: novice" in text(coach.get(where))  # type: ignore[arg-type]
    sent = {"name": "Mila Jansen", "training_years": "4", "level-plyometric": "advanced"}
    assert coach.post(where, {**sent, "height_m": "17"}).status_code == 422
    assert coach.post(where, sent).status_code == 302
    one = next(card.athlete for card in athletes(squads.keeper, squads.ours) if card.ref == "mila")
    assert (one.name, one.training_years, one.level) == ("Mila Jansen", 4.0, {"plyometric": "advanced"})
    assert "Plyometric: advanced" in athlete(coach, squads)


def test_notes_are_for_those_who_work_with_the_athlete(coach: Client, squads: Squads) -> None:
    where = f"/squads/{squads.ours}/athletes/mila/notes/"
    page = coach.post(where, {"text": "heel high at the start"}, follow=True)
    assert "heel high at the start" in text(page)  # type: ignore[arg-type]
    assert "heel high" not in athlete(as_(squads, "viewer"), squads)
    assert "heel high" not in athlete(as_(squads, "athlete"), squads)
    number = re.search(r"notes/(\d+)/take-back", text(page))  # type: ignore[arg-type]
    assert number
    coach.post(f"{where}{number[1]}/take-back/")
    assert "heel high" not in athlete(coach, squads)


def test_an_own_page_says_nothing_of_others(squads: Squads) -> None:
    client = as_(squads, "athlete")
    assert "Mila" in athlete(client, squads)
    assert client.get(f"/squads/{squads.ours}/athletes/noa/").status_code == 403
    assert client.get(f"/squads/{squads.ours}/").status_code == 403


def test_a_squad_takes_as_many_queries_with_one_athlete_more(coach: Client, squads: Squads) -> None:
    squad(coach, squads)
    with CaptureQueriesContext(connection) as before:
        squad(coach, squads)
    coach.post(f"/squads/{squads.ours}/add/", {"name": "Zoë"})
    add_measurements(squads.keeper, squads.ours, sprint("zoe"))
    squad(coach, squads)  # takes the message that somebody was added
    with CaptureQueriesContext(connection) as after:
        squad(coach, squads)
    assert len(after) <= len(before)
    assert len(after) < 20

"""The tests page: pasted tables are looked at before they are kept; a wrong row is struck out."""

from __future__ import annotations

import re
from io import BytesIO

import pytest
from django.http import HttpResponse
from django.template.loader import render_to_string
from django.test import Client
from xlsxwriter import Workbook

from invented_squads import Squads
from speedloom.store import models
from speedloom.store.athletes import athletes
from speedloom.store.measurements import measurement_rows, measurements
from speedloom.web.pages.squad.numbers import NumberShown, ProfileShown

TABLE = """Name\t5 m\t10 m\t20 m\t30 m
Mila\t1,10\t1.84\t3.18\t4.44
Mila\t1.11\t1.88\t3.20\t4.48
Zoë Achterberg\t1.15\t1.93\t3.31\t4.63
"""
HOW = {
    "date": "2026-01-20",
    "timing": "gates",
    "clock": "behind",
    "behind_m": "0.5",
    "start": "standing",
    "place": "hall",
}


@pytest.fixture
def coach(squads: Squads) -> Client:
    return as_(squads, "coach")


def as_(squads: Squads, role: str) -> Client:
    client = Client()
    row = models.Person.objects.get(pk=squads.by_role[role].person)  # type: ignore[index]
    client.force_login(row, backend="speedloom.store.signing_in.PersonBackend")
    return client


def send(client: Client, squads: Squads, table: str, **more: object) -> HttpResponse:
    return client.post(f"/squads/{squads.ours}/tests/", {**HOW, "table": table, **more})  # type: ignore[return-value]


def text(page: HttpResponse) -> str:
    return re.sub(r"\s+", " ", page.content.decode())


def stamp(page: HttpResponse) -> str:
    found = re.search(r'name="stamp" value="(\w+)"', text(page))
    assert found, text(page)
    return found[1]


def save(client: Client, squads: Squads, table: str, **more: object) -> HttpResponse:
    looked = send(client, squads, table, **more)
    return send(client, squads, table, save="1", stamp=stamp(looked), **more)


def test_a_look_saves_nothing_and_shows_each_profile(coach: Client, squads: Squads) -> None:
    page = send(coach, squads, TABLE)
    assert page.status_code == 200
    assert "<strong>3</strong> rows are new" in text(page)
    assert "Zoë Achterberg" in text(page)
    assert "new: add to the squad" in text(page)
    assert len(measurements(squads.keeper, squads.ours).trials) == 2
    assert not [card for card in athletes(squads.keeper, squads.ours) if card.ref.startswith("zo")]
    assert text(page).count('<span class="big">') >= 4


def test_what_was_looked_at_is_kept_with_the_new_athlete(coach: Client, squads: Squads) -> None:
    assert save(coach, squads, TABLE).status_code == 302
    new = next(card for card in athletes(squads.keeper, squads.ours) if card.name == "Zoë Achterberg")
    assert new.ref == "zoe_achterberg"
    kept = measurements(squads.keeper, squads.ours, athlete="mila").trials
    assert [(one.trial, one.splits[0].time_s) for one in kept if one.date.day == 20] == [(1, 1.1), (2, 1.11)]
    assert {(one.clock, one.behind_m, one.place) for one in kept if one.date.day == 20} == {
        ("behind", 0.5, "hall")
    }


def test_a_table_changed_after_the_look_is_shown_again(coach: Client, squads: Squads) -> None:
    seen = stamp(send(coach, squads, TABLE))
    page = send(coach, squads, TABLE.replace("4.63", "4.60"), save="1", stamp=seen)
    assert page.status_code == 200
    assert "changed since you looked" in text(page)
    assert len(measurements(squads.keeper, squads.ours).trials) == 2


def test_every_fault_stands_in_its_cell_and_nothing_is_saved(coach: Client, squads: Squads) -> None:
    wrong = TABLE.replace("1.88", "1.8x").replace("4.63", "four")
    page = send(coach, squads, wrong, save="1", stamp="0" * 16)
    assert page.status_code == 422
    said = text(page)
    assert "2 faults. Nothing was saved" in said
    assert re.search(r'<tr data-line="3">.*?data-column="2">1.8x<span class="fault">Expected a number', said)
    assert re.search(r'<tr data-line="4">.*?data-column="4">four<span class="fault">', said)
    assert "Mila 1.11 1.8x" in said
    assert len(measurements(squads.keeper, squads.ours).trials) == 2


def test_an_unknown_clock_is_asked_for_once_and_not_guessed(coach: Client, squads: Squads) -> None:
    page = send(coach, squads, TABLE, clock="")
    assert page.status_code == 422
    assert text(page).count("it is never guessed") == 2


def test_the_same_table_again_is_not_counted_twice(coach: Client, squads: Squads) -> None:
    save(coach, squads, TABLE)
    page = send(coach, squads, TABLE)
    assert "<strong>3</strong> are stored already" in text(page)
    assert "Nothing new to save" in text(page)
    other = send(coach, squads, TABLE.replace("4.44", "4.41"))
    assert "another run 1 of that day is stored; this one is kept as run 3" in text(other)


def test_a_name_like_one_of_the_squad_is_asked_about(coach: Client, squads: Squads) -> None:
    table = "Name\t10 m\t30 m\nMilla\t1.9\t4.5\n"
    page = send(coach, squads, table)
    assert "Please say who is meant" in text(page)
    field = re.search(r'<select id="(who\w+)"', text(page))
    assert field
    assert save(coach, squads, table, **{field[1]: "mila"}).status_code == 302
    assert len(measurements(squads.keeper, squads.ours, athlete="mila").trials) == 2


def test_a_trial_that_cannot_be_true_is_said_at_once(coach: Client, squads: Squads) -> None:
    page = send(coach, squads, "Name\t10 m\t30 m\nMila\t0.3\t0.6\n")
    assert page.status_code == 200
    assert "left out" in text(page)


def test_a_workbook_is_read_like_a_table(coach: Client, squads: Squads) -> None:
    file = BytesIO()
    book = Workbook(file, {"in_memory": True})
    sheet = book.add_worksheet()
    for row, cells in enumerate([["athlete", "10 m", "30 m"], ["Mila", 1.9, 4.5], ["Noa", "x", 4.6]]):
        sheet.write_row(row, 0, cells)
    book.close()
    file.seek(0)
    file.name = "tests.xlsx"
    page = send(coach, squads, "", file=file)
    assert page.status_code == 422
    assert re.search(r'<tr data-line="3">.*?data-column="1">x<span class="fault">', text(page))
    assert "Mila 1.9 4.5" in text(page)


def test_a_file_that_is_no_table_is_refused_with_reasons(coach: Client, squads: Squads) -> None:
    file = BytesIO(b"PK\x03\x04 no workbook")
    file.name = "tests.xlsx"
    page = send(coach, squads, TABLE, file=file)
    assert page.status_code == 422
    assert "a workbook (XLSX or ODS)" in text(page)
    assert "Achterberg" in text(page)


def test_an_assistant_writes_tests_but_adds_nobody(squads: Squads) -> None:
    page = send(as_(squads, "assistant"), squads, TABLE)
    assert page.status_code == 422
    assert "ask a coach to add them first" in text(page)
    assert save(as_(squads, "assistant"), squads, TABLE.rpartition("Zo")[0]).status_code == 302


def test_a_wrong_row_is_struck_out_with_a_reason_and_stays(coach: Client, squads: Squads) -> None:
    row = measurement_rows(squads.keeper, squads.ours, athlete="mila")[0]
    where = f"/squads/{squads.ours}/tests/{row.id}"
    coach.post(f"{where}/strike/", {"reason": " "})
    assert len(measurements(squads.keeper, squads.ours, athlete="mila").trials) == 1
    page = coach.post(f"{where}/strike/", {"reason": "gate 2 was knocked over"}, follow=True)
    assert "struck out by coach: gate 2 was knocked over" in text(page)
    assert not measurements(squads.keeper, squads.ours, athlete="mila").trials
    coach.post(f"{where}/bring-back/")
    assert len(measurements(squads.keeper, squads.ours, athlete="mila").trials) == 1


def test_an_empty_squad_is_told_what_to_do(coach: Client, squads: Squads) -> None:
    for row in measurement_rows(squads.keeper, squads.ours):
        models.Measurement.objects.filter(pk=row.id).delete()
    assert "No test yet. Copy a squad" in text(coach.get(f"/squads/{squads.ours}/tests/"))  # type: ignore[arg-type]


def test_what_starts_the_clock_is_asked_at_its_field(coach: Client, squads: Squads) -> None:
    page = send(coach, squads, TABLE, clock="", behind_m="")
    assert page.status_code == 422
    assert "Please choose: it is never guessed" in text(page)
    assert "behind_m," not in text(page)
    assert "Zoë Achterberg" in text(page)  # the table is there still
    own = TABLE.replace("30 m\n", "30 m\tClock\n").replace("4.44\n", "4.44\tgun\n")
    assert "Please choose" not in text(send(coach, squads, own, clock="", behind_m=""))


def test_jumps_and_lifts_pasted_beside_runs_are_told_before_and_stand_on_the_athletes_page(
    squads: Squads, coach: Client
) -> None:
    table = "Name\t10 m\t20 m\t30 m\tCMJ cm\tBack squat 3RM\nMila\t1.9\t3.2\t4.4\t34,5\t60\n"
    looked = text(send(coach, squads, table))
    assert "jump 34.5 cm; Back squat 60 kg × 3, 0 in reserve" in looked
    save(coach, squads, table)
    tested = measurements(squads.by_role["coach"], squads.ours, athlete="mila")
    assert [(one.height_m, one.trial) for one in tested.jumps] == [(0.345, 1)]
    shown = text(coach.get(f"/squads/{squads.ours}/athletes/mila/"))
    assert "Jumps and lifts" in shown
    assert "34.5 cm" in shown


def test_what_the_rows_say_of_a_new_athlete_stands_in_the_form_already(squads: Squads, coach: Client) -> None:
    table = "Name\tBorn\tSex\tWeight\t10 m\t20 m\nIlse Brandsma\t2009-03-01\tfemale\t58\t2.02\t3.34\n"
    looked = text(send(coach, squads, table))
    for expected in ('value="2009-03-01"', '<option value="female" selected>', 'value="58.0"'):
        assert expected in looked, expected


def test_the_form_says_from_which_test_its_way_of_timing_is(squads: Squads, coach: Client) -> None:
    where = f"/squads/{squads.ours}/tests/"
    assert "Filled in as on 20 January 2026" not in text(coach.get(where))
    save(coach, squads, TABLE)
    assert "Filled in as on 20 January 2026" in text(coach.get(where))


@pytest.mark.parametrize("usual", [(False, False), (True, True), (False, True)])
def test_a_degree_sign_is_explained_once_and_only_where_there_is_one(usual: tuple[bool, ...]) -> None:
    numbers = [NumberShown("8.1", "8.0–8.2", "m/s", one) for one in usual]
    shown = [ProfileShown("mila", "Mila", "gates", one, one, None, ()) for one in numbers]
    page = render_to_string("tests/profiles.html", {"shown": shown})
    assert page.count("rests partly on what is usual") == int(any(usual))


def test_what_a_cell_may_hold_is_said_before_anything_is_typed(squads: Squads) -> None:
    page = text(as_(squads, "coach").get(f"/squads/{squads.ours}/tests/"))
    for said in ("as 2007-03-14 or 14 Mar 2007", "a year alone is not enough", "or f or m"):
        assert said in page, said
    assert 'aria-describedby="table_help table_person"' in page

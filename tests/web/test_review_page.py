"""The review page: planned beside done, the loads as picture and table, and who may read why."""

from __future__ import annotations

import re

from django.test import Client

from invented_squads import PROGRAMME, Squads
from living_site import LivingSite
from season_on_pages import signed_in

HEADS = (
    "sprint m", "≥ 90 % m", "≥ 95 % m", "contacts", "hard sets", "tonnage t", "minutes", "monotony",
    "strain", "7-day", "28-day",
)  # fmt: skip
RISK = re.compile(r"injur|risk|danger|red flag|score|ranking", re.IGNORECASE)


def test_a_week_is_laid_beside_what_was_planned(lived: LivingSite) -> None:
    page = lived.page(f"{lived.here}review/", {"week": "6"})
    assert "Week 6: planned beside done" in page
    for said in (*HEADS, "not trained (weather)", "not trained (illness)"):
        assert said in page, said
    assert "All but Leilani Kealoha" in page, "what is the same stands once"
    assert not RISK.search(page.partition("<main")[2].partition("<footer")[0])


def test_an_athlete_has_loads_as_a_picture_and_as_a_table(lived: LivingSite) -> None:
    page = lived.page(f"{lived.here}review/", {"week": "all", "athlete": "mila"})
    assert '<svg xmlns="http://www.w3.org/2000/svg"' in page
    assert page.count("style=") == 0
    assert 'class="weave"' in page
    assert "weave-done" in page, "what was done is drawn inside the threads"
    table = page.partition("As a table")[2].partition("</table>")[0]
    assert table.count("<tr>") == 1 + 6 * 7 + 3, "a row a day, from the first Monday to today"
    assert "Fenna" not in page.rpartition("</form>")[2], "the page names nobody else below the choice"


def test_the_last_written_week_is_open_and_a_strange_one_too(lived: LivingSite) -> None:
    for week in ("", "99", "x"):
        assert "Week 7: planned beside done" in lived.page(f"{lived.here}review/", {"week": week})


def test_the_squads_link_leads_to_the_newest_programme(lived: LivingSite) -> None:
    answer = lived.people["coach"].get(f"{lived.squad}review/")
    assert answer["Location"] == f"{lived.here}review/"
    assert f'href="{lived.squad}review/"' in lived.page(lived.squad)


def test_reasons_of_health_are_not_for_a_viewer(lived: LivingSite) -> None:
    coach = lived.page(f"{lived.here}review/", {"week": "all", "athlete": "fenna"})
    viewer = lived.page(f"{lived.here}review/", {"week": "all", "athlete": "fenna"}, who="viewer")
    for said in ("(pain)", "hamstring", "illness"):
        assert said not in viewer
    assert "(pain)" in coach
    assert "hamstring" in coach
    assert "not trained (weather)" in viewer
    physio = lived.page(f"{lived.here}review/", {"week": "all", "athlete": "fenna"}, who="physio")
    assert "(pain)" in physio


def test_as_a_pdf_for_the_squad_and_for_one(lived: LivingSite) -> None:
    squad, one = (
        lived.people["coach"].get(f"{lived.here}review/paper/", query)
        for query in ({"week": "6"}, {"week": "6", "athlete": "mila"})
    )
    for answer in (squad, one):
        assert answer["Content-Type"] == "application/pdf"
        assert answer.content.startswith(b"%PDF")
    assert len(squad.content) > len(one.content)


def test_a_squad_without_a_log_is_told_how_one_comes_about(squads: Squads) -> None:
    client: Client = signed_in(squads.keeper)
    page = client.get(f"/squads/{squads.ours}/programmes/{PROGRAMME}/review/").content.decode()
    assert "Nothing is written down of this programme yet" in page


def test_a_session_of_which_a_part_was_done_is_counted_as_such(lived: LivingSite) -> None:
    page = lived.page(f"{lived.here}review/", {"week": "6"})
    row = page.partition(">Fenna Dijkgraaf</a></th>")[2].partition("</tr>")[0]
    assert '<td class="number">2 of 3, one partly</td>' in row

"""Sharper numbers on their page: each with its basis, accepted one by one or together, looked at first."""

from __future__ import annotations

import re
from datetime import date

from django.utils.timezone import localdate

from invented_squads import PROGRAMME, Squads
from living_site import LivingSite
from page_forms import form_with
from season_on_pages import signed_in
from speedloom.store.athletes import record_screening
from speedloom.store.restrictions import set_restriction
from speedloom.training.athlete import Limit, Restriction, Screening
from speedloom.training.document import digest
from speedloom.training.programme import Programme
from speedloom.web.pages.programme.hard_limits import held_now
from speedloom.wording.books import books_of
from speedloom.workflows.beyond_limits import beyond_limits

IDS = re.compile(r'name="take" value="([^"]+)"')


def proposals(lived: LivingSite) -> str:
    return f"{lived.here}proposals/"


def offered(lived: LivingSite) -> list[str]:
    return IDS.findall(lived.page(proposals(lived)))


def test_each_has_before_after_why_and_its_steps(lived: LivingSite) -> None:
    page = lived.page(proposals(lived))
    assert len(offered(lived)) >= 2
    one = page.partition('class="proposal"')[2].partition('class="proposal"')[0]
    for said in ("1RM", "→", "90 % band", "sets in training", "From entries", "by rule X17", "<table"):
        assert said in one, said
    assert "checked" not in page.partition("<main")[2], "nothing is ticked for the coach"


def test_one_is_accepted_after_what_it_moves_was_said(lived: LivingSite) -> None:
    before = lived.document()
    first, *others = offered(lived)
    page = lived.page(proposals(lived), {"look": "1", "take": first})
    assert "What would change" in page
    assert "heavier sets" in page
    assert page.count('class="weave"') == 2
    assert lived.document() == before
    form = form_with(page, "after")
    assert form["take"] == [first]
    answer = lived.people["coach"].post(proposals(lived), dict(form))
    assert answer["Location"] == lived.here
    made = lived.document()
    assert made.revision.reason == f"Accepted: {first}"
    left = offered(lived)
    assert first not in left
    assert set(left) <= set(others)


def test_all_are_accepted_together(lived: LivingSite) -> None:
    every = offered(lived)
    form = form_with(lived.page(proposals(lived), {"all": "1"}), "after")
    assert form["take"] == every
    lived.people["coach"].post(proposals(lived), dict(form))
    assert lived.document().revision.reason == f"Accepted: {', '.join(every)}"
    assert offered(lived) == []
    assert "Nothing to propose" in lived.page(proposals(lived))


def test_nothing_ticked_and_a_wrong_day_are_said(lived: LivingSite) -> None:
    assert "Tick at least one number" in lived.page(proposals(lived), {"look": "1"}, status=422)
    wrong = lived.page(proposals(lived), {"on": "soon"}, status=422)
    assert 'value="soon"' in wrong
    assert "Expected a day such as" in wrong
    assert "checkbox" not in lived.page(proposals(lived), {"on": "2026-10-01"}), "nothing was written by then"


def test_somebody_was_quicker_and_the_ticks_stay(lived: LivingSite) -> None:
    first, second, *_ = offered(lived)
    form = form_with(lived.page(proposals(lived), {"look": "1", "take": second}), "after")
    other = form_with(lived.page(proposals(lived), {"look": "1", "take": first}), "after")
    lived.people["coach"].post(proposals(lived), dict(other))
    now = lived.document()
    answer = lived.people["coach"].post(proposals(lived), dict(form))
    assert answer.status_code == 409
    page = answer.content.decode()
    assert "Somebody changed the programme meanwhile" in page
    assert re.search(rf'value="{re.escape(second)}" checked', page)
    assert lived.document() == now


def test_only_who_may_change_a_programme_sees_them(lived: LivingSite) -> None:
    for who in ("assistant", "physio", "viewer", "mila"):
        assert "back squat" not in lived.page(proposals(lived), who=who, status=403).lower()


def test_without_a_log_it_says_what_comes_here(squads: Squads) -> None:
    client = signed_in(squads.keeper)
    page = client.get(f"/squads/{squads.ours}/programmes/{PROGRAMME}/proposals/").content.decode()
    assert "Nothing is written down of this programme yet" in page


def test_accepting_goes_by_limits_that_are_newer(lived: LivingSite) -> None:
    before = lived.document()
    day = date(2026, 11, 24)
    light = {"limits": (Limit(what="load_kg", at_most=10.0),), "from": day, "set_by": "The coach"}
    for one in lived.document().programmes:
        new = Restriction.model_validate({"ref": "light", "set_as": "coach", **light})
        set_restriction(lived.coach, lived.key, one.athlete, new)
    held = held_now(lived.coach, lived.key, before)
    rulebook, catalogue = books_of(before)

    def above(document: Programme) -> int:
        return len(beyond_limits(document, held, since=localdate(), rulebook=rulebook, catalogue=catalogue))

    assert above(before) > 0
    typed = {"all": "1", "after": digest(before)}
    assert lived.people["coach"].post(proposals(lived), typed).status_code == 302
    made = lived.document()
    assert made.revision.number == before.revision.number + 1
    assert above(made) == 0


def test_nothing_is_planned_for_who_is_not_cleared(lived: LivingSite) -> None:
    before = lived.document()
    lived.page(proposals(lived), {"all": "1"})
    answers = Screening(on=date(2026, 11, 24), pain=False, cleared=False)
    record_screening(lived.coach, lived.key, "mila", answers)
    page = lived.page(proposals(lived), {"all": "1"}, status=422)
    assert "may not be planned" in page
    typed = {"all": "1", "after": digest(before)}
    answer = lived.people["coach"].post(proposals(lived), typed)
    assert answer.status_code == 422
    assert "(rule H1)" in answer.content.decode()
    assert lived.document() == before

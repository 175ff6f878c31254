"""A new programme starts behind the one that runs, and takes in whom the coach ticks."""

from __future__ import annotations

import re
from datetime import date, timedelta

from living_site import LivingSite
from living_squad import TODAY
from season_on_pages import form_with
from speedloom.store.athletes import add_athlete
from speedloom.store.briefs import brief as read_brief
from speedloom.store.programmes import archive_programme
from speedloom.training.athlete import Athlete
from speedloom.web.pages.new_programme.first_days import next_monday, proposed


def first_days(page: str) -> tuple[str, str]:
    form = form_with(page, "slots")
    return str(form["start"][0]), str(form["end"][0])


def ticked(page: str) -> set[str]:
    return {name.removesuffix("-taken") for name in form_with(page, "slots") if name.endswith("-taken")}


def asks(lived: LivingSite, **query: str) -> str:
    return lived.page(f"{lived.squad}new-programme/", query)


def newcomer(lived: LivingSite) -> None:
    add_athlete(lived.coach, lived.key, Athlete(ref="tilde", name="Tilde Brink"))


def test_it_starts_on_the_monday_after_the_running_one_ends_and_says_so(lived: LivingSite) -> None:
    content = lived.document().brief.content
    assert content is not None
    assert content.start < TODAY <= content.end, "the programme runs"
    page = asks(lived)
    start = next_monday(content.end)
    assert first_days(page) == (str(start), str(start + (content.end - content.start)))
    assert re.search(r"The Monday after Spring build ends \(\w{3} \d+ \w{3} \d{4}\)\.", page)


def test_it_starts_on_the_next_monday_when_none_runs(lived: LivingSite) -> None:
    content = lived.document().brief.content
    assert content is not None
    brief = read_brief(lived.coach, lived.key).brief
    after = content.end + timedelta(days=10)
    days = proposed(lived.coach, lived.key, brief, today=after)
    assert (days.start, days.why) == (next_monday(after), "The next Monday: no programme runs.")
    assert days.peak is None, "a day to be fastest on that is over is not one of the new programme"
    before = brief.start - timedelta(days=3)
    archive_programme(lived.coach, lived.key, lived.programme)
    days = proposed(lived.coach, lived.key, brief, today=before)
    assert (days.start, days.end) == (brief.start, brief.end), "what is still ahead stays"
    assert days.peak is not None


def test_a_newcomer_alone_is_ticked_and_starts_on_the_next_monday(lived: LivingSite) -> None:
    newcomer(lived)
    about = lived.page(f"{lived.squad}athletes/tilde/")
    assert f"{lived.squad}new-programme/?athlete=tilde" in about
    page = asks(lived, athlete="tilde")
    assert ticked(page) == {"tilde"}
    assert date.fromisoformat(first_days(page)[0]) == next_monday(TODAY)
    assert len(ticked(asks(lived))) == 6, "without a name everybody is"


def test_everybody_or_nobody_is_ticked_without_javascript_and_all_else_stays(lived: LivingSite) -> None:
    form = form_with(asks(lived), "slots") | {"name": "Autumn block", "mila-years": "7"}
    coach = lived.people["coach"]
    where = f"{lived.squad}new-programme/"
    page = coach.post(where, {**form, "choose": "none"}).content.decode()
    assert ticked(page) == set()
    kept = form_with(page, "slots")
    assert (kept["name"], kept["mila-years"]) == (["Autumn block"], ["7"])
    assert "Please say" not in page, "nothing is asked for before it is sent"
    page = coach.post(where, {**kept, "choose": "all"}).content.decode()
    assert len(ticked(page)) == 5


def test_the_enter_key_makes_the_programme_and_chooses_nobody_away(lived: LivingSite) -> None:
    page = asks(lived)
    form = page.partition('name="slots"')[0].rpartition("<form")[2] + page.partition('name="slots"')[2]
    first = re.search(r"<button[^>]*>([^<]+)", form)
    assert first
    assert first[1] == "Make the programme", "Enter presses the first button of a form"

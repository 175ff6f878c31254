"""Planning again on its page: the news, what would change before it is accepted, and what hinders."""

from __future__ import annotations

import time
from datetime import date

from invented_squads import PROGRAMME, Squads
from living_site import LivingSite
from page_forms import form_with
from season_on_pages import signed_in
from speedloom.planning.edited import Change
from speedloom.store import athletes, briefs, measurements, programmes
from speedloom.training.calendar import Event
from speedloom.training.document import digest
from speedloom.training.rule import load_rulebook
from speedloom.workflows.edit import edit

LOOK = {"since": "2026-11-25", "reason": "Rain and a hamstring"}


def replans(lived: LivingSite) -> str:
    return f"{lived.here}replan/"


def test_the_news_are_gathered_from_all_pages(lived: LivingSite) -> None:
    was = briefs.brief(lived.coach, lived.key)
    events = (*was.brief.events, Event(kind="match", title="Cup", date=date(2026, 12, 5)))
    changed = was.brief.model_copy(update={"events": tuple(sorted(events, key=lambda one: one.date))})
    briefs.save_brief(lived.coach, lived.key, changed, after=was.number)
    page = lived.page(replans(lived))
    news = page.partition("What is new")[2].partition("</ul>")[0]
    for said in ("no training", "restriction set by the coach", "ests of Fri 20 Nov", "Cup"):
        assert said in news, (said, news)
    assert "What would change" not in page, "nothing is planned before it is asked for"


def test_it_is_looked_at_accepted_and_then_there_is_no_news(lived: LivingSite) -> None:
    before = lived.document()
    page = lived.page(replans(lived), LOOK)
    assert "Revision 2: everything until Tue 24 Nov stands as it is." in page
    assert "Accept as revision 2" in page
    assert page.count('class="weave"') == 2, "the picture before and after"
    assert "Changed weeks:" in page
    assert lived.document() == before, "looking changes nothing"
    form = form_with(page, "after")
    answer = lived.people["coach"].post(replans(lived), dict(form))
    assert answer["Location"] == lived.here
    made = lived.document()
    assert (made.revision.number, made.revision.reason) == (2, LOOK["reason"])
    assert made.revision.parent == digest(before)
    again = lived.page(replans(lived), {"since": "2026-11-26", "reason": "again"})
    assert "No news" in again
    assert "Nothing changed: there is no news. Revision 2 stays as it is." in again
    assert "Accept as" not in again
    sent = lived.people["coach"].post(
        replans(lived), {"since": "2026-11-26", "reason": "x", "after": digest(made)}
    )
    assert sent.status_code == 200
    assert lived.document() == made


def test_somebody_was_quicker_and_what_was_typed_stays(lived: LivingSite) -> None:
    page = lived.page(replans(lived), LOOK)
    form = form_with(page, "after")
    document = lived.document()
    ref = next(
        session.ref
        for week in document.programmes[0].weeks
        for session in week.sessions
        if session.date > date(2026, 12, 1)
    )
    other = edit(document, [Change(ref, "", lock=True)], reason="locked", rulebook=load_rulebook())
    programmes.save_programme(lived.coach, lived.key, other, after=digest(document))
    answer = lived.people["coach"].post(replans(lived), dict(form))
    assert answer.status_code == 409
    told = answer.content.decode()
    assert "Somebody changed the programme meanwhile" in told
    assert LOOK["reason"] in told
    assert lived.document() == other


def test_what_cannot_be_is_said_at_its_field(lived: LivingSite) -> None:
    wrong = lived.page(replans(lived), status=422, query={"since": "tomorrow", "reason": "x"})
    assert 'value="tomorrow"' in wrong
    assert 'id="id_since_error"' in wrong
    form = form_with(lived.page(replans(lived), LOOK), "after")
    lived.people["coach"].post(replans(lived), dict(form))
    frozen = lived.page(replans(lived), status=422, query={"since": "2026-11-10", "reason": "x"})
    assert "Expected a first day after 2026-11-24, which is frozen, got 2026-11-10" in frozen


def test_after_the_last_day_there_is_nothing_left_to_plan(lived: LivingSite) -> None:
    page = lived.page(replans(lived), {"since": "2027-06-01", "reason": "late"}, status=422)
    assert "Expected a day up to 2027-01-03, the last one planned, got 2027-06-01." in page
    assert "Accept as" not in page


def test_a_clash_is_a_sentence_with_its_repairs(lived: LivingSite) -> None:
    was = briefs.brief(lived.coach, lived.key)
    short = tuple(
        slot.model_copy(update={"minutes": 15}) if slot.place == "turf" else slot for slot in was.brief.slots
    )
    briefs.save_brief(lived.coach, lived.key, was.brief.model_copy(update={"slots": short}), after=was.number)
    page = lived.page(replans(lived), LOOK, status=422)
    assert "This cannot be planned as it stands" in page
    assert "What would make it possible" in page
    assert "Accept as" not in page


def test_a_page_with_scripts_sees_how_far_it_is(lived: LivingSite) -> None:
    client, asked = lived.people["coach"], {**LOOK, "reason": "with scripts"}
    headers = {"HX-Request": "true", "HX-Target": "outcome"}
    ends = time.monotonic() + 60
    parts = []
    while time.monotonic() < ends:
        parts.append(client.get(replans(lived), asked, headers=headers).content.decode())
        if "<progress" not in parts[-1]:
            break
    assert "<progress" in parts[0], "the plan is not there at once"
    assert 'hx-trigger="load delay:400ms"' in parts[0]
    assert "Accept as revision 2" in parts[-1]
    assert "<html" not in parts[-1]


def test_a_test_that_was_struck_out_is_used_for_nothing_any_more(lived: LivingSite) -> None:
    first = min(one.date for one in measurements.measurements(lived.coach, lived.key).trials)
    slow = [
        one
        for one in measurements.measurement_rows(lived.coach, lived.key, athlete="mila")
        if one.kind == "trial" and one.document["date"] == first.isoformat()
    ]
    for one in slow:
        measurements.strike_measurement(lived.coach, lived.key, one.id, reason="the gates stood wrong")
    form = form_with(lived.page(replans(lived), LOOK), "after")
    lived.people["coach"].post(replans(lived), dict(form))
    content = lived.document().brief.content
    assert content is not None
    days = {one.date for one in content.measurements.trials if one.athlete == "mila"}
    assert days
    assert first not in days
    assert first in {one.date for one in content.measurements.trials if one.athlete == "rosa"}


def test_somebody_archived_is_left_out_and_nobody_joins(lived: LivingSite) -> None:
    athletes.archive_athlete(lived.coach, lived.key, "rosa")
    page = lived.page(replans(lived))
    assert "Rosa Quispe left" in page


def test_only_who_may_change_a_programme_plans_it_again(lived: LivingSite) -> None:
    for who in ("assistant", "physio", "viewer", "mila"):
        lived.page(replans(lived), who=who, status=403)
        assert lived.people[who].post(replans(lived), LOOK).status_code == 403


def test_a_programme_made_by_hand_says_so(squads: Squads) -> None:
    page = signed_in(squads.keeper).get(f"/squads/{squads.ours}/programmes/{PROGRAMME}/replan/", LOOK)
    assert page.status_code == 200
    assert "made by hand" in page.content.decode()

"""Restrictions: set at once, lifted only by who may, kept in view; clearances lift nothing."""

from __future__ import annotations

import re
from datetime import UTC, datetime, time, timedelta

import pytest
from django.test import Client
from django.utils.timezone import localdate

from invented_squads import Squads, limit
from speedloom.store import models
from speedloom.store.athletes import add_athlete
from speedloom.store.briefs import brief_to_plan
from speedloom.store.cards import Role
from speedloom.store.links import make_link
from speedloom.store.programmes import read_programme, save_programme
from speedloom.store.restrictions import lift_restriction, restrictions, set_restriction
from speedloom.training.athlete import Athlete, Limit
from unit.report.pdf_reading import page_texts
from unit.report.sample import MONDAY, programme


def as_(squads: Squads, role: Role) -> Client:
    client = Client()
    row = models.Person.objects.get(pk=squads.by_role[role].person)
    client.force_login(row, backend="speedloom.store.signing_in.PersonBackend")
    return client


def text(page: object) -> str:
    return re.sub(r"\s+", " ", page.content.decode())  # type: ignore[attr-defined]


def page(client: Client, squads: Squads, ref: str | None = None) -> str:
    where = f"athletes/{ref}/restrictions/" if ref else "restrictions/"
    answer = client.get(f"/squads/{squads.ours}/{where}")
    assert answer.status_code == 200
    return text(answer)


def send(client: Client, squads: Squads, ref: str = "mila", **typed: str) -> object:
    sent = {"start": "stop", "first": f"{localdate()}", **typed}
    return client.post(f"/squads/{squads.ours}/athletes/{ref}/restrictions/", sent)


def lift(client: Client, squads: Squads, number: int, reason: str = "cleared") -> object:
    where = f"/squads/{squads.ours}/athletes/mila/restrictions/{number}/lift/"
    return client.post(where, {"reason": reason})


def test_one_tap_stops_everything_and_says_who_may_lift_it(squads: Squads) -> None:
    coach = as_(squads, "coach")
    assert "Nobody is restricted" in page(coach, squads)
    assert send(coach, squads).status_code == 302  # type: ignore[attr-defined]
    (card,) = restrictions(squads.by_role["coach"], squads.ours)
    assert [(one.what, one.at_most) for one in card.restriction.limits] == [("minutes", 0)]
    said = page(coach, squads)
    assert "No training" in said
    assert "Set by The coach, as coach, on" in said
    assert "It is lifted by The coach or a clinician" in said


def test_own_limits_are_read_in_the_persons_units(squads: Squads) -> None:
    models.Person.objects.filter(login="coach").update(mass_unit="lb", length_unit="yd")
    typed = {
        "start": "own",
        "limit0-what": "load_kg",
        "limit0-at_most": "70",
        "limit0-exercise": "back_squat",
        "limit1-what": "share_vmax",
        "limit1-at_most": "80 %",
        "limit2-what": "contacts",
        "limit2-at_most": "0",
        "limit2-tag": "hop",
        "limit2-side": "right",
        "until": f"{localdate() + timedelta(days=20)}",
    }
    assert send(as_(squads, "coach"), squads, **typed).status_code == 302  # type: ignore[attr-defined]
    (card,) = restrictions(squads.by_role["coach"], squads.ours)
    load, speed, hops = card.restriction.limits
    assert load.at_most == pytest.approx(31.75, abs=0.01)
    assert (speed.at_most, hops.at_most, hops.tag, hops.side) == (0.8, 0, "hop", "right")
    assert "At most 70 lb in back squat" in page(as_(squads, "coach"), squads, "mila").replace("Back", "back")


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"start": ""}, "Choose one"),
        ({"start": "own"}, "Say what is limited"),
        ({"start": "own", "limit0-what": "sets"}, "0 is none at all"),
        ({"start": "own", "limit0-at_most": "3"}, "Say what this number limits"),
        ({"start": "own", "limit0-what": "share_vmax", "limit0-at_most": "0.8"}, "Expected per cent"),
        ({"start": "own", "limit0-what": "load_kg", "limit0-at_most": "20 m"}, "Expected a number with kg"),
        ({"start": "own", "limit0-what": "sets", "limit0-at_most": "2.5"}, "Expected a whole number"),
        ({"start": "own", "limit0-what": "minutes", "limit0-at_most": "9000"}, "Expected 0 to 600"),
        ({"until": "2020-01-01"}, "Expected a day from"),
        ({"first": "2020-01-01", "until": "2020-02-01"}, "passed already"),
    ],
)
def test_what_is_not_clear_is_said_and_what_was_typed_stays(
    typed: dict[str, str], said: str, squads: Squads
) -> None:
    answer = send(as_(squads, "coach"), squads, **typed)
    assert answer.status_code == 422  # type: ignore[attr-defined]
    assert said in text(answer)
    for value in typed.values():
        assert f'value="{value}"' in text(answer)
    assert restrictions(squads.by_role["coach"], squads.ours) == ()


LIFTED = {
    # who set it: who of the others may lift it
    "coach": {"coach", "clinician"},
    "owner": {"owner", "clinician"},
    "clinician": {"clinician"},
    "assistant": {"owner", "coach", "clinician"},
    "athlete": {"owner", "coach", "clinician"},
}


@pytest.mark.parametrize("who", ["owner", "coach", "assistant", "clinician", "athlete", "viewer"])
@pytest.mark.parametrize("setter", LIFTED)
def test_only_who_may_lifts_it_and_is_offered_to(setter: Role, who: Role, squads: Squads) -> None:
    set_as = "clinician" if setter == "clinician" else "coach"
    card = set_restriction(squads.by_role[setter], squads.ours, "mila", limit(set_as=set_as))
    client, may = as_(squads, who), who in LIFTED[setter]
    if who != "viewer":
        assert ("Lift this restriction" in page(client, squads, "mila")) == may
    answer = lift(client, squads, card.id)
    assert answer.status_code == (302 if may else 403)  # type: ignore[attr-defined]
    (after,) = restrictions(squads.keeper, squads.ours, lifted=True)
    assert after.lifted == may


def test_lifting_takes_a_reason_and_stays_in_the_history(squads: Squads) -> None:
    coach = as_(squads, "coach")
    card = set_restriction(squads.by_role["coach"], squads.ours, "mila", limit())
    answer = lift(coach, squads, card.id, reason=" ")
    assert answer.status_code == 422  # type: ignore[attr-defined]
    assert "Expected a reason" in text(answer)
    lift(coach, squads, card.id, reason="full speed run without pain")
    said = page(coach, squads, "mila")
    assert "Lifted by The coach" in said
    assert "full speed run without pain" in said


def test_a_last_day_that_passed_ends_it_as_it_was_set_and_nothing_else_does(squads: Squads) -> None:
    over = limit().model_copy(update={"until": localdate() - timedelta(days=1)})
    set_restriction(squads.by_role["coach"], squads.ours, "mila", over)
    set_restriction(squads.by_role["coach"], squads.ours, "noa", limit())
    said = page(as_(squads, "coach"), squads)
    assert "1 restriction that is over or was lifted" in said
    assert "was its last day, as it was set" in said
    assert "until it is lifted" in said


def test_a_clearance_is_recorded_and_lifts_nothing(squads: Squads) -> None:
    coach = as_(squads, "coach")
    set_restriction(squads.by_role["coach"], squads.ours, "mila", limit())
    where = f"/squads/{squads.ours}/athletes/mila/clearances/"
    typed = {"after": "concussion", "written_by": "Dr Sam", "written_on": f"{localdate()}"}
    wrong = coach.post(where, {**typed, "written_on": f"{localdate() + timedelta(days=2)}"})
    assert wrong.status_code == 422
    assert "Dr Sam" in text(wrong)
    assert coach.post(where, typed).status_code == 302
    said = page(coach, squads, "mila")
    assert "Cleared after a concussion: written by Dr Sam" in said
    assert "seen by The coach" in said
    assert "Lift this restriction" in said
    number = re.search(r"clearances/(\d+)/take-back", said)
    assert number
    coach.post(f"{where}{number[1]}/take-back/")
    assert "Dr Sam" not in page(coach, squads, "mila")


def test_what_is_asked_before_hard_work_reaches_the_next_plan(squads: Squads) -> None:
    where = f"/squads/{squads.ours}/athletes/mila/asked/"
    as_(squads, "coach").post(where, {"pain": "no", "cleared": "no"})
    whole, _tests = brief_to_plan(squads.by_role["coach"], squads.ours)
    asked = {one.ref: one.screening for one in whole.athletes}["mila"]
    assert asked is not None
    assert asked.cleared is False
    assert "no programme is made" in page(as_(squads, "coach"), squads, "mila")


def test_without_a_clinician_the_page_says_what_holds_then(squads: Squads) -> None:
    assert "Nobody in this squad has the role clinician" not in page(as_(squads, "coach"), squads)
    models.Membership.objects.filter(role="clinician").delete()
    assert "Nobody in this squad has the role clinician" in page(as_(squads, "coach"), squads)


def test_what_nobody_may_lift_says_so_and_what_to_do(squads: Squads) -> None:
    set_restriction(squads.by_role["coach"], squads.ours, "mila", limit())
    set_restriction(squads.by_role["clinician"], squads.ours, "noa", limit(set_as="clinician"))
    stuck = "Nobody of this squad may lift it now"
    owner = as_(squads, "owner")
    assert stuck not in page(owner, squads)
    models.Membership.objects.filter(role="clinician").delete()
    assert stuck not in page(owner, squads, "mila")
    assert stuck in page(owner, squads, "noa")
    models.Membership.objects.filter(role="coach", squad__key=squads.ours).delete()
    assert page(owner, squads).count(stuck) == 2


def test_a_restriction_reaches_the_next_plan(squads: Squads) -> None:
    send(as_(squads, "assistant"), squads, start="easy_runs")
    whole, _tests = brief_to_plan(squads.by_role["coach"], squads.ours)
    held = {one.ref: one.restrictions for one in whole.athletes}
    assert [one.at_most for each in held["mila"] for one in each.limits] == [0.8]
    assert held["noa"] == ()


def test_an_athlete_sees_and_sets_their_own_only(squads: Squads) -> None:
    set_restriction(squads.by_role["coach"], squads.ours, "noa", limit(said="Zwaluw"))
    mila = as_(squads, "athlete")
    assert send(mila, squads).status_code == 302  # type: ignore[attr-defined]
    said = page(mila, squads, "mila")
    assert "Any coach or a clinician lifts it" in said
    assert "Zwaluw" not in said
    assert "Lift this restriction" not in said
    assert send(mila, squads, "noa").status_code == 403  # type: ignore[attr-defined]
    assert mila.get(f"/squads/{squads.ours}/athletes/noa/restrictions/").status_code == 403
    assert mila.get(f"/squads/{squads.ours}/restrictions/").status_code == 403


def test_a_viewer_sees_none_of_it(squads: Squads) -> None:
    viewer = as_(squads, "viewer")
    assert viewer.get(f"/squads/{squads.ours}/restrictions/").status_code == 403
    assert viewer.get(f"/squads/{squads.ours}/athletes/mila/restrictions/").status_code == 403
    assert "restrictions/" not in text(viewer.get(f"/squads/{squads.ours}/"))


HEALTH = ("A. Physio", "no hop", "80 % of top speed")
"""What stands in the restriction of the sample programme: who set it, and what it limits."""


def with_sample(squads: Squads) -> str:
    """Store a programme whose brief holds a restriction that a clinician set."""
    document = programme(3, 4).model_copy(update={"id": "0123456789ab"})
    return save_programme(squads.by_role["coach"], squads.ours, document).id


def test_a_viewer_reads_nothing_of_health_on_any_page_or_paper_of_a_programme(squads: Squads) -> None:
    found = with_sample(squads)
    here = f"/squads/{squads.ours}/programmes/{found}/"
    viewer, coach = as_(squads, "viewer"), as_(squads, "coach")
    pages = ("?athlete=brit", "check/", "why/brit-3/", f"sessions/{MONDAY}/", "revisions/")
    for one in pages:
        answer = viewer.get(f"{here}{one}")
        assert answer.status_code in {200, 404}, one
        assert [word for word in HEALTH if word in text(answer)] == [], one
    assert "A. Physio" in str(read_programme(squads.by_role["coach"], squads.ours, found).brief)
    assert "Physio" not in read_programme(squads.by_role["viewer"], squads.ours, found).model_dump_json()
    for kind in ("session", "athlete", "book"):
        paper = " ".join(page_texts(viewer.get(f"{here}hand-out/{kind}/?week=1").content))
        assert [word for word in HEALTH if word in paper] == [], kind
    own = " ".join(page_texts(coach.get(f"{here}hand-out/athlete/?week=1&athlete=brit").content))
    assert "80 % of top speed" in own


def test_a_lift_that_is_not_yours_says_so_by_its_title(squads: Squads) -> None:
    send(as_(squads, "clinician"), squads)
    (card,) = restrictions(squads.by_role["coach"], squads.ours)
    answer = lift(as_(squads, "coach"), squads, card.id)
    assert answer.status_code == 403  # type: ignore[attr-defined]
    assert "<h1>Not yours to lift</h1>" in text(answer)
    assert "Not yours to see" not in text(answer)
    looked = as_(squads, "athlete").get(f"/squads/{squads.ours}/athletes/noa/restrictions/")
    assert "Not yours to see" in text(looked)


def test_a_squads_paper_marks_who_has_a_limit_and_says_nothing_of_it(squads: Squads) -> None:
    found = with_sample(squads)
    where = f"/squads/{squads.ours}/programmes/{found}/hand-out/session/?week=1"
    paper = " ".join(page_texts(as_(squads, "coach").get(where).content))
    assert "Brit Sandoval LIMIT" in paper
    assert [word for word in HEALTH if word in paper] == []


def test_papers_and_the_field_show_the_limits_as_they_stand_now(squads: Squads) -> None:
    found = with_sample(squads)
    coach, owner = as_(squads, "coach"), squads.by_role["owner"]
    for ref in ("ada", "brit"):
        add_athlete(owner, squads.ours, Athlete(ref=ref, name=ref.title()))
    lifts = limit().model_copy(update={"limits": (Limit(what="load_kg", at_most=41.0),)})
    card = set_restriction(squads.by_role["coach"], squads.ours, "ada", lifts)
    here = f"/squads/{squads.ours}/programmes/{found}/"
    _link, secret = make_link(owner, squads.ours, found, kind="sheet", athlete="ada")

    def told() -> list[str]:
        own = coach.get(f"{here}hand-out/athlete/?week=1&athlete=ada").content
        field = coach.get(f"{here}sessions/{MONDAY}/")
        linked = Client().get(f"/sheet/{secret}/paper/?week=1").content
        papers = [" ".join(page_texts(own)), text(field), " ".join(page_texts(linked))]
        return ["at most 41 kg" in one for one in papers]

    assert told() == [True, True, True]
    squad_sheet = coach.get(f"{here}hand-out/session/?week=1").content
    assert "Ada Maarleveld LIMIT" in " ".join(page_texts(squad_sheet))
    lift_restriction(squads.by_role["coach"], squads.ours, "ada", card.id, reason="seen")
    assert told() == [False, False, False]
    brit = coach.get(f"{here}hand-out/athlete/?week=1&athlete=brit").content
    assert "80 % of top speed" in " ".join(page_texts(brit)), "a limit that only the file knows stays"


def test_the_check_of_a_programme_knows_a_limit_that_is_newer_than_it(
    squads: Squads, monkeypatch: pytest.MonkeyPatch
) -> None:
    noon = datetime.combine(MONDAY, time(12), tzinfo=UTC)
    monkeypatch.setattr("django.utils.timezone.now", lambda: noon)
    found = with_sample(squads)
    for ref in ("ada", "brit"):
        add_athlete(squads.by_role["owner"], squads.ours, Athlete(ref=ref, name=ref.title()))
    check = f"/squads/{squads.ours}/programmes/{found}/check/"
    assert "newer than the programme" not in text(as_(squads, "coach").get(check))
    no_runs = limit().model_copy(update={"limits": (Limit(what="share_vmax", at_most=0.0),)})
    set_restriction(squads.by_role["assistant"], squads.ours, "ada", no_runs)
    said = text(as_(squads, "coach").get(check))
    assert "Above a limit that is newer than the programme" in said
    assert f"/programmes/{found}/replan/" in said
    assert "newer than the programme" not in text(as_(squads, "coach").get(f"{check}?athlete=brit"))
    assert "newer than the programme" not in text(as_(squads, "viewer").get(check))
    part = text(as_(squads, "coach").get(f"/squads/{squads.ours}/found/"))
    assert "goes above a limit that holds now: Ada" in part
    assert "goes above" not in text(as_(squads, "viewer").get(f"/squads/{squads.ours}/found/"))


def test_news_offers_to_plan_again_to_who_may_and_to_nobody_else(squads: Squads) -> None:
    for role, offered in {"coach": True, "assistant": False, "athlete": False}.items():
        answer = as_(squads, role).post(  # type: ignore[arg-type]
            f"/squads/{squads.ours}/athletes/mila/restrictions/",
            {"start": "easy_runs", "first": f"{localdate()}"},
            follow=True,
        )
        assert ("Plan the rest of Spring again" in text(answer)) == offered

"""The retest pages: verdicts with their error for the squad, one's own in plain words, refusals in words."""

from __future__ import annotations

from invented_squads import Squads, sprint
from living_site import LivingSite
from season_on_pages import signed_in
from speedloom.store import measurements
from speedloom.training.measurement import Measurements, Trial


def test_everybody_with_error_chance_and_what_is_worth_having(lived: LivingSite) -> None:
    page = lived.page(f"{lived.squad}retest/")
    assert page.index("30 m time") < page.index("5 m time"), "the distance that counts stands first"
    for said in ("Typical error", "Worth having", "The squad", "Drawn to the squad", "likely", "too close",
                 "sessions", "Mila Verhoeve", "Nothing here says why something changed"):  # fmt: skip
        assert said in page, said
    assert page.count("<svg") == 5, "two curves of each athlete"
    assert "back squat" in page.partition("What cannot be compared")[2].lower()


def test_mixed_timing_is_refused_in_words(lived: LivingSite) -> None:
    first = next(
        one for one in measurements.measurements(lived.coach, lived.key).trials if one.athlete == "mila"
    )
    by_hand = Trial.model_validate(
        first.model_dump() | {"timing": "hand", "date": first.date.replace(year=2026, month=11, day=23)}
    )
    measurements.add_measurements(lived.coach, lived.key, Measurements(trials=(by_hand,)))
    left = lived.page(f"{lived.squad}retest/").partition("What cannot be compared")[2]
    said = [one for one in left.split("</li>") if "Mila Verhoeve" in one]
    assert any("timing" in one for one in said)


def test_days_can_be_chosen(lived: LivingSite) -> None:
    page = lived.page(f"{lived.squad}retest/", {"since": "2026-11-01"})
    assert "Nothing to compare" in page
    assert "<option selected>2026-11-20</option>" in lived.page(
        f"{lived.squad}retest/", {"until": "2026-11-20"}
    )


def test_ones_own_page_is_plain_and_shows_nobody_else(lived: LivingSite) -> None:
    own = lived.page(f"{lived.squad}athletes/mila/retest/", who="mila")
    coach = lived.page(f"{lived.squad}athletes/mila/retest/")
    for page in (own, coach):
        assert "Your tests of" in page
        assert "<svg" in page
        assert "all 5 athletes" in page, "drawn to the whole squad whoever looks"
        assert not [name for name in ("Fenna", "Leilani", "Nomvula", "Rosa") if name in page]
    lived.page(f"{lived.squad}athletes/rosa/retest/", who="mila", status=403)
    lived.page(f"{lived.squad}retest/", who="mila", status=403)
    assert "The whole squad" in coach
    assert "The whole squad" not in own


def test_both_papers(lived: LivingSite) -> None:
    for path, who in (("retest/paper/", "coach"), ("athletes/mila/retest/paper/", "mila")):
        answer = lived.people[who].get(f"{lived.squad}{path}")
        assert answer["Content-Type"] == "application/pdf"
        assert answer.content.startswith(b"%PDF")


def test_one_test_is_nothing_to_compare(squads: Squads) -> None:
    client, at = signed_in(squads.keeper), f"/squads/{squads.ours}/"
    assert "Nothing to compare" in client.get(f"{at}retest/").content.decode()
    assert "Nothing to compare yet" in client.get(f"{at}athletes/mila/retest/").content.decode()
    assert client.get(f"{at}retest/paper/")["Location"] == f"{at}retest/"
    measurements.add_measurements(squads.keeper, squads.ours, sprint("mila", day="2026-02-10", last=4.2))
    assert "Nothing to compare yet" not in client.get(f"{at}athletes/mila/retest/").content.decode()


def test_a_new_test_and_one_struck_out_change_the_answer_at_once(lived: LivingSite) -> None:
    where = f"{lived.squad}retest/"
    before = lived.page(where).partition("panel-0")[2]
    measurements.add_measurements(lived.coach, lived.key, sprint("mila", day="2026-11-24", last=3.9))
    assert "2026-11-24" in lived.page(where)
    now = lived.page(where).partition("panel-0")[2]
    newest = measurements.measurement_rows(lived.coach, lived.key, athlete="mila")[0]
    measurements.strike_measurement(lived.coach, lived.key, newest.id, reason="Gate fell")
    after = lived.page(where).partition("panel-0")[2]
    assert after == before != now

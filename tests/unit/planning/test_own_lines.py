"""The coach's own lines: there, unchanged, counted in minutes."""

from __future__ import annotations

import pytest

from invented_briefs import Data, athlete, brief, findings, lines, planned, sessions, trial, weeks

SHORT = {"end": "2026-02-08"}


def own(**more: object) -> Data:
    """Make an own line on Mondays."""
    return {
        "ref": "wickets",
        "slot": "mon",
        "method": "technique",
        "exercise": "a_skip",
        "sets": 2,
        "reps": 4,
        "distance_m": 20.0,
        "rest_s": 90,
        "minutes": 11.5,
        "cue": "Tall",
    } | more


def test_they_stand_as_written_in_every_session_of_their_slot() -> None:
    programme = planned(brief(own_lines=[own()], **SHORT))
    found = list(lines(programme, exercise="a_skip"))
    assert len(found) == 4
    for line in found:
        kept = (line.sets, line.reps, line.distance_m, line.rest_s, line.minutes, line.cue)
        assert kept == (2, 4, 20.0, 90, 11.5, "Tall")
        node = programme.basis[line.basis["minutes"]]
        assert (node.by, node.inputs) == ("given", {"value": "brief:own_lines.wickets.minutes"})
    assert not findings(programme).hard()


def test_they_stand_after_the_warm_up_or_last() -> None:
    both = [own(), own(ref="talk", exercise="mobility_down", position="last", minutes=3.0)]
    for session in sessions(planned(brief(own_lines=both, **SHORT))):
        if session.slot == "mon":
            names = [line.exercise for line in session.prescriptions if line.purpose == "work"]
            assert (names[0], names[-1]) == ("a_skip", "mobility_down")


def test_they_cost_minutes() -> None:
    plain, longer = planned(brief(**SHORT)), planned(brief(own_lines=[own()], **SHORT))
    for before, after in zip(sessions(plain), sessions(longer), strict=True):
        assert after.minutes == before.minutes + (11.5 if after.slot == "mon" else 0)


def test_in_a_short_slot_the_planners_work_gives_way_and_never_they() -> None:
    short = brief(own_lines=[own(minutes=30.0)], **SHORT)
    short["slots"][0]["minutes"] = 80
    programme = planned(short)
    assert {line.minutes for line in lines(programme, exercise="a_skip")} == {30.0}
    assert max(session.minutes for session in sessions(programme)) <= 80


def test_they_hold_for_their_weeks_and_athletes_only() -> None:
    mine = own(athletes=["ben"], first_week=2, last_week=3)
    data = brief(athlete(), athlete("ben"), own_lines=[mine], **SHORT)
    programme = planned(data, [trial("ada"), trial("ben")])
    assert not list(lines(programme, "ada", exercise="a_skip"))
    assert len(list(lines(programme, "ben", exercise="a_skip"))) == 2


@pytest.mark.parametrize(
    ("more", "amount"),
    [
        ({"method": "maximal_strength", "exercise": "back_squat", "slot": "tue", "distance_m": None}, 2.0),
        ({"method": "general_strength", "exercise": "my_own", "slot": "tue", "distance_m": None}, 2.0),
        ({"method": "resisted_sprint", "exercise": "sled_sprint", "load_kg": 18.0}, 160.0),
        ({"method": "plyometric", "exercise": "low_pogo", "distance_m": None}, 8.0),
        ({"method": "plyometric", "exercise": "low_pogo", "distance_m": None, "side": "each"}, 16.0),
    ],
    ids=lambda one: one.get("method") if isinstance(one, dict) else None,
)
def test_they_count_in_the_week_of_their_method(more: Data, amount: float) -> None:
    mine = {name: value for name, value in own(**more).items() if value is not None}
    plain, with_it = planned(brief(**SHORT)), planned(brief(own_lines=[mine], **SHORT))
    for before, after in zip(weeks(plain), weeks(with_it), strict=True):
        rise = after.volumes[mine["method"]].wanted - before.volumes[mine["method"]].wanted
        assert rise == pytest.approx(amount)
    assert not findings(with_it).hard()


def test_a_limit_on_distance_leaves_out_an_own_line_that_runs_further() -> None:
    # Found by drawn briefs: a skip of 10 m is no sprint, and still runs.
    limit = {"what": "distance_m", "at_most": 0.0}
    held = {
        "ref": "foot",
        "limits": [limit],
        "from": "2026-01-12",
        "set_by": "physio",
        "set_as": "clinician",
    }
    skip = {
        "ref": "skip",
        "slot": "tue",
        "exercise": "a_skip",
        "sets": 2,
        "reps": 3,
        "distance_m": 10.0,
        "minutes": 5.0,
    }
    programme = planned(brief(athlete(restrictions=[held]), own_lines=[skip]))
    assert not list(lines(programme, exercise="a_skip"))
    assert any(item.wish == "own_line" and item.reason == "skip" for item in programme.unmet)

"""Lifts, kit, rooms and bodies nobody told: what is printed, what is assumed, what is refused."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from golden.missing import FIVE_WEEKS, hall, nodes, plain, plan, runs, said, without, work
from invented_briefs import Data, athlete, brief, findings, slot
from speedloom.exchange.brief_file import read_brief
from speedloom.exchange.fault import UnusableFileError

SQUAT = {"date": "2026-01-08", "exercise": "back_squat", "load_kg": 100.0}


def lifter(*lifts: Data) -> Data:
    """Make an advanced athlete with these sets."""
    return brief(athlete(lifts=list(lifts)), end=FIVE_WEEKS)


# ------------------------------------------------------------------ no 1RM


@pytest.mark.parametrize(("reps", "rir"), [(5, 0), (5, 3), (1, 0), (8, 2)])
def test_a_set_of_repetitions_gives_kilograms_and_shows_the_set(reps: int, rir: int) -> None:
    programme = plan(lifter(SQUAT | {"reps": reps, "rir": rir}))
    squats = work(programme, exercise="back_squat")
    assert squats
    assert all(line.load_kg for line in squats[2:])
    (maximum,) = nodes(programme, "1RM back_squat")
    assert maximum.inputs["reps"] == "brief:athletes.ada.lifts.0.reps"
    assert "Lifts by repetitions in reserve" not in said(programme)


def test_a_set_too_long_to_tell_a_1rm_gives_no_kilograms_and_says_so() -> None:
    programme = plan(lifter(SQUAT | {"reps": 15, "rir": 0}))
    squats = work(programme, exercise="back_squat")
    assert all(line.load_kg is None and line.share_1rm is None for line in squats)
    assert all(line.rir is not None for line in squats)
    assert "ada (no set that is short enough to tell a 1RM)" in said(programme)


def test_no_set_at_all_goes_by_repetitions_in_reserve_and_says_so() -> None:
    programme = plan(lifter())
    lifts = work(programme, method="maximal_strength")
    assert all(line.load_kg is None and line.rir is not None for line in lifts)
    assert {line.exercise for line in work(programme, method="power")} == {"bodyweight_jump_squat"}
    assert "Lifts by repetitions in reserve, without kilograms: ada (no set of any lift)." in said(programme)


def test_a_novice_s_lifts_go_by_reserve_by_rule_and_nothing_is_missing() -> None:
    programme = plan(brief(athlete(level="novice", lifts=[]), end=FIVE_WEEKS))
    assert all(line.load_kg is None for line in work(programme, method="maximal_strength"))
    assert "without kilograms" not in said(programme)


# ------------------------------------------------------------------ no sled, no gym, no field


def test_no_sled_means_no_resisted_sprint_and_what_to_add() -> None:
    programme = plan(without(plain(), "sled"))
    assert work(programme, method="resisted_sprint") == []
    text = said(programme)
    assert "Sessions of resisted sprint in weeks 2–3, 5: the kit or the tests do not allow it." in text
    assert "To do: add the kit to the brief, or timed runs to the tests." in text


def test_no_gym_day_means_no_lifts_and_says_which_methods_wait_for_one() -> None:
    data = plain(slots=[slot("mon", "monday", "track"), slot("thu", "thursday", "track")])
    programme = plan(data)
    assert work(programme, method="maximal_strength") == []
    text = said(programme)
    assert "Sessions of maximal strength in weeks 2–3, 5: no gym day." in text
    assert "To do: add a slot in a gym, or take the method out of phases.methods." in text


def test_no_field_day_means_no_runs_and_says_so() -> None:
    programme = plan(plain(slots=[slot("tue", "tuesday", "gym"), slot("fri", "friday", "gym")]))
    assert runs(programme) == []
    text = said(programme)
    assert "Sessions of unloaded sprint in weeks 2–3, 5: no field day." in text
    assert "To do: add a slot on a straight, or take the method out of phases.methods." in text


@pytest.mark.parametrize("missing", ["slots", "places"])
def test_a_brief_without_days_or_rooms_is_refused_by_its_key(missing: str, tmp_path: Path) -> None:
    path = tmp_path / "brief.json"
    path.write_text(json.dumps(plain() | {missing: []}), encoding="utf-8")
    with pytest.raises(UnusableFileError) as refused:
        read_brief(path)
    assert missing in {fault.column for fault in refused.value.faults}


# ------------------------------------------------------------------ a hall shorter than the athlete needs


def test_a_short_hall_cuts_the_runs_and_says_what_it_cut() -> None:
    programme = plan(plain(places=hall(25)))
    assert max(line.distance_m or 0 for line in runs(programme)) <= 25 - 8
    assert work(programme, run="top_speed") == []
    text = said(programme)
    assert "Cut by the straight (track): standing runs end at 15 m where up to" in text
    assert "Top speed runs in weeks 2–3, 5: the straight leaves no room for a run-in and a zone." in text
    assert "find a longer straight for one day a week" in text


def test_a_long_hall_cuts_nothing() -> None:
    assert "Cut by the straight" not in said(plan(plain(places=hall(120))))


def test_a_hall_too_short_for_any_run_has_none() -> None:
    programme = plan(plain(places=hall(12)))
    assert runs(programme) == []
    assert findings(programme).hard() == ()


# ------------------------------------------------------------------ unknown friction


def unknown_friction() -> Data:
    """Make a brief whose sled nobody has timed."""
    data = plain()
    for one in data["kit"]:
        one.pop("friction", None)
    return data


def test_an_unknown_friction_is_assumed_printed_and_carried_by_the_band() -> None:
    assumed, timed = plan(unknown_friction()), plan(plain())
    line = "Assumed: friction of the sled 0.4 (0.3 to 0.5), nobody has timed it here;"
    assert line in said(assumed)
    assert "Assumed: friction" not in said(timed)
    (node,) = nodes(assumed, "friction")
    assert node.inputs == {"low": "rule:sled_dose.friction_low", "high": "rule:sled_dose.friction_high"}
    shares = []
    for programme in (assumed, timed):
        sleds = [line.expect for line in work(programme, exercise="sled_sprint") if line.expect]
        shares.append(max((expect.high - expect.low) / expect.time_s for expect in sleds))
    assert shares[0] > 1.5 * shares[1]


# ------------------------------------------------------------------ unknown height and body mass


def test_an_unknown_height_is_assumed_by_sex_and_printed() -> None:
    programme = plan(brief(athlete(height_m=None), end=FIVE_WEEKS))
    assert "Assumed: height of ada." in said(programme)
    (height,) = nodes(programme, "height")
    assert height.inputs == {"value": "rule:assumed_body.height_female_m"}


def test_an_unknown_body_mass_is_assumed_by_sex_and_printed() -> None:
    programme = plan(brief(athlete(mass_kg=None, sex="male"), end=FIVE_WEEKS))
    assert "Assumed: body mass of ada." in said(programme)
    (mass,) = nodes(programme, "mass")
    assert mass.inputs == {"value": "rule:assumed_body.mass_male_kg"}


def test_everything_unknown_about_a_person_is_assumed_one_by_one() -> None:
    person = {"ref": "ada"}
    programme = plan(brief(person, end=FIVE_WEEKS), [])
    text = said(programme)
    assert "Assumed: body mass of ada." in text
    assert "Assumed: height of ada." in text
    assert "Assumed: level in maximal strength of ada." in text
    assert {line.exercise for line in work(programme, method="power")} <= {"bodyweight_jump_squat"}

"""A week copied into another, and a programme given to another athlete, who gets own numbers."""

from __future__ import annotations

from datetime import date
from functools import cache
from typing import Any

import pytest

from edited import change, lines, lock, node, sessions, squad, unsound
from invented_briefs import CATALOGUE, RULEBOOK, athlete, bar, brief, planned, resolved
from replanned import again, refs_broken, whole
from speedloom.errors import EditError
from speedloom.planning.acts import Remove, Swap
from speedloom.planning.clash import Clash
from speedloom.planning.edited import Change
from speedloom.training.brief import ResolvedBrief
from speedloom.training.programme import Programme
from speedloom.workflows.copy_programme import CopiedProgramme, copy_programme, with_athlete
from speedloom.workflows.copy_week import CopiedWeek, copy_week
from speedloom.workflows.edit import edit
from speedloom.workflows.group import found
from speedloom.workflows.lines import rework

SINCE = date(2026, 1, 26)
PRINTED = ("exercise", "sets", "reps", "reps_to", "distance_m", "load_kg", "rir", "rest_s")


def copied(programme: Programme, source: int, target: int, *, unlock: bool = False) -> CopiedWeek:
    return copy_week(
        programme,
        "ada",
        source=source,
        target=target,
        reason="A good week",
        rulebook=RULEBOOK,
        catalogue=CATALOGUE,
        unlock=unlock,
    )


def work(programme: Programme, week: int, athlete_: str = "ada") -> list[Any]:
    """Give what a week's lines of work say, day by day."""
    own = next(one for one in programme.programmes if one.athlete == athlete_)
    (found_,) = [one for one in own.weeks if one.number == week]
    return [
        [
            tuple(getattr(line, name) for name in PRINTED)
            for line in session.prescriptions
            if line.purpose == "work"
        ]
        for session in found_.sessions
    ]


@pytest.mark.parametrize(("source", "target"), [(2, 3), (3, 2), (4, 5), (2, 6)])
def test_a_copied_week_says_what_the_other_says_on_its_own_days(source: int, target: int) -> None:
    new = copied(squad(), source, target).programme
    assert work(new, target) == work(squad(), source)
    dates = [[one.date for one in side.programmes[0].weeks[target - 1].sessions] for side in (squad(), new)]
    assert dates[0] == dates[1]
    others = [number for number in range(1, 7) if number != target]
    assert [work(new, one) for one in others] == [work(squad(), one) for one in others]
    assert (new.revision.number, new.revision.cause) == (2, "edit")
    assert unsound(new) == []
    assert list(refs_broken(whole(squad()), whole(new))) == []


def test_copied_numbers_are_the_coachs_and_keep_what_stood_there() -> None:
    new = copied(squad(), 2, 3).programme
    line = next(
        line
        for session in new.programmes[0].weeks[2].sessions
        for line in session.prescriptions
        if line.exercise == "back_squat" and line.rir is not None
    )
    old = lines(whole(squad()))[line.ref]
    assert line.load_kg != old["load_kg"]
    kept = node(new, line.ref, "load_kg")
    assert (kept["by"], kept["reason"]) == ("coach", "A good week")
    # What would stand there is the formula's load for the repetitions that were copied.
    assert new.basis[kept["inputs"]["proposed"]].by == "kit.round_load"
    assert {"sets", "reps", "load_kg", "rest_s"} <= set(line.locked)


def test_planning_again_leaves_a_copied_week() -> None:
    new = copied(squad(), 2, 5).programme
    lost = again(new, since=date(2026, 2, 3), lost={"ada": (date(2026, 2, 2),)})
    assert lost is not new
    assert work(lost, 5) == work(new, 5)


def test_days_that_are_over_are_not_copied_to() -> None:
    news = again(squad(), since=date(2026, 1, 28), lost={"ada": (date(2026, 1, 23),)})
    outcome = copied(news, 4, 3)
    before, after = (one.programmes[0].weeks[2].sessions for one in (news, outcome.programme))
    assert [one.ref for one in outcome.kept] == [one.ref for one in before if one.date <= date(2026, 1, 27)]
    assert after[:2] == before[:2]
    with pytest.raises(EditError, match="expected a day to copy to"):
        copied(news, 4, 1)


def test_locked_numbers_are_copied_over_only_when_it_is_said() -> None:
    first = next(ref for ref, at in found(squad()) if at.week.number == 3)
    held = lock(squad(), first)
    with pytest.raises(EditError, match="locked as a whole"):
        copied(held, 2, 3)
    assert work(copied(held, 2, 3, unlock=True).programme, 3) == work(squad(), 2)


@pytest.mark.parametrize(
    ("source", "target", "said"), [(2, 2, "got week 2 twice"), (2, 9, "from 1 to 6, got 9")]
)
def test_weeks_that_are_not_there_are_named(source: int, target: int, said: str) -> None:
    with pytest.raises(EditError, match=said):
        copied(squad(), source, target)


@cache
def people() -> Programme:
    """Plan three, and change one of them by hand: another lift, one day gone, one day moved."""
    squat = [{"date": "2026-01-08", "exercise": "front_squat", "load_kg": 60.0, "reps": 3, "rir": 1}]
    data = brief(athlete(), athlete("bea", lifts=squat), athlete("cleo", level="novice"), end="2026-02-22")
    data["phases"] = {"mesocycle_weeks": [3, 3], "deload": "last", "taper_days": 0}
    programme = planned(data)
    mine = {(at.week.number, at.session.slot): ref for ref, at in found(programme) if at.athlete == "ada"}
    of = {
        (at.week.number, at.line.exercise): ref
        for ref, at in found(programme)
        if at.athlete == "ada" and at.line is not None
    }
    acts = [Swap(of[3, "back_squat"], "front_squat"), Remove(_session(programme, mine[4, "mon"]))]
    made = rework(programme, acts, reason="Hers", rulebook=RULEBOOK, catalogue=CATALOGUE)
    moved = Change(_session(programme, mine[5, "thu"]), "date", "2026-02-11")
    return edit(made, [moved], reason="Hers", rulebook=RULEBOOK)


def _session(programme: Programme, ref: str) -> str:
    return dict(found(programme))[ref].session.ref


def given(target: str, *, joined: ResolvedBrief | None = None) -> CopiedProgramme:
    outcome = copy_programme(
        people(),
        "ada",
        target,
        since=SINCE,
        reason="Like her",
        rulebook=RULEBOOK,
        catalogue=CATALOGUE,
        brief=joined,
    )
    assert not isinstance(outcome, Clash)
    return outcome


def test_another_athlete_gets_the_same_days_and_exercises_with_own_numbers() -> None:
    new = given("bea").programme
    lifts = {
        at.athlete: at.line
        for _, at in found(new)
        if at.line is not None and at.week.number == 3 and at.line.exercise == "front_squat"
    }
    # Her own front squat of 60 kg gives kilograms; of the other's only the back squat is known.
    assert lifts["ada"].load_kg is None
    assert lifts["bea"].load_kg is not None
    assert lifts["bea"].load_kg < 60
    days = {
        name: sorted(at.session.date for _, at in found(new) if at.athlete == name and at.line is None)
        for name in ("ada", "bea")
    }
    assert days["ada"] == days["bea"]
    assert (new.revision.cause, new.revision.number) == ("edit", people().revision.number + 1)
    assert unsound(new) == []
    assert list(refs_broken(whole(people()), whole(new))) == []


def test_the_one_copied_from_and_the_others_stay_as_they_were() -> None:
    new = given("bea").programme
    for name in ("ada", "cleo"):
        was, now = (next(one for one in side.programmes if one.athlete == name) for side in (people(), new))
        assert now == was


def test_days_before_the_first_stay() -> None:
    new = given("bea").programme
    was, now = (
        {ref: one for ref, one in sessions(whole(side)).items() if one["date"] < SINCE.isoformat()}
        for side in (people(), new)
    )
    assert was == now


def test_what_the_other_may_not_do_is_left_out_and_told() -> None:
    outcome = given("cleo")  # a novice: front squats are for later
    assert (date(2026, 1, 30), "front_squat") in [(one.date, one.exercise) for one in outcome.left_out]
    done = {
        at.line.exercise
        for _, at in found(outcome.programme)
        if at.athlete == "cleo" and at.line is not None and at.line.method == "maximal_strength"
    }
    assert done == {"back_squat"}
    assert unsound(outcome.programme) == []


def test_somebody_from_outside_joins_with_own_tests() -> None:
    other = resolved(brief(athlete("dora", mass_kg=80.0), kit=[bar()], end="2026-02-22"))
    was = people().brief.content
    assert was is not None
    joined = with_athlete(was, other.athletes[0], other.measurements, rulebook=RULEBOOK, catalogue=CATALOGUE)
    new = given("dora", joined=joined).programme
    dora = next(one for one in new.programmes if one.athlete == "dora")
    assert dora.profile is not None
    assert dora.profile.startswith("dora/")
    dates = [session.date for week in dora.weeks for session in week.sessions]
    assert min(dates) >= SINCE
    assert unsound(new) == []


@pytest.mark.parametrize(
    ("target", "said"),
    [("ada", "Expected another athlete than ada"), ("zoe", "or a brief with this athlete")],
)
def test_nobody_and_oneself_are_refused(target: str, said: str) -> None:
    with pytest.raises(EditError, match=said):
        given(target)


def test_a_changed_number_of_the_first_is_not_given_on() -> None:
    ref = next(
        ref
        for ref, at in found(people())
        if at.athlete == "ada" and at.line and at.line.exercise == "sled_sprint" and at.week.number == 5
    )
    held = change(people(), (f"{ref}.load_kg", 20), reason="Hers alone")
    outcome = copy_programme(
        held, "ada", "bea", since=SINCE, reason="Like her", rulebook=RULEBOOK, catalogue=CATALOGUE
    )
    assert isinstance(outcome, CopiedProgramme)
    sled = [
        at.line
        for _, at in found(outcome.programme)
        if at.athlete == "bea" and at.line and at.line.exercise == "sled_sprint"
    ]
    assert all("load_kg" not in line.locked for line in sled)

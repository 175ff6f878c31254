"""Lines swapped, added, taken out by hand: own numbers, new refs, reasons, and a re-plan that keeps them."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from typing import Any

import pytest

from edited import change, lines, lock, node, numbers, sessions, squad, unsound
from invented_briefs import CATALOGUE, RULEBOOK, athlete, brief, planned
from replanned import again, refs_broken, whole
from speedloom.errors import EditError
from speedloom.planning.acts import Act, Add, Remove, Swap
from speedloom.training.programme import Programme
from speedloom.workflows.check_programme import check_programme
from speedloom.workflows.edit import edit
from speedloom.workflows.group import for_group, found
from speedloom.workflows.lines import additions, rework, rework_group, substitutes
from speedloom.workflows.restore import restore

SINCE = date(2026, 1, 13)
"""From this day on plans are made again: in the first week."""


def done(programme: Programme, *acts: Act, reason: str = "A test", unlock: bool = False) -> Programme:
    return rework(programme, acts, reason=reason, rulebook=RULEBOOK, catalogue=CATALOGUE, unlock=unlock)


def refused(programme: Programme, *acts: Act, reason: str = "A test") -> str:
    with pytest.raises(EditError) as error:
        done(programme, *acts, reason=reason)
    return str(error.value)


def line_of(exercise: str, *, week: int = 3, programme: Programme | None = None) -> str:
    """Give the ref of a week's first line of an exercise."""
    return next(
        ref
        for ref, at in found(programme or squad())
        if at.week.number == week and at.line is not None and at.line.exercise == exercise
    )


def session_of(ref: str, programme: Programme | None = None) -> str:
    """Give the ref of a line's session."""
    return dict(found(programme or squad()))[ref].session.ref


def whole_weeks(programme: Programme) -> Mapping[str, Any]:
    """Give what is printed of every session, with the refs of its lines."""
    return {
        ref: numbers(one) | {"lines": [numbers(line) | {"ref": line["ref"]} for line in one["prescriptions"]]}
        for ref, one in sessions(whole(programme)).items()
    }


def test_a_swapped_line_has_a_new_ref_and_numbers_of_its_own() -> None:
    ref = line_of("back_squat")
    new = done(squad(), Swap(ref, "front_squat"), reason="Her shoulder")
    (own,) = new.programmes
    line = lines(whole(new))[f"ada-{squad().programmes[0].next_ref}"]
    assert (line["exercise"], line["locked"]) == ("front_squat", ["exercise"])
    # Her maximum is known for the back squat alone: no kilograms, repetitions in reserve instead.
    assert (line["load_kg"], line["share_1rm"]) == (None, None)
    assert line["rir"] == lines(whole(squad()))[ref]["rir"]
    assert ref in own.retired
    assert own.next_ref == squad().programmes[0].next_ref + 1
    kept = node(new, line["ref"], "exercise")
    assert (kept["by"], kept["value"], kept["reason"]) == ("coach", "front_squat", "Her shoulder")
    assert kept["inputs"] == {"proposed": "literal:back_squat"}
    assert (new.revision.cause, new.revision.number, new.revision.reason) == ("edit", 2, "Her shoulder")
    assert unsound(new) == []
    assert list(refs_broken(whole(squad()), whole(new))) == []


def test_a_load_comes_from_the_own_maximum_where_it_is_known() -> None:
    lifts = [
        {"date": "2026-01-08", "exercise": "back_squat", "load_kg": 120.0, "reps": 3, "rir": 1},
        {"date": "2026-01-08", "exercise": "front_squat", "load_kg": 95.0, "reps": 3, "rir": 1},
    ]
    data = brief(athlete(lifts=lifts), end="2026-02-08", phases={"mesocycle_weeks": [4], "taper_days": 0})
    programme = planned(data)
    ref = line_of("back_squat", programme=programme)
    new = done(programme, Swap(ref, "front_squat"))
    was, now = lines(whole(programme))[ref], lines(whole(new))[f"ada-{programme.programmes[0].next_ref}"]
    # 95 kg three times with one in reserve where 120 kg was squatted so: the same share of it, in plates.
    assert now["share_1rm"] == was["share_1rm"]
    assert now["load_kg"] == pytest.approx(was["load_kg"] * 95 / 120, abs=1.25)


@pytest.mark.parametrize("week", [1, 6])
def test_every_substitute_of_every_line_is_sound_and_stays_when_nothing_is_new(week: int) -> None:
    """Kit, place and level allow each; the check computes every number of it again."""
    old, tried = whole(squad()), 0
    for ref, at in found(squad()):
        if at.week.number != week or at.line is None or at.line.purpose != "work":
            continue
        for choice in substitutes(squad(), ref, rulebook=RULEBOOK, catalogue=CATALOGUE)[:1]:
            new = done(squad(), Swap(ref, choice.exercise.ref))
            assert (unsound(new), list(refs_broken(old, whole(new)))) == ([], []), (ref, choice.exercise.ref)
            tried += 1
    assert tried > 10


def test_planning_again_keeps_what_was_swapped_added_and_taken_out() -> None:
    swap, out = line_of("back_squat"), line_of("push_up")
    gone = session_of(line_of("top_speed_run", week=4))
    added = session_of(line_of("acceleration_run", week=5))
    new = done(
        squad(),
        Swap(swap, "front_squat"),
        Remove(out),
        Remove(gone),
        Add(added, "low_pogo"),
        reason="As it is",
    )
    # The news: the day before the first that may change was lost.
    again_ = again(new, since=date(2026, 2, 3), lost={"ada": (date(2026, 2, 2),)})
    assert again_ is not new
    ahead = {ref: one for ref, one in whole_weeks(again_).items() if one["date"] >= "2026-02-03"}
    work = {line["exercise"] for one in ahead.values() for line in one["lines"] if one["date"] < "2026-02-09"}
    assert gone not in ahead
    assert "top_speed_run" not in work
    assert "low_pogo" in {line["exercise"] for line in whole_weeks(again_)[added]["lines"]}
    quiet = again(new, since=SINCE)
    assert whole_weeks(quiet) == whole_weeks(new)


def test_what_was_swapped_stands_through_news_of_its_own_week() -> None:
    swap, out = line_of("back_squat"), line_of("push_up")
    new = done(squad(), Swap(swap, "front_squat"), Remove(out))
    at = dict(found(new))[f"ada-{squad().programmes[0].next_ref}"]
    fuller = change(new, (f"{line_of('nordic_lower', programme=new)}.sets", 3))
    told = again(fuller, since=at.week.monday, lost={"ada": (at.week.monday - timedelta(days=3),)})
    lines_ = {line["exercise"]: line["ref"] for line in whole_weeks(told)[at.session.ref]["lines"]}
    assert lines_["front_squat"] == at.line.ref if at.line else False
    assert "push_up" not in lines_


def test_a_restriction_goes_before_a_swap() -> None:
    ref = line_of("split_squat_bodyweight")
    new = done(squad(), Swap(ref, "walking_lunge"))
    content = new.brief.content
    assert content is not None
    limit = {"what": "sets", "at_most": 0, "exercise": "walking_lunge"}
    data = content.model_dump(mode="json", by_alias=True)
    data["athletes"][0]["restrictions"] = [
        {
            "ref": "knee",
            "limits": [limit],
            "from": "2026-01-20",
            "set_by": "x",
            "set_as": "coach",
            "set_on": "2026-01-20",
        }
    ]
    now = type(content).model_validate_json(__import__("json").dumps(data))
    told = again(new, since=date(2026, 1, 20), brief=now)
    done_then = {line["exercise"] for one in whole_weeks(told).values() for line in one["lines"]}
    assert "walking_lunge" not in done_then


def test_an_added_line_stands_in_the_order_work_is_done_in() -> None:
    ref = session_of(line_of("back_squat"))
    new = done(squad(), Add(ref, "hip_thrust", numbers={"sets": 2, "rest_s": 120}))
    session = sessions(whole(new))[ref]
    names = [line["exercise"] for line in session["prescriptions"]]
    assert names.index("hip_thrust") == names.index("back_squat") + 1
    line = session["prescriptions"][names.index("hip_thrust")]
    assert (line["sets"], line["rest_s"], line["locked"]) == (2, 120, ["exercise", "rest_s", "sets"])
    old = sessions(whole(squad()))[ref]
    assert session["minutes"] == pytest.approx(old["minutes"] + line["minutes"])
    assert "exercise" in line["basis"]
    assert node(new, line["ref"], "exercise")["inputs"] == {}
    assert unsound(new) == []


def test_a_line_too_many_for_the_slot_is_found_by_the_check() -> None:
    ref = session_of(line_of("back_squat"))
    new = done(
        squad(), *(Add(ref, "own_line", "technique", {"sets": 1, "reps": 1}, 40.0, "Relay") for _ in "1")
    )
    found_ = check_programme(new, brief=None, rulebook=RULEBOOK, catalogue=CATALOGUE).of_rule("slot_minutes")
    assert [one.session for one in found_] == [ref]


def test_a_kind_of_work_that_the_week_had_not_counts_from_now_on() -> None:
    data = brief(
        end="2026-02-08", phases={"mesocycle_weeks": [4], "taper_days": 0, "methods": ["unloaded_sprint"]}
    )
    programme = planned(data)
    at = next(at for _, at in found(programme) if at.week.number == 2)
    assert "plyometric" not in at.week.volumes
    new = done(programme, Add(at.session.ref, "low_pogo", numbers={"sets": 3}))
    week = new.programmes[0].weeks[1]
    line = next(one for one in lines(whole(new)).values() if one["exercise"] == "low_pogo")
    assert week.volumes["plyometric"].planned == week.volumes["plyometric"].wanted == line["contacts"]
    assert unsound(new) == []


def test_what_no_formula_writes_needs_sets_repetitions_and_minutes() -> None:
    ref = session_of(line_of("acceleration_run"))
    said = refused(squad(), Add(ref, "a_skip"))
    assert "write sets, repetitions and minutes by hand. Not given: sets, reps, minutes." in said
    new = done(squad(), Add(ref, "a_skip", numbers={"sets": 2, "reps": 4}, minutes="7.5"))  # type: ignore[arg-type]
    line = next(one for one in lines(whole(new)).values() if one["exercise"] == "a_skip")
    assert (line["sets"], line["reps"], line["minutes"]) == (2, 4, 7.5)
    assert unsound(new) == []


def test_a_session_taken_out_gives_its_refs_back_to_nobody() -> None:
    ref = session_of(line_of("acceleration_run"))
    old = sessions(whole(squad()))[ref]
    new = done(squad(), Remove(ref), reason="The hall is shut")
    (own,) = new.programmes
    assert {ref, *(line["ref"] for line in old["prescriptions"])} <= set(own.retired)
    week = own.weeks[2]
    kept = new.basis[week.basis[f"removed.{old['slot']}"]]
    assert (kept.by, kept.reason) == ("coach", "The hall is shut")
    assert (
        week.volumes["acceleration"].planned < squad().programmes[0].weeks[2].volumes["acceleration"].planned
    )
    assert unsound(new) == []


def test_the_last_work_of_a_session_is_not_taken_out_alone() -> None:
    ref = session_of(line_of("back_squat"))
    work = [one["ref"] for one in sessions(whole(squad()))[ref]["prescriptions"] if one["purpose"] == "work"]
    assert "take the whole session out instead" in refused(squad(), *map(Remove, work))


def test_an_earlier_revision_brings_back_what_was_there() -> None:
    new = done(squad(), Swap(line_of("back_squat"), "front_squat"), Remove(line_of("push_up")))
    back = restore(new, squad(), reason="As it was", rulebook=RULEBOOK)
    assert whole_weeks(back) == whole_weeks(squad())
    assert back.programmes[0].next_ref == new.programmes[0].next_ref
    assert unsound(back) == []


@pytest.mark.parametrize(
    ("act", "said"),
    [
        (Swap("ada-9999", "front_squat"), "expected the ref of a line or a session"),
        (Swap("ada-1", "front_squat"), "expected the ref of a line, got a session's"),
        (Swap("ada-2", "front_squat"), "expected a line of work"),
        (Remove("ada-2"), "expected a line of work"),
        (Add("ada-4", "low_pogo"), "expected the ref of a session, got a line's; it is in ada-1"),
        (
            Add("ada-1", "front_squatt"),
            "expected an exercise of the catalogue, got front_squatt; did you mean front",
        ),
        (Add("ada-1", "low_pogo", numbers={"distance_m": 20}), "a line of plyometric has no distance_m"),
        (Add("ada-1", "low_pogo", numbers={"sets": 0}), "sets: expected a number above 0, got 0"),
        (Add("ada-1", "low_pogo", minutes=1000), "minutes: expected more than 0 and at most 180, got 1000"),
        (Add("ada-1", "bench_press"), "place, kit, level, age or a restriction does not allow it"),
    ],
)
def test_what_cannot_be_is_refused_in_words(act: Act, said: str) -> None:
    assert said in refused(squad(), act)


def test_a_reason_is_asked_for_and_something_to_do() -> None:
    assert "Expected a reason" in refused(squad(), Remove("ada-1"), reason=" ")
    assert "got nothing" in refused(squad())


def test_days_that_are_over_are_refused() -> None:
    news = again(squad(), since=date(2026, 1, 26), lost={"ada": (date(2026, 1, 23),)})
    assert "the past is frozen" in refused(news, Remove(line_of("acceleration_run", week=1)))


def test_a_locked_line_is_swapped_only_when_it_is_said() -> None:
    ref = line_of("back_squat")
    held = change(squad(), (f"{ref}.load_kg", 80), reason="Her hip")
    assert refused(held, Swap(ref, "front_squat")).startswith(
        f"{ref}.load_kg: locked at 80 (Her hip); unlock it"
    )
    assert done(held, Swap(ref, "front_squat"), unlock=True).programmes[0].retired[-1] == ref


def test_a_locked_number_is_changed_only_when_it_is_said() -> None:
    ref = line_of("back_squat")
    held = change(squad(), (f"{ref}.load_kg", 80), reason="Her hip")
    with pytest.raises(EditError, match=r"load_kg: locked at 80 \(Her hip\)"):
        edit(held, [_change(ref, 85)], reason="More", rulebook=RULEBOOK)
    assert edit(held, [_change(ref, 80)], reason="Her hip", rulebook=RULEBOOK) is held
    session = lock(squad(), session_of(ref))
    with pytest.raises(EditError, match="locked as a whole"):
        edit(session, [_change(ref, 85)], reason="More", rulebook=RULEBOOK)


def _change(ref: str, value: float) -> Any:  # noqa: ANN401 - a change
    from speedloom.planning.edited import Change

    return Change(ref, "load_kg", value)


def test_the_same_for_everybody_who_does_that_line_that_day() -> None:
    people = [athlete(), athlete("bea", level="intermediate"), athlete("cleo")]
    programme = planned(brief(*people, end="2026-02-08", phases={"mesocycle_weeks": [4], "taper_days": 0}))
    ref = line_of("back_squat", programme=programme)
    acts = for_group(programme, Swap(ref, "front_squat"))
    assert len(acts) == 3
    new = done(programme, *acts)
    day = dict(found(programme))[ref].session.date
    done_ = {
        at.athlete: at.line.exercise
        for _, at in found(new)
        if at.session.date == day and at.line is not None and at.line.method == "maximal_strength"
    }
    assert done_ == dict.fromkeys(("ada", "bea", "cleo"), "front_squat")
    assert unsound(new) == []
    gone = done(programme, *for_group(programme, Remove(session_of(ref, programme))))
    assert not [at for _, at in found(gone) if at.session.date == day]


def test_who_of_the_group_may_not_do_it_keeps_what_stood_there() -> None:
    people = [athlete(), athlete("bea", level="novice"), athlete("cleo")]
    programme = planned(brief(*people, end="2026-02-08", phases={"mesocycle_weeks": [4], "taper_days": 0}))
    ref = line_of("back_squat", programme=programme)
    new, left = rework_group(
        programme, Swap(ref, "front_squat"), reason="x", rulebook=RULEBOOK, catalogue=CATALOGUE
    )
    assert left == ("bea",)
    was, now = (next(one for one in side.programmes if one.athlete == "bea") for side in (programme, new))
    assert now == was
    assert len([1 for _, at in found(new) if at.line is not None and at.line.exercise == "front_squat"]) == 2
    novice = next(
        name
        for name, at in found(programme)
        if at.athlete == "bea" and at.line is not None and at.line.exercise == "back_squat"
    )
    with pytest.raises(EditError, match="does not allow it"):
        rework_group(
            programme, Swap(novice, "front_squat"), reason="x", rulebook=RULEBOOK, catalogue=CATALOGUE
        )


def test_what_can_be_added_is_what_place_kit_and_level_allow() -> None:
    gym = session_of(line_of("back_squat"))
    refs = {
        one.exercise.ref: one.prescribed
        for one in additions(squad(), gym, rulebook=RULEBOOK, catalogue=CATALOGUE)
    }
    assert refs["hip_thrust"]
    assert "back_squat" not in refs  # it stands there
    assert "trap_bar_deadlift" not in refs  # no such bar
    assert "sled_sprint" not in refs  # no straight

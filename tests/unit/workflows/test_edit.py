"""What a coach may change by hand, what is refused and in which words, and what stands afterwards."""

from __future__ import annotations

import json
from datetime import date, timedelta

import pytest

from edited import (
    change,
    differing,
    lines,
    lock,
    node,
    numbers,
    printed,
    proposed,
    sessions,
    squad,
    unsound,
    work,
)
from invented_briefs import RULEBOOK, athlete, brief, findings, planned
from replanned import again, whole
from speedloom.errors import EditError
from speedloom.exchange.documents import canonical
from speedloom.training.document import digest
from speedloom.training.programme import Programme
from speedloom.workflows.edit import edit
from speedloom.workflows.restore import restore

SINCE = date(2026, 1, 26)


def line_of(**fields: object) -> str:
    """Give the ref of the last line with these values, with repetitions in reserve if it is a lift."""
    lift = fields.get("method") == "maximal_strength"
    return str([one for one in work(squad(), **fields) if not lift or one["rir"] is not None][-1]["ref"])


SQUAT = {"method": "maximal_strength"}


def refused(*typed: tuple[str, object], programme: Programme | None = None, reason: str = "A test") -> str:
    with pytest.raises(EditError) as error:
        change(programme or squad(), *typed, reason=reason)
    return str(error.value)


def frozen() -> Programme:
    """Plan again with news, so that two weeks are over."""
    content = squad().brief.content
    assert content is not None
    new = again(squad(), since=SINCE, lost={"ada": (SINCE - timedelta(days=3),)})
    assert new.revision.frozen_until == SINCE - timedelta(days=1)
    return new


def test_a_change_is_the_next_revision_with_its_reason() -> None:
    new = change(squad(), (f"{line_of(**SQUAT)}.load_kg", 80), reason="Her hip is stiff")
    assert new.revision.model_dump() == {
        "number": squad().revision.number + 1,
        "parent": digest(squad()),
        "cause": "edit",
        "reason": "Her hip is stiff",
        "frozen_until": None,
    }
    assert new.brief == squad().brief
    assert (new.id, new.rulebook, new.unmet) == (squad().id, squad().rulebook, squad().unmet)


def test_a_change_that_changes_nothing_gives_the_same_object() -> None:
    ref = line_of(**SQUAT)
    new = change(squad(), (f"{ref}.load_kg", 80))
    assert change(new, (f"{ref}.load_kg", 80)) is new
    assert lock(new, f"{ref}.load_kg") is new
    assert lock(squad(), f"{ref}.load_kg", on=False) is squad()


def test_changed_twice_a_number_keeps_what_was_proposed_first() -> None:
    ref = line_of(**SQUAT)
    once = change(squad(), (f"{ref}.load_kg", 80), reason="First")
    twice = change(once, (f"{ref}.load_kg", 85), reason="Second")
    assert proposed(twice, ref, "load_kg") == node(squad(), ref, "load_kg")
    assert (node(twice, ref, "load_kg")["value"], node(twice, ref, "load_kg")["reason"]) == (85, "Second")
    assert unsound(twice) == []


@pytest.mark.parametrize(
    "names",
    [
        ("reps", "load_kg"),
        ("rir", "reps", "sets"),
        ("share_1rm", "rest_s", "sets"),
        ("sets", "load_kg", "rir"),
    ],
)
def test_several_changes_in_any_order_give_the_same_bytes(names: tuple[str, ...]) -> None:
    ref = line_of(**SQUAT)
    old = lines(whole(squad()))[ref]
    typed = [(f"{ref}.{name}", old[name] + 1 if name != "share_1rm" else 0.7) for name in names]
    new = change(squad(), *typed)
    assert canonical(change(squad(), *reversed(typed))) == canonical(new)
    assert {name: lines(whole(new))[ref][name] for name in names} == {
        where.partition(".")[2]: value for where, value in typed
    }
    assert unsound(new) == []


def test_one_change_after_the_other_prints_what_both_at_once_do() -> None:
    ref = line_of(run="top_speed")
    typed = [(f"{ref}.run_in_m", 15), (f"{ref}.distance_m", 10), (f"{ref}.reps", 4)]
    both = change(squad(), *typed)
    one = squad()
    for each in reversed(typed):
        one = change(one, each)
    assert printed(whole(one)) == printed(whole(both))
    assert unsound(one) == []


def test_what_is_locked_stays_when_what_it_rests_on_changes() -> None:
    ref = line_of(**SQUAT)
    held = lock(squad(), f"{ref}.load_kg")
    assert numbers(lines(whole(held))[ref]) == numbers(lines(whole(squad()))[ref])
    new = change(held, (f"{ref}.reps", lines(whole(squad()))[ref]["reps"] + 3))
    assert lines(whole(new))[ref]["load_kg"] == lines(whole(squad()))[ref]["load_kg"]
    free = change(squad(), (f"{ref}.reps", lines(whole(squad()))[ref]["reps"] + 3))
    assert lines(whole(free))[ref]["load_kg"] < lines(whole(squad()))[ref]["load_kg"]


def test_a_run_in_two_sets_rests_between_them() -> None:
    old = next(one for one in work(squad(), run="acceleration") if one["reps"] > 1)
    ref = old["ref"]
    new = lines(whole(change(squad(), (f"{ref}.sets", 2), (f"{ref}.rest_s", 400))))[ref]
    plain = lines(whole(change(squad(), (f"{ref}.sets", 2))))[ref]
    assert plain["rest_s"] == plain["rest_reps_s"] == old["rest_reps_s"]
    assert new["rest_s"] == 400
    turned = change(squad(), (f"{ref}.rest_s", 400), (f"{ref}.sets", 2))
    assert canonical(turned) == canonical(change(squad(), (f"{ref}.sets", 2), (f"{ref}.rest_s", 400)))
    assert new["minutes"] > plain["minutes"] > old["minutes"]
    back = change(change(squad(), (f"{ref}.sets", 2), (f"{ref}.rest_s", 400)), (f"{ref}.sets", 1))
    assert lines(whole(back))[ref]["rest_s"] is None
    assert "rest_s" not in lines(whole(back))[ref]["locked"]
    assert lines(whole(back))[ref]["minutes"] == old["minutes"]
    assert unsound(back) == []


def test_a_cue_is_the_coachs_own_words() -> None:
    ref = line_of(**SQUAT)
    new = change(squad(), (f"{ref}.cue", "Knees out"))
    assert differing(lines(whole(squad()))[ref], lines(whole(new))[ref]) == {"cue"}
    assert lines(whole(new))[ref]["cue"] == "Knees out"


def test_a_session_moves_to_another_day_and_hour_with_its_lines() -> None:
    session = list(sessions(whole(squad())).values())[6]
    day = date.fromisoformat(session["date"])
    new = change(
        squad(), (f"{session['ref']}.date", day + timedelta(days=1)), (f"{session['ref']}.start", "7:30")
    )
    moved = sessions(whole(new))[session["ref"]]
    assert differing(session, moved) == {"date", "start"}
    assert (moved["date"], moved["start"]) == ((day + timedelta(days=1)).isoformat(), "07:30")
    assert moved["prescriptions"] == session["prescriptions"]
    assert moved["locked"]
    assert node(new, session["ref"], "date")["value"] == moved["date"]
    assert proposed(new, session["ref"], "date")["value"] == session["date"]
    assert unsound(new) == []
    for week in (week for own in whole(new)["programmes"] for week in own["weeks"]):
        days = [(one["date"], one["start"]) for one in week["sessions"]]
        assert days == sorted(days)


@pytest.mark.parametrize(
    ("field", "value", "words"),
    [
        ("date", "tomorrow", "expected a date such as 2026-01-19, got tomorrow."),
        ("date", "2026-02-19", "expected a day of the same week (2026-01-19 to 2026-01-25), got 2026-02-19."),
        ("start", "6pm", "expected a time of day such as 18:00, got 6pm."),
        ("start", "25:00", "expected a time of day such as 18:00, got 25:00."),
        ("start", "18:00:30", "expected a time of day such as 18:00, got 18:00:30."),
        (
            "load_kg",
            5,
            "expected a field that can be changed, got load_kg; what can be changed: date, start.",
        ),
        ("minutes", 60, "minutes is not set by hand: it follows from sets, repetitions and rests."),
    ],
)
def test_what_a_session_cannot_take_is_said(field: str, value: object, words: str) -> None:
    ref = list(sessions(whole(squad())))[4]
    assert refused((f"{ref}.{field}", value)) == f"{ref}.{field}: {words}"


@pytest.mark.parametrize(
    ("field", "value", "words"),
    [
        ("load_kg", "heavy", "expected a number, got heavy."),
        ("load_kg", "nan", "expected a number, got nan."),
        ("load_kg", "1e400", "expected a number, got 1e400."),
        ("load_kg", -5, "expected a number not below 0, got -5."),
        ("load_kg", 4000, "expected at most 1000 kg, got 4000."),
        ("reps", 2.5, "expected a whole number, got 2.5."),
        ("reps", 0, "expected a number above 0, got 0."),
        ("share_1rm", 85, "expected a share from 0 to 1, got 85; 85 % is 0.85."),
        ("laod_kg", 5, "expected a field that can be changed, got laod_kg; did you mean load_kg?"),
        ("minutes", 5, "minutes is not set by hand: it follows from sets, repetitions and rests."),
        (
            "expect.time_s",
            5,
            "expect is not set by hand: it follows from the profile, the distance and the load.",
        ),
        ("run_in_m", 5, "this line has none; it has sets, reps, load_kg, share_1rm, rir, rest_s."),
        (
            "rest_reps_s",
            5,
            "there is no rest between its repetitions; change the sets, or the rest between sets.",
        ),
        ("reps_to", 1, ""),
    ],
)
def test_what_a_squat_cannot_take_is_said(field: str, value: object, words: str) -> None:
    ref = line_of(**SQUAT)
    told = refused((f"{ref}.{field}", value))
    reps = lines(whole(squad()))[ref]["reps"]
    expected = words or f"expected at least the {reps} repetitions it begins with, got 1."
    assert told == f"{ref}.{field}: {expected}"


@pytest.mark.parametrize("field", ["distance_m", "effort"])
def test_nobody_runs_nothing(field: str) -> None:
    ref = line_of(run="acceleration")
    assert refused((f"{ref}.{field}", 0)) == f"{ref}.{field}: expected a number above 0, got 0."


def test_a_sled_that_cannot_be_moved_is_refused_by_name() -> None:
    ref = line_of(method="resisted_sprint")
    assert refused((f"{ref}.load_kg", 900)).startswith(f"{ref}.load_kg: ")


def test_every_fault_is_told_at_once_and_the_nearest_name_with_it() -> None:
    good, ref = line_of(run="acceleration"), line_of(**SQUAT)
    before = canonical(squad())
    told = refused(
        (f"{good}.reps", 3), (f"{ref}.sets", 0), (f"{ref}x.load_kg", 5), (f"{ref}.loadkg", 5)
    ).splitlines()
    assert told == [
        f"{ref}.sets: expected a number above 0, got 0.",
        f"{ref}x: expected the ref of a line or a session; did you mean {ref}?",
        f"{ref}.loadkg: expected a field that can be changed, got loadkg; did you mean load_kg?",
    ]
    assert canonical(squad()) == before


def test_one_number_changed_to_two_values_is_refused() -> None:
    ref = line_of(**SQUAT)
    told = refused((f"{ref}.load_kg", 80), (f"{ref}.load_kg", 90))
    assert told == f"{ref}.load_kg: expected one change of it, got 2; keep the one that is meant."


def test_warm_up_weeks_and_changes_without_a_reason_are_refused() -> None:
    warm_up = next(one["ref"] for one in lines(whole(squad())).values() if one["purpose"] == "warm_up")
    assert "warm-up follows" in refused((f"{warm_up}.sets", 2))
    assert "change the brief" in refused(("ada-w2.specificity", 0.5))
    assert refused((f"{line_of(**SQUAT)}.reps", 3), reason=" ").startswith("Expected a reason")


def test_a_lock_needs_something_to_lock() -> None:
    ref = line_of(**SQUAT)
    for where in (f"{ref}.distance_m", ref, f"{next(iter(sessions(whole(squad()))))}.date"):
        with pytest.raises(EditError):
            lock(squad(), where)


def test_days_that_are_over_are_not_changed_nor_moved_into() -> None:
    old = frozen()
    over, ahead = list(sessions(whole(old)).values())[1], work(old)[-1]
    line = over["prescriptions"][-1]["ref"]
    words = f"expected a day after 2026-01-25, got {over['date']}; the past is frozen."
    assert refused((f"{line}.sets", 2), programme=old) == f"{line}.sets: {words}"
    assert refused((f"{over['ref']}.start", "07:00"), programme=old) == f"{over['ref']}.start: {words}"
    for where in (f"{line}.sets", over["ref"]):
        with pytest.raises(EditError, match="the past is frozen"):
            lock(old, where)
    new = change(old, (f"{ahead['ref']}.sets", ahead["sets"] + 1))
    assert new.revision.frozen_until == old.revision.frozen_until
    assert sessions(whole(new))[over["ref"]] == over


def test_a_day_of_a_week_under_way_that_is_over_takes_no_session() -> None:
    content = squad().brief.content
    assert content is not None
    old = again(squad(), since=SINCE + timedelta(days=2), lost={"ada": (SINCE,)})
    thursday = next(one for one in sessions(whole(old)).values() if one["date"] == "2026-01-29")
    told = refused((f"{thursday['ref']}.date", "2026-01-26"), programme=old)
    assert (
        told
        == f"{thursday['ref']}.date: expected a day after 2026-01-27, got 2026-01-26; the past is frozen."
    )


def test_planning_again_without_news_leaves_a_change_as_it_is() -> None:
    for ref, field, value in [
        (line_of(**SQUAT), "load_kg", 80),
        (line_of(run="acceleration"), "reps", 3),
        (line_of(method="plyometric"), "sets", 4),
        (line_of(run="top_speed"), "run_in_m", 15),
    ]:
        new = change(squad(), (f"{ref}.{field}", value))
        assert again(new, since=SINCE) is new


def test_unlocked_a_number_changes_only_when_it_is_planned_again() -> None:
    ref = line_of(**SQUAT)
    was = lines(whole(squad()))[ref]
    held = change(squad(), (f"{ref}.load_kg", was["load_kg"] - 10))
    free = lock(held, f"{ref}.load_kg", on=False)
    assert numbers(lines(whole(free))[ref]) == numbers(lines(whole(held))[ref])
    assert lines(whole(free))[ref]["locked"] == []
    assert lines(whole(again(free, since=SINCE)))[ref]["load_kg"] == was["load_kg"]


def test_a_locked_session_stays_whole_when_days_are_lost() -> None:
    lost = {"ada": tuple(SINCE - timedelta(days=more) for more in range(1, 10))}
    free = again(squad(), since=SINCE, lost=lost)
    changed = [
        ref
        for ref, one in sessions(whole(squad())).items()
        if one["date"] >= SINCE.isoformat() and sessions(whole(free)).get(ref) != one
    ]
    ref = changed[0]
    new = again(lock(squad(), ref), since=SINCE, lost=lost)
    kept = sessions(whole(new))[ref]
    assert kept["locked"]
    assert numbers(kept) == numbers(sessions(whole(squad()))[ref])
    assert [numbers(line) for line in kept["prescriptions"]] == [
        numbers(line) for line in sessions(whole(squad()))[ref]["prescriptions"]
    ]


def restricted() -> Programme:
    """Plan somebody whom a clinician allows 70 % of what she could lift once."""
    limit = {"what": "share_1rm", "at_most": 0.7}
    back = {"ref": "back", "limits": [limit], "from": "2026-01-12", "set_by": "physio", "set_as": "clinician"}
    data = brief(athlete(restrictions=[back | {"set_on": "2026-01-09"}]), end="2026-02-01")
    data["phases"] = {"mesocycle_weeks": [3], "deload": "last", "taper_days": 0}
    return planned(data)


def test_a_load_set_by_hand_does_not_pass_a_restriction_on_the_share() -> None:
    old = restricted()
    line = next(one for one in work(old, **SQUAT) if one["share_1rm"] == 0.7)
    found = {
        load: [one.rule for one in findings(change(old, (f"{line['ref']}.load_kg", load))).hard()]
        for load in (line["load_kg"] - 10, line["load_kg"] + 30)
    }
    assert list(found.values()) == [[], ["restriction_kept"]]


def test_undo_is_a_new_revision_with_the_earlier_days() -> None:
    ref = line_of(**SQUAT)
    new = change(squad(), (f"{ref}.load_kg", 80))
    back = restore(new, squad(), reason="Not needed", rulebook=RULEBOOK)
    assert (back.revision.number, back.revision.parent) == (3, digest(new))
    assert (back.revision.cause, back.revision.reason) == ("restore", "Not needed")
    assert printed(whole(back)) == printed(whole(squad()))
    assert unsound(back) == []
    again_on = restore(back, new, reason="After all", rulebook=RULEBOOK)
    assert printed(whole(again_on)) == printed(whole(new))
    assert node(again_on, ref, "load_kg")["value"] == 80


def test_undo_leaves_days_that_are_over() -> None:
    old = frozen()
    back = restore(old, squad(), reason="Back", rulebook=RULEBOOK)
    for ref, session in sessions(whole(back)).items():
        side = old if session["date"] < SINCE.isoformat() else squad()
        assert numbers(session) == numbers(sessions(whole(side))[ref])
    assert json.loads(canonical(back))["revision"]["frozen_until"] == "2026-01-25"


def test_undo_with_another_programme_is_refused() -> None:
    other = squad().model_copy(update={"id": "0" * 12})
    with pytest.raises(EditError, match="take another file"):
        restore(squad(), other, reason="Wrong file", rulebook=RULEBOOK)
    with pytest.raises(EditError, match="made by hand"):
        edit(squad().model_copy(update={"basis": {}}), [], reason="By hand", rulebook=RULEBOOK)

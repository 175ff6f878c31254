"""Proposals: what moves a number, what moves none, and what accepting one changes."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import pytest

from sharpened import BRIEF, CLOCK, ON, SQUAD, Data, entry, lifted, lines, log, proposed
from simulated_athletes import Truth, astray, estimated
from simulated_logs import PERFECT, simulate_log
from speedloom.errors import LogError
from speedloom.science.mechanics.sprint import Course, Runner, time_to_distance
from speedloom.training.exercise import load_catalogue
from speedloom.training.log import Log
from speedloom.training.programme import Prescription
from speedloom.training.rule import load_rulebook
from speedloom.workflows.log_questions import with_marks
from speedloom.workflows.plan_programme import measured_athletes
from speedloom.workflows.sharpen import accept, load_edits, proposals
from speedloom.workflows.sharpen_proposal import Proposal

TRUTH = estimated(SQUAD)


def simulated(truth: Truth, weeks: int = 5) -> Log:
    return simulate_log(SQUAD, weeks=range(1, weeks + 1), seed=2, truth=truth, habits=PERFECT)


def every_line(athlete: str) -> Iterator[tuple[str, Prescription]]:
    for own in SQUAD.programmes:
        for week in own.weeks if own.athlete == athlete else ():
            yield from ((line.ref, line) for session in week.sessions for line in session.prescriptions)


def of(found: tuple[Proposal, ...], kind: str) -> list[Proposal]:
    return [one for one in found if one.kind == kind]


def timed(athlete: str, exercise: str, factor: float, **fields: object) -> list[Data]:
    """Time every run of an exercise in weeks 2 to 4, longer by a factor than the profile says."""
    person = TRUTH.people[athlete]
    found = []
    for week, session, line in lines(athlete, exercise):
        if week.number not in {2, 3, 4} or line.distance_m is None:
            continue
        runner = Runner(person.f0_npkg, person.v0_mps, person.mass_kg, person.drag_kgpm)
        course = Course(load_kg=line.load_kg or 0.0, friction=0.36)
        late = time_to_distance(runner, 0.5, course=course)
        time = float(time_to_distance(runner, line.distance_m + 0.5, course=course) - late) * factor
        run = {"distance_m": line.distance_m, "time_s": round(time, 3), "load_kg": line.load_kg}
        found.append(entry(athlete, session, line, [run] * line.reps, **(CLOCK | fields)))
    return found


# ---------------------------------------------------------------- no news


def test_no_news_gives_no_proposals() -> None:
    assert proposed() == ()


def test_a_log_of_another_programme_is_refused() -> None:
    other = log().model_copy(update={"programme": "0" * 12})
    with pytest.raises(LogError, match="got one about"):
        proposals(SQUAD, other, on=ON, rulebook=load_rulebook(), catalogue=load_catalogue())


def test_lines_done_as_written_without_numbers_move_nothing() -> None:
    assert proposed(*lifted("astrid", "back_squat", [{"rir": None}] * 5)) == ()


def test_every_proposal_changes_something_printed() -> None:
    book, catalogue = load_rulebook(), load_catalogue()
    found = proposals(SQUAD, simulated(astray(TRUTH, seed=1)), on=ON, rulebook=book, catalogue=catalogue)
    assert {one.kind for one in found} >= {"one_rep_max", "friction"}
    for one in of(found, "one_rep_max"):
        own = {ref: line.load_kg for ref, line in every_line(one.athlete or "")}
        moved = one.values["moved_kg"]
        assert moved
        assert [ref for ref, load in moved.items() if own[ref] == load] == []
    assert len({one.id for one in found}) == len(found)


# ---------------------------------------------------------------- bad input


UNUSUAL: list[tuple[str, Data]] = [
    ("back_squat", {"load_kg": 400.0, "reps": 5, "rir": 2}),
    ("back_squat", {"load_kg": 3.48, "reps": 5, "rir": 2}),
    ("acceleration_run", {"distance_m": 30.0, "time_s": 0.9}),
    ("sled_sprint", {"distance_m": 10.0, "time_s": 0.9, "load_kg": 40.0}),
    ("sled_sprint", {"distance_m": 10.0, "time_s": 3.48, "load_kg": 3.48}),
]


@pytest.mark.parametrize(("exercise", "result"), UNUSUAL)
@pytest.mark.parametrize("mark", ["unusual", None])
def test_what_cannot_be_meant_changes_no_estimate(exercise: str, result: Data, mark: str | None) -> None:
    known = [*lifted("astrid", "back_squat", [{"rir": 0}] * 5), *timed("astrid", "sled_sprint", 1.03)]
    rows = [(session, line) for week, session, line in lines("astrid", exercise) if week.number in {2, 3}]
    bad = [
        entry(
            "astrid", session, line, [{**result, "mark": mark}] * 3, **(CLOCK if "time_s" in result else {})
        )
        for session, line in rows
    ]
    before = proposed(*known)
    assert of(before, "one_rep_max")
    assert of(before, "friction")
    assert proposed(*bad) == ()
    after = proposed(*known, *bad)
    assert [(one.id, one.before, one.after) for one in after] == [
        (one.id, one.before, one.after) for one in before
    ]


# ---------------------------------------------------------------- one-repetition maximum


def test_sets_move_the_maximum_towards_them_and_narrow_its_band() -> None:
    (one,) = of(
        proposed(*lifted("astrid", "back_squat", [None, {"rir": 0}, {"rir": 0}, {"rir": 0}, {"rir": 0}])),
        "one_rep_max",
    )
    assert one.id == "astrid/back_squat/one_rep_max"
    assert one.before is not None
    assert one.after.value < one.before.value
    widths = [(figure.high or 0) - (figure.low or 0) for figure in (one.before, one.after)]
    assert widths[1] < widths[0]
    assert len(one.entries) == 4
    assert one.steps[-1].node.by == "one_rep_max_update"


def test_one_bar_says_nothing_about_another() -> None:
    bar = lifted("astrid", "back_squat", [{"rir": 0}] * 5)
    other = [{**one, "exercise": "trap_bar_deadlift"} for one in bar]
    assert of(proposed(*bar), "one_rep_max")
    assert not of(proposed(*other), "one_rep_max")


@pytest.mark.parametrize("athlete", ["eilidh", "yara"])
def test_who_lifts_by_reserve_or_is_under_sixteen_gets_no_maximum(athlete: str) -> None:
    easy = lifted(athlete, "back_squat", [{"load_kg": 40.0, "rir": 1}] * 6)
    assert easy or athlete == "yara"
    assert not of(proposed(*easy), "one_rep_max")


# ---------------------------------------------------------------- next load


def test_sets_written_one_by_one_say_what_they_say_together() -> None:
    twice = [None, {"load_kg": 40.0, "reps": 10, "rir": 3}, {"load_kg": 40.0, "reps": 10, "rir": 3}]
    together = lifted("eilidh", "back_squat", twice)
    apart = [
        {**one, "id": f"{one['id'][:-2]}{at:02d}", "results": [result]}
        for at, (one, result) in enumerate((one, result) for one in together for result in one["results"])
    ]
    assert len(apart) > len(together)

    def told(entries: list[Data]) -> list[tuple[str, str, float, object]]:
        found = proposed(*entries, on=date(2026, 1, 24))
        return [(one.id, one.reason, one.after.value, one.values["sessions"]) for one in found]

    assert told(apart) == told(together)
    assert told(together)
    # The sets of one session alone are one session, however many entries they came in.
    assert told(apart[: len(apart) // 2]) == []


def test_two_for_two_moves_the_next_load_one_step() -> None:
    weeks = [week.kind for week, _, _ in lines("eilidh", "back_squat")][:4]
    assert weeks == ["introduction", "loading", "loading", "loading"]
    twice = [None, {"load_kg": 40.0, "reps": 10, "rir": 3}, {"load_kg": 40.0, "reps": 10, "rir": 3}]
    (one,) = proposed(*lifted("eilidh", "back_squat", twice), on=date(2026, 1, 24))
    assert (one.kind, one.reason) == ("next_load", "two_for_two")
    assert (one.before.value if one.before else None, one.after.value) == (40.0, 41.0)
    ((_, edit),) = load_edits([one])
    assert (edit.ref, edit.field, edit.value) == (
        [line.ref for _, _, line in lines("eilidh", "back_squat")][3],
        "load_kg",
        41.0,
    )


def test_once_is_not_twice() -> None:
    once = [None, {"load_kg": 40.0, "rir": 3}, {"load_kg": 40.0, "reps": 10, "rir": 3}]
    assert proposed(*lifted("eilidh", "back_squat", once), on=date(2026, 1, 24)) == ()


def test_more_left_than_written_twice_moves_up_and_less_moves_down() -> None:
    written = [line.rir or 0 for _, _, line in lines("eilidh", "back_squat")]
    for change, reason, way in ((2, "more_reserve", 1), (-1, "less_reserve", -1)):
        done = [None, *({"load_kg": 40.0, "rir": written[at] + change} for at in (1, 2))]
        (one,) = proposed(*lifted("eilidh", "back_squat", done), on=date(2026, 1, 24))
        assert one.reason == reason
        assert one.before is not None
        assert (one.after.value - one.before.value) * way > 0


def test_missed_repetitions_move_down_at_once_but_pain_does_not() -> None:
    missed = lifted("eilidh", "back_squat", [None, None, {"load_kg": 40.0, "reps": 5, "rir": 0}])
    (one,) = proposed(*missed, on=date(2026, 1, 24))
    assert (one.reason, one.after.value) == ("missed_reps", 38.5)
    hurt = [{**entry, "reason": "pain", "status": "stopped"} for entry in missed]
    assert proposed(*hurt, on=date(2026, 1, 24)) == ()


def test_a_maximum_that_moves_the_load_as_far_leaves_no_second_step() -> None:
    done = [None, *({"rir": (line.rir or 0) + 2} for _, _, line in list(lines("astrid", "back_squat"))[1:4])]
    found = proposed(*lifted("astrid", "back_squat", done), on=date(2026, 1, 31))
    moved = {ref for one in of(found, "one_rep_max") for ref in one.values["moved_kg"]}
    stepped = {one.news.edits[0].ref for one in of(found, "next_load")}
    assert moved or stepped
    for one in of(found, "next_load"):
        maximum = next(
            (m.values["moved_kg"].get(one.news.edits[0].ref, 0.0) for m in of(found, "one_rep_max")), 0.0
        )
        assert maximum < one.after.value


# ---------------------------------------------------------------- friction


def test_sled_runs_move_the_friction_of_their_sled_and_floor_alone() -> None:
    (one,) = proposed(*timed("astrid", "sled_sprint", 1.05), *timed("amina", "sled_sprint", 1.05))
    assert (one.id, one.athlete, one.kind) == ("sled_hall/friction", None, "friction")
    assert one.before is not None
    assert one.after.value > one.before.value
    accepted = accept(BRIEF, [one])
    sleds = {kit.ref: kit.friction for kit in accepted.kit}
    assert sleds["sled_hall"] == one.news.friction
    assert sleds["sled_turf"] == next(kit.friction for kit in BRIEF.kit if kit.ref == "sled_turf")


@pytest.mark.parametrize(
    "other", [{"surface": "sand_dressed"}, {"timing": "hand"}, {"clock": "movement", "behind_m": None}]
)
def test_another_floor_clock_or_timing_is_never_mixed_in(other: Data) -> None:
    assert of(proposed(*timed("astrid", "sled_sprint", 1.05)), "friction")
    assert proposed(*timed("astrid", "sled_sprint", 1.05, **other)) == ()


def test_a_second_update_starts_from_what_was_known_before_any_run() -> None:
    (one,) = proposed(*timed("astrid", "sled_sprint", 1.05))
    known = accept(BRIEF, [one])
    programme = SQUAD.model_copy(update={"brief": SQUAD.brief.model_copy(update={"content": known})})
    again = proposals(
        programme,
        log(*timed("astrid", "sled_sprint", 1.05)),
        on=ON,
        rulebook=load_rulebook(),
        catalogue=load_catalogue(),
    )
    # The loads are not planned again yet, so the same news is told again, and with the same number.
    assert [other.after for other in of(again, "friction")] == [one.after]


# ---------------------------------------------------------------- profile


def test_lone_times_outside_the_band_ask_for_a_test_and_change_nothing() -> None:
    (one,) = proposed(*timed("astrid", "acceleration_run", 1.07))
    assert (one.kind, one.reason, one.acceptable) == ("profile", "test_again", False)
    assert accept(BRIEF, [one]) == BRIEF
    assert proposed(*timed("astrid", "acceleration_run", 1.005)) == ()


GATES = (5.0, 10.0, 20.0, 30.0)


def full_runs(*, one_by_one: bool = False) -> list[Data]:
    """Write down the gates of one run of each line of week 4, 6 % late: in one entry, or one entry a gate."""
    person = TRUTH.people["astrid"]
    runner = Runner(person.f0_npkg, person.v0_mps, person.mass_kg, person.drag_kgpm)
    late = time_to_distance(runner, 0.5)
    splits = [
        {"distance_m": at, "time_s": round(1.06 * float(time_to_distance(runner, at + 0.5) - late), 3)}
        for at in GATES
    ]
    written = [[one] for one in splits] if one_by_one else [splits]
    entries = [
        entry("astrid", session, line, part, **CLOCK)
        for week, session, line in lines("astrid", "acceleration_run")
        if week.number == 4
        for part in written
    ]
    for row in entries:
        row["results"] = [{**result, "set": 1, "rep": 1} for result in row["results"]]
    return entries


@pytest.mark.parametrize("one_by_one", [False, True])
def test_a_full_run_outside_the_band_becomes_a_trial_that_planning_reads(*, one_by_one: bool) -> None:
    entries = full_runs(one_by_one=one_by_one)
    # As the site and `log read` store it: values nobody expects are marked, and change no estimate.
    marked = with_marks(log(*entries), SQUAD, rulebook=load_rulebook())
    (one,) = proposals(SQUAD, marked, on=ON, rulebook=load_rulebook(), catalogue=load_catalogue())
    assert (one.reason, one.acceptable) == ("full_run", True)
    assert [split.distance_m for split in one.news.trials[0].splits] == list(GATES)
    assert set(one.entries) == {row["id"] for row in entries}
    measured = measured_athletes(accept(BRIEF, [one]), rulebook=load_rulebook())
    assert measured["astrid"].ref == f"astrid/{entries[-1]['date']}/gates"


# ---------------------------------------------------------------- accepting


def test_accepting_nothing_gives_the_same_brief_and_all_at_once_is_one_by_one() -> None:
    found = proposals(
        SQUAD, simulated(astray(TRUTH, seed=1)), on=ON, rulebook=load_rulebook(), catalogue=load_catalogue()
    )
    assert accept(BRIEF, []) == BRIEF
    one_by_one = BRIEF
    for one in found:
        one_by_one = accept(one_by_one, [one])
    assert one_by_one == accept(BRIEF, found)
    assert accept(one_by_one, found) == one_by_one


def test_accepted_rows_stand_after_those_that_were_there() -> None:
    (one,) = of(proposed(*lifted("astrid", "back_squat", [None, *[{"rir": 0}] * 4])), "one_rep_max")
    accepted = accept(BRIEF, [one])
    before = next(athlete.lifts for athlete in BRIEF.athletes if athlete.ref == "astrid")
    after = next(athlete.lifts for athlete in accepted.athletes if athlete.ref == "astrid")
    assert after[:-1] == before
    assert (after[-1].reps, after[-1].rir, after[-1].load_kg) == (1, 0, one.after.value)
    assert after[-1].se_kg

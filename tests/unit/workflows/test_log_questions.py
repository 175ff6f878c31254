"""Unusual values get a question with the source of its limit, stay as typed, and change no estimate."""

from __future__ import annotations

from typing import Any, get_args

import numpy as np
import pytest

from log_entries import entry, log_of, result
from published import rows
from small_programme import document, small_programme
from speedloom.science.mechanics.plausible import fastest_known_time
from speedloom.training.rule import RuleChange, load_rulebook
from speedloom.wording.log_questions import KEPT, SAID, question_sentence, questions_text
from speedloom.workflows.log_questions import Question, Why, questions, with_marks
from speedloom.workflows.standing_log import StandingLog, placed_entries, standing_log

RULEBOOK = load_rulebook()
RUN = {"line": "mila-202", "exercise": "acceleration_run", "timing": "gates", "clock": "movement"}
SLED = {"line": "mila-203", "exercise": "sled_sprint", "timing": "gates", "clock": "behind", "behind_m": 0.5}
GYM = {"session": "mila-250", "date": "2026-01-21"}
SQUAT = {**GYM, "line": "mila-252", "exercise": "back_squat"}


def asked(*results: dict[str, Any], content: dict[str, Any] | None = None, **fields: Any) -> list[Question]:  # noqa: ANN401
    programme = small_programme(content)
    log = log_of(entry(1, results=results, **fields))
    return list(questions(standing_log(log, programme), rulebook=RULEBOOK))


def said(question: Question) -> str:
    return question_sentence(question, programme=small_programme(), rulebook=RULEBOOK)


def thirty_metres() -> dict[str, Any]:
    content = document()
    line = content["programmes"][0]["weeks"][1]["sessions"][0]["prescriptions"][1]
    assert (line["ref"], line["distance_m"]) == ("mila-202", 10)
    line["distance_m"] = 30
    return content


def test_thirty_metres_in_0_9_s() -> None:
    """Must show: a 0.9 s 30 m gets a question, keeps the value, marks it unusual, changes no estimate."""
    typed = result(rep=1, distance_m=30, time_s=0.9)
    (question,) = asked(typed, content=thirty_metres(), **RUN)
    assert (question.why, question.value) == ("faster_than_anyone", 0.9)
    assert said(question) == (
        "mila, Mon 19 Jan, Standing run, set 1 repetition 1: 30 m in 0.9 s? "
        "World-class is above 3.63 s. (Graubner and others 2011, second-hand)"
    )
    programme = small_programme(thirty_metres())
    log = with_marks(log_of(entry(1, results=[typed], **RUN)), programme, rulebook=RULEBOOK)
    standing = standing_log(log, programme)
    (one,) = standing.entries
    assert [(part.time_s, part.mark) for part in one.entry.results] == [(0.9, "unusual")]
    assert standing.usable_results(one) == ()


def gates(*times: float, rep: int | None = 1) -> list[dict[str, Any]]:
    """Write the times at 10, 20, 30 m of one run."""
    return [result(rep=rep, distance_m=10 * n, time_s=time) for n, time in enumerate(times, start=1)]


def test_gates_of_one_run_are_no_short_runs() -> None:
    assert asked(*gates(1.9, 3.2, 4.4), content=thirty_metres(), **RUN) == []
    (alone,) = asked(*gates(1.9), content=thirty_metres(), **RUN)
    assert alone.why == "distance_short"
    two_runs = [*gates(1.9), *gates(1.9, 3.2, 4.4)[2:]]
    two_runs[1]["rep"] = 2
    (short,) = asked(*two_runs, content=thirty_metres(), **RUN)
    assert (short.why, short.value) == ("distance_short", 10)


def test_a_gate_that_is_sent_before_the_others_of_its_run_is_not_judged_as_a_run() -> None:
    """The phone sends box by box: what cannot be known yet is not marked; a whole log is asked about."""
    programme = small_programme(thirty_metres())

    def marks(*typed: dict[str, Any]) -> list[str | None]:
        log = log_of(entry(1, results=[*typed], **RUN))
        found = with_marks(log, programme, rulebook=RULEBOOK, more_to_come=True)
        standing = StandingLog(placed_entries(found, programme), programme)
        marked = [one.mark for one in found.entries[0].results]
        assert len(questions(standing, rulebook=RULEBOOK, more_to_come=True)) == marked.count("unusual")
        return marked

    assert marks(*gates(1.9)) == [None]
    assert marks(*gates(0.9)) == ["unusual"], "nobody is so fast over 10 m"
    assert marks(result(rep=1, distance_m=10)) == ["unusual"], "without a time it is no gate"
    assert marks(result(rep=1, distance_m=90, time_s=11.5)) == ["unusual"]


def test_a_run_that_ended_early_is_asked_about_at_its_last_gate() -> None:
    (one,) = asked(
        result(rep=1, distance_m=5, time_s=1.2), result(rep=1, distance_m=10, time_s=1.9),
        content=thirty_metres(), **RUN,
    )  # fmt: skip
    assert (one.why, one.value) == ("distance_short", 10)


def test_a_gate_that_is_not_later_than_a_nearer_one_is_asked_about() -> None:
    (one,) = asked(*gates(1.9, 1.8, 4.4), content=thirty_metres(), **RUN)
    assert (one.why, one.value, one.limit) == ("gate_not_later", 1.8, 1.9)
    assert said(one).endswith("20 m in 1.8 s? A nearer gate of the same run says 1.9 s. (computed)")


def test_gates_in_entries_of_their_own_are_one_run_too() -> None:
    programme = small_programme(thirty_metres())
    log = log_of(*(entry(n, results=[one], **RUN) for n, one in enumerate(gates(1.9, 3.2, 4.4), start=1)))
    marked = with_marks(log, programme, rulebook=RULEBOOK)
    assert [part.mark for one in marked.entries for part in one.results] == [None, None, None]
    assert questions(standing_log(log, programme), rulebook=RULEBOOK) == ()


def test_four_hundred_kilograms() -> None:
    (question,) = asked(result(reps=8, load_kg=400), **SQUAT)
    assert (question.why, question.limit) == ("load_heavy", pytest.approx(1.25 * 72.5))
    assert said(question).endswith(
        "set 1: 400 kg? 72.5 kg is written, and above about 90.5 kg is asked about. (common practice)"
    )
    (bare,) = asked(result(reps=8, load_kg=400), **{**SQUAT, "line": "mila-253", "exercise": "split_squat"})
    assert (bare.why, bare.limit) == ("load_most", 300)


def test_a_time_in_a_load_cell_and_a_load_in_a_time_cell() -> None:
    (question,) = asked(result(rep=1, distance_m=10, load_kg=3.52), **SLED)
    assert question.why == "load_is_a_time"
    assert "was a time typed into the cell for the load? (common practice)" in said(question)
    (other,) = asked(result(rep=1, distance_m=10, load_kg=37.5, time_s=37.5), **SLED)
    assert other.why == "time_is_a_load"
    assert "37.5 kg is the load that is written: was it typed into a cell for a time?" in said(other)


@pytest.mark.parametrize(
    ("fields", "typed", "why"),
    [
        (SQUAT, {"reps": 25, "load_kg": 72.5}, "reps_many"),
        (SQUAT, {"reps": 8, "load_kg": 3.2}, "load_light"),
        (SQUAT, {"reps": 8, "rir": 14}, "rir_many"),
        (RUN, {"rep": 1, "distance_m": 10, "time_s": 9.0}, "slower_than_a_walk"),
        (RUN, {"rep": 1, "distance_m": 30}, "distance_long"),
        (RUN, {"rep": 1, "distance_m": 3}, "distance_short"),
        (RUN, {"rep": 1, "distance_m": 10, "load_kg": 20}, "load_on_a_run"),
        ({**RUN, "clock": "unknown"}, {"rep": 1, "distance_m": 10, "time_s": 0.7}, "faster_than_anyone"),
        (SLED, {"rep": 1, "distance_m": 10, "load_kg": 37.5, "time_s": 2.9}, "faster_than_expected"),
        (SLED, {"rep": 1, "distance_m": 10, "load_kg": 37.5, "time_s": 5.0}, "slower_than_expected"),
        ({**SLED, "line": "mila-204", "exercise": "broad_jump_stick"}, {"contacts": 90}, "contacts_many"),
        (SQUAT, {"reps": 8, "mark": "unusual"}, "marked"),
    ],
)  # fmt: skip
def test_what_is_asked_about(fields: dict[str, Any], typed: dict[str, Any], why: str) -> None:
    (question,) = asked(result(**typed), **fields)
    assert question.why == why
    assert said(question).count("?") == 1


@pytest.mark.parametrize(
    ("fields", "typed"),
    [
        (SLED, {"rep": 1, "distance_m": 10, "load_kg": 37.5, "time_s": 3.4}),
        (SLED, {"rep": 1, "distance_m": 10, "load_kg": 42.5, "time_s": 5.0}),
        (RUN, {"rep": 1, "distance_m": 10, "time_s": 1.9}),
        ({**RUN, "clock": "unknown"}, {"rep": 1, "distance_m": 10, "time_s": 1.5}),
        (SQUAT, {"reps": 9, "load_kg": 80, "rir": 3}),
        ({**SQUAT, "line": "mila-253", "exercise": "split_squat"}, {"reps": 20, "load_kg": 40}),
    ],
)  # fmt: skip
def test_what_may_well_be_is_not_asked_about(fields: dict[str, Any], typed: dict[str, Any]) -> None:
    assert asked(result(**typed), **fields) == []


def test_a_session_of_700_minutes_is_kept_and_makes_no_session_load() -> None:
    (question,) = asked(effort=6, minutes=700)
    assert said(question) == (
        "mila, Mon 19 Jan, whole session: 700 minutes? Above 120 minutes is asked about. (common practice)"
    )
    programme = small_programme()
    log = with_marks(log_of(entry(1, effort=6, minutes=700)), programme, rulebook=RULEBOOK)
    standing = standing_log(log, programme)
    assert standing.entries[0].entry.minutes == 700
    assert standing.usable_session(standing.entries[0]) is None
    usual = standing_log(log_of(entry(1, effort=6, minutes=74)), programme)
    assert usual.usable_session(usual.entries[0]) == (6.0, 74.0)


def test_marks_change_nothing_else_and_marking_twice_is_marking_once() -> None:
    programme = small_programme()
    typed = [result(rep=1, distance_m=10, time_s=1.9), result(rep=2, distance_m=10, time_s=0.5)]
    log = log_of(entry(1, results=typed, **RUN), entry(2, effort=5, minutes=60))
    once = with_marks(log, programme, rulebook=RULEBOOK)
    assert with_marks(once, programme, rulebook=RULEBOOK) == once
    assert [part.mark for part in once.entries[0].results] == [None, "unusual"]
    assert once.entries[1] == log.entries[1]
    bare = [part.model_copy(update={"mark": None}) for part in once.entries[0].results]
    assert tuple(bare) == log.entries[0].results


def test_all_questions_end_with_what_becomes_of_the_values() -> None:
    found = asked(result(reps=25, load_kg=400), **SQUAT)
    text = questions_text(found, programme=small_programme(), rulebook=RULEBOOK)
    assert [line.count("?") for line in text.splitlines()] == [1, 1, 0]
    assert text.endswith(f"{KEPT}\n")
    assert questions_text([], programme=small_programme(), rulebook=RULEBOOK) == ""


def test_a_coach_moves_a_limit() -> None:
    change = RuleChange(rule="log_questions", number="load_heavier", value=6.0, reason="Pushes with partner")
    log = standing_log(log_of(entry(1, results=[result(reps=8, load_kg=400)], **SQUAT)), small_programme())
    assert questions(log, rulebook=RULEBOOK.with_changes((change,))) == ()


def test_the_fastest_known_times_are_those_of_the_world_record() -> None:
    """graubner_2011: Berlin 2009 100 m final, splits second-hand (± 0.02 s), reaction 0.146 s."""
    winner = [
        one for one in rows("sprint_splits_100m") if one["runner"] == "WC Berlin 2009 final, lane entry 1"
    ]
    metres = np.array([float(one["distance_m"]) for one in winner])
    splits = np.array([float(one["time_s"]) for one in winner]) - 0.146
    assert len(winner) == 10
    assert np.abs(fastest_known_time(metres) - splits).max() < 0.02
    rolling = fastest_known_time(10.0, behind_m=0.5)
    assert float(rolling) == pytest.approx(float(fastest_known_time(10.5) - fastest_known_time(0.5)))


def test_every_reason_to_ask_has_its_words_and_none_blames_or_promises() -> None:
    assert set(SAID) == set(get_args(Why))
    banned = ("wrong", "bad", "must", "fault", "significant", "prevent", "guarantee", "injur", "risk")
    text = " ".join((*SAID.values(), KEPT)).lower()
    assert [word for word in banned if word in text] == []

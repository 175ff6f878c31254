"""Cells as coaches paste them, read as tests; every fault with its row and the heading as it was typed."""

from __future__ import annotations

import pytest

from speedloom.exchange.fault import UnusableFileError
from speedloom.exchange.pasted_cells import MOST_ROWS, Grid, grid_of_text
from speedloom.exchange.pasted_tests import Pasted, names_in, read_pasted

HOW = {"date": "2026-01-20", "timing": "gates", "clock": "behind", "behind_m": "0.5", "place": ""}


def read(text: str, **more: str) -> Pasted:
    grid = grid_of_text(text)
    refs = {name: name.lower() for name in names_in(grid)}
    return read_pasted(grid, all_rows={**HOW, **more}, refs=refs)


@pytest.mark.parametrize("sign", ["\t", ";"])
def test_tabs_and_semicolons_with_decimal_commas(sign: str) -> None:
    text = "Name;5 m;10\r\nMila;1,10;1,9\r\nMila;1,12;1,95\r\n\r\n".replace(";", sign)
    trials = read(text).measurements.trials
    assert [(one.trial, one.splits[1].distance_m, one.splits[1].time_s) for one in trials] == [
        (1, 10.0, 1.9), (2, 10.0, 1.95),
    ]  # fmt: skip
    assert {(one.clock, one.behind_m, one.place) for one in trials} == {("behind", 0.5, None)}


def test_a_cell_of_the_row_stands_before_what_is_said_once() -> None:
    found = read("Name\tclock\t10 m\nMila\tmovement\t1.9\nNoa\t\t1.8\n").measurements.trials
    assert [(one.clock, one.behind_m) for one in found] == [("movement", None), ("behind", 0.5)]


def test_names_without_a_result_are_told_and_lifts_need_no_clock() -> None:
    found = read("Name\t10 m\texercise\tload_kg\treps\nMila\t\tback_squat\t80\t3\nNoa\n")
    assert (found.measurements.lifts[0].load_kg, found.measurements.trials) == (80.0, ())
    assert found.without == ("Noa",)


def test_every_fault_has_its_row_and_the_heading_as_typed() -> None:
    with pytest.raises(UnusableFileError) as refused:
        read("Name\t10\tRemarks on form\nMila\t1.9x\tok\n\t1.8\t\n")
    found = {(one.row, one.column) for one in refused.value.faults}
    assert found == {(1, "Remarks on form"), (2, "10"), (3, "Name")}
    heading = next(one for one in refused.value.faults if one.row == 1)
    assert heading.todo == "take the column out"


@pytest.mark.parametrize(("text", "said"), [("", "a table with times"), ("10 m\n1.9\n", "a column Name")])
def test_what_is_missing_is_said(text: str, said: str) -> None:
    with pytest.raises(UnusableFileError, match=said):
        read(text)


def test_more_rows_than_a_squad_has_are_refused() -> None:
    with pytest.raises(UnusableFileError, match="send it in parts"):
        grid_of_text("Name\t10 m\n" + "Mila\t1.9\n" * MOST_ROWS)


def test_a_grid_is_the_same_after_it_was_written_out() -> None:
    grid = grid_of_text("Name\t10 m\n\nMila\t1.9\n")
    assert grid == Grid(("Name", "10 m"), ((3, ("Mila", "1.9")),))
    assert grid_of_text(grid.text) == grid


WIDE = "Name\t10 m\t20 m\tCMJ (cm)\tBack squat 3RM\tWeight\n"


def test_a_wide_table_holds_runs_jumps_and_lifts_in_one_row() -> None:
    found = read(f"{WIDE}Mila\t2,02\t3,34\t34\t60\t58\nNoa\t\t\t31,5\t\t\n").measurements
    assert [(one.athlete, one.mass_kg, one.splits[1].time_s) for one in found.trials] == [
        ("mila", 58.0, 3.34)
    ]
    assert [(one.athlete, one.trial, one.height_m) for one in found.jumps] == [
        ("mila", 1, 0.34), ("noa", 1, 0.315),
    ]  # fmt: skip
    assert [(one.exercise, one.load_kg, one.reps, one.rir) for one in found.lifts] == [
        ("back_squat", 60.0, 3, 0)
    ]


@pytest.mark.parametrize("heading", ["CMJ", "jump height cm", "Countermovement jump [cm]", "CMJ 1"])
def test_a_jump_of_34_is_centimetres_under_every_heading(heading: str) -> None:
    assert [one.height_m for one in read(f"Name\t{heading}\nMila\t34\n").measurements.jumps] == [0.34]


def test_a_jump_in_metres_and_in_inches() -> None:
    assert [one.height_m for one in read("Name\tCMJ\nMila\t0.34\n").measurements.jumps] == [0.34]
    # 1 in = 0.0254 m exactly (international yard and pound agreement, 1959).
    assert [one.height_m for one in read("Name\tCMJ in\nMila\t10\n").measurements.jumps] == [0.254]


def test_two_tries_are_two_jumps_and_a_trial_column_numbers_them() -> None:
    two = read("Name\tCMJ 1\tCMJ 2\nMila\t34\t35\n").measurements.jumps
    assert [(one.trial, one.height_m) for one in two] == [(1, 0.34), (2, 0.35)]
    numbered = read("Name\tRun\t10 m\tCMJ\nMila\t1\t1.9\t34\nMila\t2\t1.8\t35\n").measurements
    assert [(one.trial, one.height_m) for one in numbered.jumps] == [(1, 0.34), (2, 0.35)]


def test_load_and_lift_by_their_names_and_in_pounds() -> None:
    # 1 lb = 0.45359237 kg exactly (international yard and pound agreement, 1959).
    for heading, load, kilograms in (
        ("Load kg", "60", 60.0),
        ("Load (lb)", "100", 45.36),
        ("kg", "60", 60.0),
    ):
        (lift,) = read(f"Name\tLift\t{heading}\tReps\nMila\tBack squat\t{load}\t3\n").measurements.lifts
        assert (lift.exercise, lift.load_kg, lift.reps) == ("back_squat", kilograms, 3)


def test_body_height_in_centimetres_is_the_persons() -> None:
    (run,) = read("Name\tHeight cm\tWeight (lb)\t10 m\nMila\t171\t128\t1.9\n").measurements.trials
    assert (run.height_m, run.mass_kg) == (1.71, 58.06)


def test_faults_of_a_wide_table_stand_at_the_cell_as_typed() -> None:
    with pytest.raises(UnusableFileError) as refused:
        read("Name\t10 m\tCMJ cm\tBak squat 3RM\tFront squat 3RM\nMila\t1.9\t340\t\tx\nNoa\t1.8x\t\t\t\n")
    found = {(one.row, one.column) for one in refused.value.faults}
    assert found == {(1, "Bak squat 3RM"), (2, "CMJ cm"), (2, "Front squat 3RM"), (3, "10 m")}
    heading = next(one for one in refused.value.faults if one.row == 1)
    assert heading.todo == 'did you mean "Back squat 3RM"?'


def test_an_unknown_lift_in_a_cell_names_the_nearest() -> None:
    with pytest.raises(UnusableFileError, match='did you mean "Back squat"'):
        read("Name\texercise\tload_kg\treps\nMila\tBak squat!\t60\t3\n")


@pytest.mark.parametrize("body", ["Mass kg", "Weight", "Body weight", "kg"])
def test_body_mass_stays_the_persons_beside_lifts_with_a_load_of_their_own(body: str) -> None:
    heads = f"Name\tDay\t10 m\t{body}\tExercise\tLoad_kg\tReps\n"
    found = read(f"{heads}Mila\t2026-11-23\t2.02\t58\t\t\t\nMila\t2026-11-23\t\t\tback_squat\t60\t3\n")
    (run,) = found.measurements.trials
    assert (run.mass_kg, run.date.isoformat()) == (58.0, "2026-11-23")
    assert [(one.load_kg, one.reps) for one in found.measurements.lifts] == [(60.0, 3)]


@pytest.mark.parametrize("day", ["23 Nov 2026", "Mon 23 November 2026", "23. nov 2026", "2026-11-23"])
def test_a_day_may_name_its_month(day: str) -> None:
    (run,) = read(f"Name\tDay\t10 m\nMila\t{day}\t2.02\n").measurements.trials
    assert run.date.isoformat() == "2026-11-23"


@pytest.mark.parametrize("day", ["23/11/2026", "11/23/2026", "31 Feb 2026", "23 Nov 26"])
def test_a_day_that_can_be_read_in_two_ways_is_refused(day: str) -> None:
    with pytest.raises(UnusableFileError, match="or 8 Jan 2026"):
        read(f"Name\tDay\t10 m\nMila\t{day}\t2.02\n")


@pytest.mark.parametrize(("typed", "sex"), [("f", "female"), ("M", "male"), ("Female", "female")])
def test_sex_is_read_by_its_first_letter_too(typed: str, sex: str) -> None:
    (trial,) = read(f"Name\tSex\t10 m\nMila\t{typed}\t1.9\n").measurements.trials
    assert trial.sex == sex


@pytest.mark.parametrize(
    ("head", "typed", "expected", "todo"),
    [
        ("Born", "2007", "a birth date with day and month", "write 2007-03-14 or 14 Mar 2007"),
        ("Sex", "w", "female or male, or f or m", "never guessed"),
    ],
)
def test_a_year_alone_and_a_strange_sex_are_refused_in_their_cell(
    head: str, typed: str, expected: str, todo: str
) -> None:
    with pytest.raises(UnusableFileError) as refused:
        read(f"Name\t{head}\t10 m\nMila\t{typed}\t1.9\n")
    (fault,) = refused.value.faults
    assert (fault.row, fault.column, fault.what_came, fault.expected) == (2, head, f'"{typed}"', expected)
    assert todo in fault.todo


@pytest.mark.parametrize(
    "heading",
    [
        "10 m (fly)", "20 m (12 kg sled)", "505 (left)", "20 m (km/h)", "20 m (ms)", "Sled (% BM)",
        "Load (% 1RM)", "Back squat 1RM (x BW)", "Back squat 3RM (st)", "CMJ (ft)", "CMJ (+20kg)",
        "CMJ (one leg)", "CMJ (W/kg)", "5RM Back squat (reps)", "Wind (mph)", "20 (…)",
    ],
)  # fmt: skip
def test_a_bracket_that_changes_what_a_number_means_is_refused(heading: str) -> None:
    with pytest.raises(UnusableFileError) as refused:
        read(f"Name\t5 m\t{heading}\nMila\t1.1\t2.4\n")
    assert (1, heading) in {(one.row, one.column) for one in refused.value.faults}


def test_a_bracket_may_name_the_unit_of_a_distance_or_a_column() -> None:
    (run,) = read(
        "Name\t10 (yd)\t20 m (s)\tWind (km/h)\tWeight (lb)\nMila\t1.6\t3.2\t7.2\t128\n"
    ).measurements.trials
    assert [one.distance_m for one in run.splits] == [9.14, 20.0]
    assert (run.wind_mps, run.mass_kg) == (2.0, 58.06)


def test_a_weekday_that_the_day_is_not_and_a_birth_after_the_test_are_asked_about() -> None:
    for text in (
        "Name\tDay\t10 m\nMila\tMon 24 Nov 2026\t2.02\n",
        "Name\tBorn\t10 m\nMila\t2030-01-01\t2.02\n",
    ):
        with pytest.raises(UnusableFileError):
            read(text)

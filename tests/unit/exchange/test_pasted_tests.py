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

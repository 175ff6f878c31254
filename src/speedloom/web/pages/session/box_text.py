"""What stands in a box, and what a box means: `3.52`, `x`, `-`, `5`, `5 x 80`, as on the sheets."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from speedloom.exchange.cells import RowCells
from speedloom.exchange.fault import Fault
from speedloom.exchange.filled_boxes import read_boxes
from speedloom.exchange.table import Row
from speedloom.training.log import Result
from speedloom.training.programme import Prescription
from speedloom.wording.units import METRIC, Units, as_it_was, kilograms_per, mass_number

DONE = "x"


def said_in_box(result: Result, *, timed: bool, load_kg: float | None, units: Units = METRIC) -> str:
    """Write a result as it is typed, the load in the person's unit.

    >>> said_in_box(Result(set=1, reps=5, load_kg=80.0), timed=False, load_kg=75.0)
    '5 x 80'
    """
    if timed:
        return DONE if result.time_s is None else f"{result.time_s:.3f}".removesuffix("0")
    if result.reps is None:
        return DONE
    other = result.load_kg is not None and result.load_kg != load_kg
    return f"{result.reps} x {mass_number(result.load_kg or 0.0, units=units)}" if other else str(result.reps)


def read_box(
    line: Prescription, text: str, *, at: int, where: str, units: Units = METRIC
) -> tuple[dict[str, Any] | None, list[Fault]]:
    """Read one box of a line, by its number from 1; None for not done.

    Args:
        line: the line the box is of.
        text: what was typed.
        at: the number of the box.
        where: what the box is called in a fault.
        units: what the person writes loads in; they are kept in kilograms.
    """
    faults: list[Fault] = []
    cells = RowCells("", Row(at, {where: text}), faults)
    done = read_boxes(cells, line, {at: where}, load_kg=None, per_unit=kilograms_per(units))
    if faults or not done.results:
        return None, faults
    result = dict(done.results[0])
    if result.get("load_kg") is not None:
        result["load_kg"] = as_it_was(result["load_kg"], line.load_kg, units=units)
    return result, faults


def faults_text(faults: Iterable[Fault]) -> str:
    """Write what is wrong with a box."""
    return " ".join(f"Expected {fault.expected}, got {fault.what_came}." for fault in faults)


def filled(form: Mapping[str, str]) -> dict[tuple[str, int, int], str]:
    """Give the boxes of a form in which something was typed, by line, set and repetition."""
    return {place: text.strip() for place, text in _boxes(form) if text.strip()}


def emptied(form: Mapping[str, str]) -> tuple[tuple[str, int, int], ...]:
    """Give the boxes in which something stood when the form was opened, and nothing stands now."""
    return tuple(
        place
        for place, text in _boxes(form)
        if not text.strip() and form.get(f"was:{'.'.join(map(str, place))}")
    )


def _boxes(form: Mapping[str, str]) -> Iterator[tuple[tuple[str, int, int], str]]:
    for name, text in form.items():
        kind, _, place = name.partition(":")
        line, _, rest = place.partition(".")
        number, _, rep = rest.partition(".")
        if kind == "box" and number.isdecimal() and rep.isdecimal():
            yield (line, int(number), int(rep)), text

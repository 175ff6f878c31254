"""One row of a tests file: a sprint, a jump, a lift, a point of a speed trace, or the body alone."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import get_args

from speedloom.exchange.cells import RowCells, is_ref
from speedloom.exchange.exercise_names import exercise_ref, nearest_exercise
from speedloom.exchange.fault import Fault
from speedloom.exchange.table import Row, Table
from speedloom.training.measurement import Jump, Lift, Sex, Split, TracePoint, Trial
from speedloom.training.words import Clock, Start, Timing

_JUMP = ("flight_s", "contact_s", "added_kg")
TRACE = ("time_s", "speed_mps")
_LIFT = ("exercise", "load_kg", "reps", "rir")
_SPRINT = ("timing", "clock", "behind_m", "reaction_s", "sled_kg")
# `height_m` is the jump's height in a jump's row and the person's in any other; nobody jumps 1.2 m
# (common practice; a slip in the unit, not a limit of what may be measured).
HIGHEST_JUMP_M = 1.2
_YEAR = re.compile(r"(?:19|20)\d\d")
_WHICH_CLOCK = "never guessed: movement starts with the athlete, behind needs behind_m, else unknown or gun"


@dataclass(frozen=True)
class Found:
    """What one row held."""

    row: int
    athlete: str | None = None
    day: date | None = None
    number: int | None = None
    timing: str | None = None
    body: tuple[tuple[str, object], ...] = ()
    trial: Trial | None = None
    jump: Jump | None = None
    lift: Lift | None = None
    point: TracePoint | None = None


def automatic_numbers(table: Table) -> dict[int, int]:
    """Number the trials of a day in the file's order, by row, for a file without a trial column."""
    if "trial" in table.columns:
        return {}
    seen: Counter[tuple[str | None, ...]] = Counter()
    numbers = {}
    for row in table.rows:
        who = tuple(row.cells.get(column) for column in ("athlete", "date", "timing"))
        key = (*who, "lift" if "exercise" in row.cells else None)
        # The points of a speed trace are one trial.
        seen[key] += 0 if "speed_mps" in row.cells and seen[key] else 1
        numbers[row.number] = seen[key]
    return numbers


def read_row(
    row: Row, *, file: str, splits: Mapping[str, float], numbers: Mapping[int, int], faults: list[Fault]
) -> Found:
    """Read a row; what is wrong with it is added to the faults."""
    before = len(faults)
    cells = RowCells(file, row, faults)
    kinds = _kinds(cells, splits)
    athlete, day = _who(cells)
    number = (numbers.get(row.number) or _number(cells)) if kinds & {"sprint", "jump", "trace"} else 1
    body = _body(cells, kinds)
    born = body.get("born")
    if day is not None and isinstance(born, date) and born >= day:
        cells.fault("born", f"a day before the test of {day}", "look at the year")
    parts = _parts(cells, kinds, splits)
    if not kinds and not body:
        cells.fault(next(iter(splits), "athlete"), "a result in the row", "fill it in or take the row out")
    if len(faults) > before or athlete is None or day is None or number is None:
        return Found(row.number)
    who = {"athlete": athlete, "date": day}
    counted = {**who, "trial": number}
    return Found(
        row=row.number,
        athlete=athlete,
        day=day,
        number=number,
        timing=cells.text("timing"),
        body=tuple(body.items()),
        trial=Trial.model_validate({**counted, **body, **parts["sprint"]}) if "sprint" in kinds else None,
        jump=Jump.model_validate({**counted, **parts["jump"]}) if "jump" in kinds else None,
        lift=Lift.model_validate({**who, **parts["lift"]}) if "lift" in kinds else None,
        point=TracePoint.model_validate(parts["trace"]) if "trace" in kinds else None,
    )


def _kinds(cells: RowCells, splits: Mapping[str, float]) -> set[str]:
    kinds = {
        name
        for name, columns in (("trace", TRACE), ("lift", _LIFT), ("jump", _JUMP), ("sprint", tuple(splits)))
        if cells.has(*columns)
    }
    if not kinds and _is_jump_height(cells):
        kinds.add("jump")
    if not kinds and cells.has(*_SPRINT):
        kinds.add("sprint")
    return kinds


def _is_jump_height(cells: RowCells) -> bool:
    text = (cells.text("height_m") or "").replace(",", ".")
    try:
        return float(text) < HIGHEST_JUMP_M
    except ValueError:
        return False


def _who(cells: RowCells) -> tuple[str | None, date | None]:
    cells.needed("athlete", "the athlete's ref")
    cells.needed("date", "a date, YYYY-MM-DD")
    return cells.ref("athlete"), cells.day("date")


def _number(cells: RowCells) -> int | None:
    cells.needed("trial", "the number of the trial that day")
    return cells.whole("trial", low=1, high=1000)


def _sex(cells: RowCells) -> str | None:
    """Read female or male, also by the first letter."""
    text = cells.text("sex")
    if text is None:
        return None
    found = next((word for word in get_args(Sex) if text.lower() in {word, word[0]}), None)
    if found is None:
        cells.fault("sex", "female or male, or f or m", "or leave the cell empty: it is never guessed")
    return found


def _born(cells: RowCells) -> date | None:
    """Read the birth date; a year alone is kindly refused, since limits of age go by the day."""
    text = cells.text("born")
    if text is not None and _YEAR.fullmatch(text):
        todo = f"a year alone does not say the age; write {text}-03-14 or 14 Mar {text}, or leave it empty"
        cells.fault("born", "a birth date with day and month", todo)
        return None
    return cells.day("born")


def _body(cells: RowCells, kinds: set[str]) -> dict[str, object]:
    values: dict[str, object] = {
        "sex": _sex(cells),
        "born": _born(cells),
        "mass_kg": cells.number("mass_kg", low=25, high=200),
    }
    if "jump" not in kinds or "sprint" in kinds:
        values["height_m"] = cells.number("height_m", low=HIGHEST_JUMP_M, high=2.3)
    return {name: value for name, value in values.items() if value is not None}


def _parts(cells: RowCells, kinds: set[str], splits: Mapping[str, float]) -> dict[str, dict[str, object]]:
    return {
        "sprint": _sprint(cells, splits) if "sprint" in kinds else {},
        "jump": _jump(cells, own_height="sprint" not in kinds) if "jump" in kinds else {},
        "lift": _lift(cells) if "lift" in kinds else {},
        "trace": _point(cells) if "trace" in kinds else {},
    }


def _sprint(cells: RowCells, splits: Mapping[str, float]) -> dict[str, object]:
    cells.needed("timing", "how it was timed")
    cells.needed("clock", f"how the clock was started ({', '.join(get_args(Clock))}), {_WHICH_CLOCK}")
    clock = cells.word("clock", get_args(Clock))
    if clock == "behind":
        cells.needed("behind_m", "the metres from the front foot to the first beam, for clock behind")
    times = {
        metres: cells.number(name, low=0, high=9999, unit="s") for name, metres in sorted(splits.items())
    }
    ordered = sorted((metres, time) for metres, time in times.items() if time is not None)
    return {
        "timing": cells.word("timing", get_args(Timing)),
        "clock": clock,
        "behind_m": cells.number("behind_m", low=0, high=20),
        "start": cells.word("start", get_args(Start)) or "standing",
        "surface": cells.text("surface"),
        "place": cells.text("place"),
        "splits": tuple(Split(distance_m=metres, time_s=time) for metres, time in ordered if metres > 0),
        "reaction_s": cells.number("reaction_s", low=-1, high=2),
        "wind_mps": cells.number("wind_mps", low=-20, high=20),
        "altitude_m": cells.number("altitude_m", low=-500, high=5000),
        "temperature_c": cells.number("temperature_c", low=-40, high=55),
        "sled_kg": cells.number("sled_kg", low=0, high=400),
    }


def _jump(cells: RowCells, *, own_height: bool) -> dict[str, object]:
    height = cells.number("height_m", low=0, high=HIGHEST_JUMP_M) if own_height else None
    flight = cells.number("flight_s", low=0, high=1.2)
    if not cells.has("flight_s") and not (own_height and cells.has("height_m")):
        cells.fault("flight_s", "a flight time or a height of the jump", "fill in flight_s or height_m")
    return {
        "flight_s": flight,
        "height_m": height,
        "contact_s": cells.number("contact_s", low=0, high=5),
        "added_kg": cells.number("added_kg", low=0, high=300) or 0.0,
    }


def _lift(cells: RowCells) -> dict[str, object]:
    for column, expected in (("exercise", "an exercise"), ("load_kg", "the load"), ("reps", "repetitions")):
        cells.needed(column, expected)
    return {
        "exercise": _exercise(cells),
        "load_kg": cells.number("load_kg", low=0.5, high=600),
        "reps": cells.whole("reps", low=1, high=100),
        "rir": cells.whole("rir", low=0, high=20) or 0,
    }


def _exercise(cells: RowCells) -> str | None:
    """Read the lift by name or ref; a ref that the catalogue does not have is a coach's own."""
    text = cells.text("exercise") or ""
    ref = exercise_ref(text)
    near = None if ref else nearest_exercise(text)
    if ref is None and near and not is_ref(text):
        cells.fault("exercise", "a lift by its name or ref", f'did you mean "{near}"?')
        return None
    return ref or cells.ref("exercise")


def _point(cells: RowCells) -> dict[str, object]:
    for column in ("timing", *TRACE):
        cells.needed(column, "a value in every row of a speed trace")
    cells.word("timing", get_args(Timing))
    return {
        "time_s": cells.number("time_s", low=0, high=9999),
        "speed_mps": cells.number("speed_mps", low=0, high=20),
    }

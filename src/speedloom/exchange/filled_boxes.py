"""What stands in the boxes of one line, turned into results; only what cannot be true is a fault."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from speedloom.exchange.cells import RowCells, as_number
from speedloom.training.programme import Prescription
from speedloom.wording.line_words import TIMES, boxes
from speedloom.wording.units import KG_PER_LB
from speedloom.workflows.log_limits import LIMITS

DONE_MARKS = frozenset({"x", "✓", "✔", "ok", "yes", "done"})
NOT_DONE = frozenset({"-", "–", "—", "0"})
_SET = re.compile(r"(\d+) ?(?:x|×|@) ?(\d+(?:[.,]\d+)?) ?(kg|lb)?")
_PER = {"kg": 1.0, "lb": KG_PER_LB}
"""A unit that is written beside a load counts, whatever the sheet's own is [kg]."""
_LONGEST_S, _MOST_REPS, _HEAVIEST_KG = (LIMITS[name].high for name in ("time_s", "reps", "load_kg"))


@dataclass(frozen=True)
class Done:
    """What the cells of a line say about its repetitions."""

    results: tuple[dict[str, Any], ...]
    filled: int

    @property
    def timed(self) -> bool:
        """Whether a time was written down."""
        return any(result.get("time_s") is not None for result in self.results)


def read_boxes(
    cells: RowCells,
    line: Prescription,
    headings: Mapping[int, str],
    *,
    load_kg: float | None,
    per_unit: float,
) -> Done:
    """Read the boxes of a line, `headings` by number from 1; loads in them count `per_unit` [kg]."""
    load = line.load_kg if load_kg is None else load_kg
    results: list[dict[str, Any]] = []
    filled = 0
    for number, heading in headings.items():
        text = cells.text(heading)
        if text is None:
            continue
        filled += 1
        if number > boxes(line)[0]:
            cells.fault(heading, f"nothing beyond box {boxes(line)[0]} of this line", "write it in Note")
        elif text.lower() not in NOT_DONE:
            timed = boxes(line)[1] == TIMES
            read = _run(cells, heading, text) if timed else _set(cells, heading, text, line, per_unit)
            results.append(_result(line, number, timed=timed, read={"load_kg": load, **read}))
    return Done(tuple(results), filled)


def _result(line: Prescription, number: int, *, timed: bool, read: Mapping[str, Any]) -> dict[str, Any]:
    each = line.reps if timed else 1
    place = {"set": (number - 1) // each + 1, "rep": (number - 1) % each + 1 if timed else None}
    return {**place, "distance_m": line.distance_m, **read}


def _run(cells: RowCells, heading: str, text: str) -> dict[str, Any]:
    if text.lower() in DONE_MARKS:
        return {"time_s": None}
    time_s = as_number(text.removesuffix("s").strip())
    if time_s is None or not 0 < time_s <= _LONGEST_S:
        cells.fault(heading, f"a time up to {_LONGEST_S:g} s, x for done, - for not done, or nothing", "")
        return {}
    return {"time_s": time_s}


def _set(cells: RowCells, heading: str, text: str, line: Prescription, per_unit: float) -> dict[str, Any]:
    if text.lower() in DONE_MARKS:
        return {"reps": line.reps if line.reps_to is None else None}
    with_load = _SET.fullmatch(text.lower())
    reps = as_number(with_load[1] if with_load else text)
    load = as_number(with_load[2]) if with_load else None
    load_kg = (
        None if load is None else round(load * _PER.get((with_load and with_load[3]) or "", per_unit), 2)
    )
    wrong = reps is None or reps != int(reps) or not 0 < reps <= _MOST_REPS or (load_kg or 0.0) > _HEAVIEST_KG
    if wrong or reps is None:
        cells.fault(heading, "repetitions (5), repetitions x load (5 x 80), x for done, - for not done", "")
        return {}
    return {"reps": int(reps), **({} if load_kg is None else {"load_kg": load_kg})}

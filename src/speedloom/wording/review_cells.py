"""A review's numbers in the squares of a table: what was done of what was planned."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from speedloom.training.exercise import Catalogue
from speedloom.wording.names import exercise_name
from speedloom.wording.units import METRIC, Units, length_number, mass_number, number
from speedloom.workflows.reviewed import (
    Amounts,
    AthleteWeek,
    Beside,
    LiftAmount,
    LoadLines,
    SessionCount,
    WeekLoad,
)

NONE = "–"
CLASS_NAMES: Mapping[str, str] = {
    "long": "long contact",
    "medium": "medium contact",
    "short": "short contact",
    "shock": "drop and depth jumps",
    "loaded": "loaded jumps and cleans",
    "other": "other",
}
_TENS, _THOUSAND = 10.0, 1000.0


@dataclass(frozen=True)
class Grid:
    """A table of words: headings, rows that begin with a label, and whether the last row is a sum."""

    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    sums: bool = False


def square(done: str, planned: str, *, open_part: bool) -> str:
    """Write what was done of what was planned; `+` and `?`: of some, or of all, nothing was written down.

    >>> square("200", "200", open_part=False), square("150", "200", open_part=True)
    ('200', '150+ of 200')
    >>> square("0", "200", open_part=True), square("0", "0", open_part=False)
    ('? of 200', '–')
    """
    if open_part:
        return f"{'?' if done == '0' else f'{done}+'} of {planned}"
    if done == planned:
        return NONE if done == "0" else done
    return f"{done} of {planned}"


def _whole(value: float) -> str:
    return number(value, decimals=0)


def _tens(value_kg: float, units: Units) -> str:
    # Tonnage to tens: plates that were nearly those planned are no difference.
    shown = float(mass_number(value_kg, units=units))
    return _whole(_TENS * round(shown / _TENS))


Measure = tuple[str, Callable[[Amounts], float], Callable[[float], str]]


def measures(units: Units = METRIC) -> tuple[Measure, ...]:
    """Give the columns of work: heading, value, and how the value is written."""

    def far(value_m: float) -> str:
        return _whole(float(length_number(value_m, units=units)))

    def heavy(value_kg: float) -> str:
        thousands = float(mass_number(value_kg, units=units)) / _THOUSAND
        return f"{thousands:.1f}" if value_kg else "0"

    return (
        (f"sprint {units.length}", lambda one: one.sprint_m, far),
        (f"≥ 90 % {units.length}", lambda one: one.from_90_m, far),
        (f"≥ 95 % {units.length}", lambda one: one.from_95_m, far),
        (f"sled {units.length}", lambda one: one.resisted_m, far),
        ("contacts", lambda one: float(one.all_contacts), _whole),
        ("hard sets", lambda one: float(one.hard_sets), _whole),
        ("tonnage t" if units.mass == "kg" else "tonnage 1000 lb", lambda one: one.tonnage_kg, heavy),
        ("minutes", lambda one: one.minutes, _whole),
    )


def work_grid(
    title: str,
    rows: Iterable[tuple[str, Beside, SessionCount]],
    *,
    units: Units = METRIC,
    first: str = "",
    sums: str = "",
) -> Grid:
    """Lay planned beside done, a row an athlete or a week; `sums` names a last row with their sum."""
    rows = tuple(rows)
    columns = measures(units)
    lines = [(label, _sessions(count), *_squares(beside, columns)) for label, beside, count in rows]
    if sums and len(rows) > 1:
        total = sum((beside for _, beside, _ in rows), Beside())
        counts = tuple(count for _, _, count in rows)
        lines.append((sums, _session_sum(counts), *_squares(total, columns)))
    heads = (first, "sessions", *(head for head, _, _ in columns))
    return Grid(title, heads, tuple(lines), sums=bool(sums and len(rows) > 1))


def _squares(beside: Beside, columns: Sequence[Measure]) -> Iterator[str]:
    for _, value, written in columns:
        yield square(
            written(value(beside.done)),
            written(value(beside.planned)),
            open_part=value(beside.unwritten) > 0,
        )


def _sessions(count: SessionCount) -> str:
    return _session_sum((count,))


def _session_sum(counts: Sequence[SessionCount]) -> str:
    """Count sessions that took place, whole or in part, of those that are over."""
    took_place = sum(one.done + one.partly for one in counts)
    over = sum(one.planned - one.to_come for one in counts)
    counted = square(str(took_place), str(over), open_part=any(one.nothing_written for one in counts))
    partly = sum(one.partly for one in counts)
    return f"{counted}, {'one' if partly == 1 else partly} partly" if partly else counted


def detail_grids(beside: Beside, *, catalogue: Catalogue, units: Units = METRIC) -> tuple[Grid, ...]:
    """Break contacts down by class and lifts by exercise."""
    return tuple(grid for grid in (_contact_grid(beside), _lift_grid(beside, catalogue, units)) if grid.rows)


def _contact_grid(beside: Beside) -> Grid:
    parts = (beside.done.contacts, beside.planned.contacts, beside.unwritten.contacts)
    rows = [
        (
            name,
            square(str(parts[0].get(key, 0)), str(parts[1].get(key, 0)), open_part=parts[2].get(key, 0) > 0),
        )
        for key, name in CLASS_NAMES.items()
        if any(key in part for part in parts)
    ]
    return Grid("Contacts by class", ("", "contacts"), tuple(rows))


def _lift_grid(beside: Beside, catalogue: Catalogue, units: Units) -> Grid:
    nothing = LiftAmount()
    rows = []
    for ref in dict.fromkeys((*beside.planned.lifts, *beside.done.lifts)):
        done, planned, unwritten = (
            part.lifts.get(ref, nothing) for part in (beside.done, beside.planned, beside.unwritten)
        )
        is_open = unwritten.sets > 0
        sets = square(str(done.sets), str(planned.sets), open_part=is_open)
        tons = (_tens(one.tonnage_kg or 0.0, units) for one in (done, planned))
        weighed = done.tonnage_kg is not None or planned.tonnage_kg is not None
        tonnage = square(*tons, open_part=is_open) if weighed else NONE
        rows.append((exercise_name(ref, catalogue=catalogue), sets, tonnage))
    return Grid("Lifts", ("", "sets", f"tonnage {units.mass}"), tuple(rows))


def load_grid(title: str, rows: Iterable[tuple[str, WeekLoad]], *, first: str = "") -> Grid:
    """Lay out session loads: each day's, the week's sum, monotony and strain."""
    heads = (
        first, "Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun", "sum", "monotony", "strain", "without effort",
    )  # fmt: skip
    return Grid(title, heads, tuple((label, *_loads(load)) for label, load in rows))


def _loads(load: WeekLoad) -> Iterator[str]:
    yield from (_whole(day) if day else NONE for day in load.days)
    yield f"{'at least ' if load.is_least else ''}{_whole(load.total)}"
    yield state_word(load) if load.monotony is None else f"{load.monotony:.2f}"
    yield state_word(load) if load.strain is None else _whole(load.strain)
    lacking = load.count.without_effort + load.nothing_written
    sessions = load.count.trained + load.nothing_written
    yield f"{lacking} of {sessions}" if lacking else NONE


def line_grid(title: str, rows: Iterable[tuple[str, LoadLines]]) -> Grid:
    """Lay out where the weighted averages stand at the end."""
    rows = tuple(rows)
    spans = rows[0][1].spans_d if rows else (7.0, 28.0)
    heads = ("", *(f"{number(span)}-day" for span in spans), "days without a load written")
    lines = tuple(
        (
            label,
            _whole(line.short[-1]),
            _whole(line.long[-1]),
            str(len(line.missing)) if line.missing else NONE,
        )
        for label, line in rows
    )
    return Grid(title, heads, lines)


Averages = tuple[float, float] | None


def one_grid(
    rows: Iterable[tuple[str, AthleteWeek, Averages]],
    *,
    units: Units = METRIC,
    sums: str = "",
    early: str = "",
    before: Sequence[AthleteWeek] = (),
) -> Grid:
    """Lay work and loads side by side, a row an athlete or a week; averages are those of its last day.

    `before` is work that stands in one row together, labelled `early`, in front of the others.
    """
    rows = tuple(rows)
    besides = [(label, one.amounts, one.sessions) for label, one, _ in rows]
    if before:
        together = sum((one.amounts for one in before), Beside())
        besides.insert(0, (early, together, sessions_of(before)))
    work = work_grid("", besides, units=units, sums=sums)
    heads = (*work.heads, "load", "monotony", "strain", "7-day", "28-day", "without effort")
    blank = [("",) * 6]
    loads = [_load_squares(one.load, averages) for _, one, averages in rows]
    loads = [*(blank if before else []), *loads, *(blank if work.sums else [])]
    lines = tuple((*left, *right) for left, right in zip(work.rows, loads, strict=True))
    return Grid("", heads, lines, sums=work.sums)


def sessions_of(weeks: Iterable[AthleteWeek]) -> SessionCount:
    """Add up what became of sessions."""
    names = SessionCount.__dataclass_fields__
    found = [one.sessions for one in weeks]
    return SessionCount(**{name: sum(getattr(one, name) for one in found) for name in names})


def _load_squares(load: WeekLoad, averages: Averages) -> tuple[str, ...]:
    *_, total, evenness, strain, lacking = _loads(load)
    least = total.replace("at least", "≥")
    short, long = (NONE, NONE) if averages is None else map(_whole, averages)
    return (least, evenness, strain, short, long, lacking)


def state_word(load: WeekLoad) -> str:
    """Say why a week has no monotony."""
    if load.state == "undefined" and load.total == 0.0:
        return NONE
    return {"undefined": "undefined", "incomplete": "not known", "not_over": "not yet", "known": ""}[
        load.state
    ]

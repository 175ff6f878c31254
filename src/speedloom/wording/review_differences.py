"""Who differed from the plan and why, in sentences: what was logged, and no judgement of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from speedloom.training.exercise import Catalogue
from speedloom.wording.dates import MONTHS, listing, weekday
from speedloom.wording.names import exercise_name, short_name
from speedloom.wording.units import METRIC, Units, length, mass, number, seconds
from speedloom.workflows.reviewed import Difference, LineDifference, Question

REASONS: Mapping[str, str] = {
    "pain": "pain",
    "illness": "illness",
    "kit": "kit",
    "weather": "weather",
    "time": "time",
    "other": "another reason",
}
"""Reasons as they are logged."""


@dataclass(frozen=True)
class DifferenceWords:
    """One athlete's differences: what was done otherwise, and what nobody wrote of."""

    differed: tuple[str, ...]
    unwritten: tuple[str, ...]


def difference_words(
    differences: Sequence[Difference], *, catalogue: Catalogue, units: Units = METRIC, with_notes: bool
) -> DifferenceWords:
    """Say an athlete's differences, days with the same news together; notes may hold health matters."""
    lost = [one for one in differences if one.kind == "not_done"]
    others = [one for one in differences if one.kind not in {"not_done", "nothing_written"}]
    told = [*_lost(lost, with_notes=with_notes)]
    told += [text for one in others if (text := _told(one, catalogue, units, with_notes=with_notes))]
    return DifferenceWords(tuple(told), tuple(_unwritten(differences, catalogue)))


def _lost(differences: Iterable[Difference], *, with_notes: bool) -> Iterator[str]:
    groups: dict[tuple[str | None, str], list[date]] = {}
    for one in differences:
        groups.setdefault((one.reason, one.note if with_notes else ""), []).append(one.date)
    for (reason, note), days in groups.items():
        yield f"{days_text(days)} not trained{_why(reason)}{_note(note)}"


def _told(one: Difference, catalogue: Catalogue, units: Units, *, with_notes: bool) -> str:
    note = _note(one.note) if with_notes else ""
    if one.kind in {"extra", "not_in_programme"}:
        name = exercise_name(one.exercise, catalogue=catalogue) if one.exercise else "a session"
        tail = "" if one.kind == "extra" else ", not in the programme now"
        word = "extra: " if one.kind == "extra" else ""
        return f"{days_text([one.date])} {word}{name}{tail}{_why(one.reason)}{note}"
    lines = [text for line in one.lines if (text := _line(line, one, catalogue, units))]
    head = {
        "stopped": f" stopped{_why(one.reason)}",
        "other_day": f" instead of {days_text([one.planned_date or one.date])}{_why(one.reason)}",
    }.get(one.kind, _why(one.reason))
    if not lines and one.kind == "changed":
        silent = any(line.change == "nothing_written" for line in one.lines) and not (one.reason or note)
        return "" if silent else f"{days_text([one.date])} done otherwise{_why(one.reason)}{note}"
    return f"{days_text([one.date])}{head}{': ' if lines else ''}{'; '.join(_grouped(lines))}{note}"


def _grouped(lines: Sequence[tuple[str, str]]) -> Iterator[str]:
    """Join the names of lines of which the same is said."""
    groups: dict[str, list[str]] = {}
    for name, said in lines:
        groups.setdefault(said, []).append(name)
    for said, names in groups.items():
        yield f"{listing(names)} {said}"


def _line(line: LineDifference, of: Difference, catalogue: Catalogue, units: Units) -> tuple[str, str] | None:
    if line.change == "nothing_written":
        return None
    name = _short(line.exercise, catalogue)
    why = _why(line.reason) if line.reason != of.reason else ""
    if line.change == "not_done" or line.done is None or line.planned is None:
        return name, f"not done{why}"
    if line.change == "amount":
        return name, f"{number(line.done)} of {number(line.planned)} {line.unit}{why}"
    written = mass if line.change == "load" else length
    return name, f"{written(line.done, units=units)} instead of {written(line.planned, units=units)}{why}"


def _short(exercise: str, catalogue: Catalogue) -> str:
    # Without what stands behind a comma: names are listed in a sentence.
    return short_name(exercise, catalogue=catalogue).partition(",")[0]


def _why(reason: str | None) -> str:
    return f" ({REASONS[reason]})" if reason else ""


def _note(note: str) -> str:
    return f" “{note}”" if note else ""


def _unwritten(differences: Iterable[Difference], catalogue: Catalogue) -> Iterator[str]:
    differences = tuple(differences)
    whole = [one.date for one in differences if one.kind == "nothing_written"]
    if whole:
        yield (
            f"{days_text(whole)}, the whole session"
            if len(whole) == 1
            else f"{days_text(whole)}, whole sessions"
        )
    for one in differences:
        names = [
            _short(line.exercise, catalogue)
            for line in one.lines
            if line.change == "nothing_written" and one.kind != "nothing_written"
        ]
        if names:
            yield f"{days_text([one.date])} {listing(dict.fromkeys(names))}"


def question_sentences(
    questions: Sequence[Question], *, catalogue: Catalogue, units: Units = METRIC
) -> Iterator[str]:
    """Ask about unusual values, those of one exercise and day together."""
    groups: dict[tuple[date, str | None], list[Question]] = {}
    for one in questions:
        groups.setdefault((one.date, one.exercise), []).append(one)
    for (day, exercise), group in groups.items():
        name = exercise_name(exercise, catalogue=catalogue) if exercise else "the session"
        values = listing(dict.fromkeys(_value(one, units) for one in group))
        yield f"{days_text([day])} {name}: {values}. Is that right?"


def _value(one: Question, units: Units) -> str:
    if one.minutes is not None:
        return f"{number(one.minutes)} minutes"
    parts = (
        f"{number(one.reps)} repetitions" if one.reps is not None else "",
        length(one.distance_m, units=units) if one.distance_m else "",
        f"in {seconds(one.time_s)}" if one.time_s is not None else "",
        f"with {mass(one.load_kg, units=units)}" if one.load_kg else "",
    )
    return " ".join(filter(None, parts)) or "a value"


def days_text(days: Iterable[date]) -> str:
    """Write days of one month with the month once.

    >>> days_text([date(2026, 1, 19), date(2026, 1, 20), date(2026, 2, 2)])
    'Mon 19, Tue 20 Jan and Mon 2 Feb'
    """
    ordered = sorted(set(days))
    texts = [
        f"{weekday(day)} {day.day}"
        if (day.year, day.month) == (after.year, after.month)
        else f"{weekday(day)} {day.day} {MONTHS[day.month - 1][:3]}"
        for day, after in zip(ordered, [*ordered[1:], date.min], strict=True)
    ]
    return listing(texts)

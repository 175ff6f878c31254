"""Gentle questions about a log in words: the value, the limit it passes, and where the limit is from."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from speedloom.training.log import Result
from speedloom.training.programme import Programme
from speedloom.training.rule import Rulebook
from speedloom.wording.books import books_of
from speedloom.wording.dates import day_month, listing, runs
from speedloom.wording.names import athlete_name, short_name
from speedloom.wording.rules import citation
from speedloom.wording.units import METRIC, Units, length, mass, number
from speedloom.workflows.log_questions import Question

KEPT = "Kept as typed, marked unusual; it changes no estimate."
_UNITS: Mapping[str, str] = {
    "time_s": "s", "reps": "repetitions", "contacts": "contacts",
    "rir": "in reserve", "minutes": "minutes", "effort": "",
}  # fmt: skip
SAID: Mapping[str, str] = {
    "faster_than_anyone": "World-class is above {limit}",
    "faster_than_expected": "Expected is {written}, and below {limit} is asked about",
    "slower_than_expected": "Expected is {written}, and above {limit} is asked about",
    "slower_than_a_walk": "A walk takes {limit}",
    "gate_not_later": "A nearer gate of the same run says {limit}",
    "time_is_a_load": "{limit_kg} is the load that is written: was it typed into a cell for a time?",
    "load_is_a_time": "{written} is written: was a time typed into the cell for the load?",
    "load_light": "{written} is written, and below {limit} is asked about",
    "load_heavy": "{written} is written, and above {limit} is asked about",
    "load_on_a_run": "This run is written without a load",
    "load_most": "Above {limit} is asked about where no load is written",
    "distance_short": "{written} is written, and below {limit} is asked about",
    "distance_long": "{written} is written, and above {limit} is asked about",
    "reps_many": "{written} are written, and above {limit} is asked about",
    "contacts_many": "{written} are written, and above {limit} is asked about",
    "rir_many": "Above {limit} is asked about",
    "minutes_many": "Above {limit} is asked about",
    "marked": "It was marked when it was typed",
}


def questions_text(questions: Iterable[Question], *, programme: Programme, rulebook: Rulebook) -> str:
    """Write the questions, those of one line about one limit together; nothing for none."""
    alike: dict[tuple[object, ...], list[Question]] = {}
    for one in questions:
        alike.setdefault(_alike(one), []).append(one)
    lines = [_sentence(group, programme=programme, rulebook=rulebook) for group in alike.values()]
    return "".join(f"{line}\n" for line in (*lines, KEPT)) if lines else ""


def question_sentence(
    question: Question, *, programme: Programme, rulebook: Rulebook, units: Units = METRIC
) -> str:
    """Ask about one value: who, when, what, the value, the limit and its source."""
    return _sentence([question], programme=programme, rulebook=rulebook, units=units)


def _alike(question: Question) -> tuple[object, ...]:
    """Give what questions share that are asked in one sentence: the work, the field and the limit."""
    entry, result = question.entry, question.result
    work = (entry.athlete, entry.date, entry.session, entry.line, entry.exercise)
    distance = result.distance_m if result else None
    return (*work, distance, question.field, question.why, question.limit, question.written)


def _sentence(
    group: Sequence[Question], *, programme: Programme, rulebook: Rulebook, units: Units = METRIC
) -> str:
    question = group[0]
    why = SAID[question.why].format(
        limit=_limit(question.field, question.limit, units),
        written=_value(question.field, question.written, units),
        limit_kg=_value("load_kg", question.limit, units),
    )
    values = listing(dict.fromkeys(_asked(one, units) for one in group))
    return f"{_where(group, programme)}: {values}? {_ended(why)}{_origin(question, rulebook)}"


def _where(group: Sequence[Question], programme: Programme) -> str:
    entry = group[0].entry
    place = [athlete_name(programme, entry.athlete), day_month(entry.date)]
    _, catalogue = books_of(programme)
    place += [short_name(entry.exercise, catalogue=catalogue) if entry.exercise else "whole session"]
    results = [one.result for one in group if one.result is not None]
    return ", ".join([*place, *([_which(results)] if results else [])])


def _which(results: Sequence[Result]) -> str:
    """Say which sets, or which repetitions of which set.

    >>> _which([Result(set=1, rep=1), Result(set=1, rep=2), Result(set=2, rep=1)])
    'set 1 repetitions 1–2, set 2 repetition 1'
    """
    repetitions: dict[int, list[int]] = {}
    for one in results:
        repetitions.setdefault(one.set, []).extend([one.rep] if one.rep else [])
    if not any(repetitions.values()):
        return _counted("set", list(repetitions))
    return ", ".join(
        f"set {part}" + (f" {_counted('repetition', own)}" if own else "")
        for part, own in repetitions.items()
    )


def _counted(noun: str, numbers: Sequence[int]) -> str:
    return f"{noun}{'s' if len(set(numbers)) > 1 else ''} {runs(numbers)}"


def _asked(question: Question, units: Units) -> str:
    said = _value(question.field, question.value, units)
    distance = question.result.distance_m if question.result else None
    return f"{length(distance, units=units)} in {said}" if question.field == "time_s" and distance else said


def _value(field: str, value: float | None, units: Units) -> str:
    if value is None:
        return ""
    if field in {"load_kg", "distance_m"}:
        return mass(value, units=units) if field == "load_kg" else length(value, units=units)
    return f"{number(value)} {_UNITS[field]}".strip()


def _limit(field: str, value: float | None, units: Units) -> str:
    """Write a limit as roundly as it is known: a load to half a kilogram."""
    if field != "load_kg" or value is None or value == round(2 * value) / 2:
        return _value(field, value, units)
    return f"about {_value(field, round(2 * value) / 2, units)}"


def _ended(text: str) -> str:
    return text if text.endswith("?") else f"{text}."


def _origin(question: Question, rulebook: Rulebook) -> str:
    """Name the source of the limit in brackets; practice names itself by its mark."""
    known = {source.ref: source for source in rulebook.sources}
    cited = citation(known[question.source]) if question.source in known else ""
    said = ", ".join(filter(None, (cited, question.mark)))
    return f" ({said})" if said else ""

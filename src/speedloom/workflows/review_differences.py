"""Where what was done differs from the plan, with the reason that was logged, and values to ask about."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from typing import Literal

from speedloom.science.statistics.load import MINUTES
from speedloom.training.log import LogEntry
from speedloom.training.rule import Rulebook
from speedloom.workflows.review_lines import LineOutcome, SessionOutcome, is_whole
from speedloom.workflows.reviewed import Difference, DifferenceKind, LineChange, LineDifference, Question
from speedloom.workflows.standing_log import StandingEntry


def session_difference(outcome: SessionOutcome, *, rulebook: Rulebook) -> Difference | None:
    """Say how a session differed from the plan, or None where it did not."""
    same_load = rulebook.number("review", "same_load")
    entries = [one.entry for one in outcome.entries]
    lines = () if outcome.state == "not_done" else tuple(_lines(outcome.lines, same_load))
    kind = _kind(outcome, differs=bool(lines))
    if kind is None:
        return None
    told = outcome.whole
    return Difference(
        kind=kind,
        date=_day(outcome) if kind == "other_day" else outcome.session.date,
        session=outcome.session.ref,
        planned_date=outcome.session.date,
        reason=_reason(told, entries),
        note=_note(told, entries),
        lines=lines,
    )


def _kind(outcome: SessionOutcome, *, differs: bool) -> DifferenceKind | None:
    if outcome.state in {"not_done", "nothing_written"}:
        return "not_done" if outcome.state == "not_done" else "nothing_written"
    whole = outcome.whole
    if whole is not None and whole.status == "stopped":
        return "stopped"
    if differs or (whole is not None and whole.status == "modified"):
        return "changed"
    return "other_day" if _day(outcome) != outcome.session.date else None


def _day(outcome: SessionOutcome) -> date:
    whole = outcome.whole
    days = [one.entry.date for one in outcome.entries]
    return whole.date if whole else min(days, default=outcome.session.date)


def _reason(whole: LogEntry | None, entries: Iterable[LogEntry]) -> str | None:
    """Give the reason said of the whole session, else the one its lines share."""
    if whole is not None and whole.reason is not None:
        return whole.reason
    reasons = {entry.reason for entry in entries if not is_whole(entry)}
    return reasons.pop() if len(reasons) == 1 else None


def _note(whole: LogEntry | None, entries: Iterable[LogEntry]) -> str:
    """Join what was noted of the session and of lines that went otherwise."""
    notes = [whole.note] if whole else []
    notes += [entry.note for entry in entries if not is_whole(entry) and entry.status != "done"]
    return "; ".join(dict.fromkeys(note.strip() for note in notes if note.strip()))


def _lines(outcomes: Iterable[LineOutcome], same_load: float) -> Iterator[LineDifference]:
    for outcome in outcomes:
        exercise = outcome.work.line.exercise
        if outcome.outcome in {"not_done", "nothing_written"}:
            change: LineChange = "not_done" if outcome.outcome == "not_done" else "nothing_written"
            yield LineDifference(exercise, change, reason=outcome.reason)
        elif outcome.outcome == "results":
            yield from _result_differences(outcome, same_load)


def _result_differences(outcome: LineOutcome, same_load: float) -> Iterator[LineDifference]:
    work, line, exercise = outcome.work, outcome.work.line, outcome.work.line.exercise
    count, planned = outcome.count
    if count != planned:
        unit: Literal["runs", "sets"] = "runs" if work.is_run or work.is_sled else "sets"
        yield LineDifference(exercise, "amount", count, planned, unit, outcome.reason)
    lines = [portion.work.line for portion in outcome.done]
    loads = [one.load_kg for one in lines if one.load_kg is not None]
    if line.load_kg is not None and loads and abs(max(loads) - line.load_kg) > same_load * line.load_kg:
        yield LineDifference(exercise, "load", max(loads), line.load_kg, "kg", outcome.reason)
    far = {one.distance_m for one in lines if one.distance_m is not None}
    if line.distance_m is not None and len(far) == 1 and (only := far.pop()) != line.distance_m:
        yield LineDifference(exercise, "distance", only, line.distance_m, "m", outcome.reason)


def outside_difference(entry: LogEntry) -> Difference:
    """Say what was done outside the plan."""
    kind: DifferenceKind = "extra" if entry.status == "extra" else "not_in_programme"
    return Difference(
        kind=kind,
        date=entry.date,
        session=entry.session,
        exercise=entry.exercise,
        reason=entry.reason,
        note=entry.note.strip(),
    )


def questions(entries: Iterable[StandingEntry]) -> Iterator[Question]:
    """Give the values nobody would expect, in the order of the log."""
    for one in entries:
        entry = one.entry
        odd = entry.mark == "unusual" or not MINUTES.contains(entry.minutes or 0.0)
        if entry.minutes is not None and odd:
            yield Question(entry.date, entry.exercise, minutes=entry.minutes)
        for result in entry.results:
            if result.mark == "unusual":
                yield Question(
                    entry.date, entry.exercise, result.set, result.rep, result.time_s, result.distance_m,
                    result.load_kg, result.reps,
                )  # fmt: skip

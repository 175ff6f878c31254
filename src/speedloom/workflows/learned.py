"""What a programme has learned since its brief was written: kept when a newer brief is read."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from collections.abc import Set as AbstractSet
from datetime import date, timedelta
from typing import TypeVar

from speedloom.science.constants import BAND_90_SD
from speedloom.training.athlete import Athlete, Restriction
from speedloom.training.brief import ResolvedBrief
from speedloom.training.calendar import Away
from speedloom.training.fields import Frozen
from speedloom.training.kit import Friction, Kit
from speedloom.workflows.resolve_brief import place_of

NEAR = 1e-3
Row = TypeVar("Row", bound=Frozen)


def with_learned(now: ResolvedBrief, was: ResolvedBrief, *, since: date) -> ResolvedBrief:
    """Give a brief that was read again with what the programme knows beside it.

    What was accepted from the log stays, as no file names it: a maximum put together from logged sets, a
    trial made of runs in training, a day that was lost; but where the file has another row in its place, the
    file has corrected it. A test that the file does not name any more was taken out. A sled's friction from
    runs in training stays where the file still says what it said before them, or nothing.

    Args:
        now: the brief as the file has it now.
        was: the brief inside the programme.
        since: first day that may change; absences before it have happened.
    """
    before = {athlete.ref: athlete for athlete in was.athletes}
    kit = {one.ref: one for one in was.kit}
    return now.model_copy(
        update={
            "athletes": tuple(_athlete(one, before.get(one.ref), since) for one in now.athletes),
            "kit": tuple(_kit(one, kit.get(one.ref)) for one in now.kit),
        }
        | _with_trials(now, was)
    )


def with_clinicians_limits(
    now: ResolvedBrief, was: ResolvedBrief, *, since: date
) -> tuple[ResolvedBrief, tuple[str, ...]]:
    """Give a brief from a file with every clinician's restriction that is in force, and the refs kept so.

    A file does not say who left a restriction out, and only a clinician lifts a clinician's: what is left out
    stays, until the file gives it a last day.

    Args:
        now: the brief as the file has it now.
        was: the brief inside the programme.
        since: first day that may change.
    """

    def left_out(athlete: Athlete, one: Restriction) -> bool:
        return one.set_as == "clinician" and one.ref not in {other.ref for other in athlete.restrictions}

    return _with_limits(now, was, since=since, keeps=left_out)


def with_documents_limits(
    now: ResolvedBrief, was: ResolvedBrief, *, since: date, known: Mapping[str, AbstractSet[Restriction]]
) -> ResolvedBrief:
    """Give a squad's brief with the limits in force that only the programme's document holds.

    Where limits are kept one by one, what was lifted is known as lifted. What nobody there knows was never
    lifted by anybody, a coach's no more than a clinician's: it stays until somebody who may lifts it.

    Args:
        now: the brief as the squad has it now.
        was: the brief inside the programme.
        since: first day that may change.
        known: every limit that the squad knows of, lifted or not, by athlete; the parts of each in order.
    """
    return _with_limits(
        now, was, since=since, keeps=lambda athlete, one: one.in_order() not in known.get(athlete.ref, ())
    )[0]


def _with_limits(
    now: ResolvedBrief, was: ResolvedBrief, *, since: date, keeps: Callable[[Athlete, Restriction], bool]
) -> tuple[ResolvedBrief, tuple[str, ...]]:
    """Keep limits of the programme's brief that are in force, and give the refs of those kept."""
    before = {athlete.ref: athlete.restrictions for athlete in was.athletes}
    kept: list[str] = []
    athletes: list[Athlete] = []
    for athlete in now.athletes:
        held = [
            one
            for one in before.get(athlete.ref, ())
            if keeps(athlete, one) and (one.until is None or one.until >= since)
        ]
        kept += [one.ref for one in held]
        joined = tuple(sorted((*athlete.restrictions, *held), key=lambda one: one.ref))
        athletes.append(athlete.model_copy(update={"restrictions": joined}) if held else athlete)
    return now.model_copy(update={"athletes": tuple(athletes)}), tuple(kept)


def _athlete(now: Athlete, was: Athlete | None, since: date) -> Athlete:
    if was is None:
        return now
    # At the end: what was planned from before still names the same rows.
    logged = (row for row in was.lifts if row.se_kg is not None)
    lifts = (*now.lifts, *_only_before(now.lifts, logged))
    gone = tuple(_before(was.away, since, now.away))
    away = tuple(sorted((*now.away, *gone), key=lambda one: one.model_dump_json())) if gone else now.away
    return now.model_copy(update={"lifts": lifts, "away": away})


def _before(spans: Iterable[Away], since: date, known: tuple[Away, ...]) -> Iterable[Away]:
    for span in spans:
        last = min(span.until or span.date, since - timedelta(days=1))
        days = [span.date + timedelta(days=more) for more in range((last - span.date).days + 1)]
        if days and not all(any(other.covers(day) for other in known) for day in days):
            yield Away(date=days[0], until=days[-1] if len(days) > 1 else None)


def _kit(now: Kit, was: Kit | None) -> Kit:
    learned = was.friction if was else None
    if learned is None or learned.value is None or learned.low is None:
        return now
    if now.friction is None:
        return now.model_copy(update={"friction": learned})
    if now.friction.value is not None and now.friction.low is not None:
        return now  # Newer runs have been accepted into it already.
    low, high = _range(now.friction)
    same = abs(low - learned.low) < NEAR and abs(high - (learned.high or 0.0)) < NEAR
    return now.model_copy(update={"friction": learned}) if same else now


def _range(friction: Friction) -> tuple[float, float]:
    if friction.low is not None and friction.high is not None:
        return friction.low, friction.high
    value, se = friction.value or 0.0, friction.se or 0.0
    return value - BAND_90_SD * se, value + BAND_90_SD * se


def _with_trials(now: ResolvedBrief, was: ResolvedBrief) -> dict[str, object]:
    """Give what of a brief changes by the trials that were made of runs in training."""
    there, athletes = now.measurements.trials, {athlete.ref for athlete in now.athletes}
    runs = (row for row in was.measurements.trials if row.ref in was.learned and row.athlete in athletes)
    added = tuple(_only_before(there, runs))
    if not added:
        return {}
    trials = tuple(sorted((*there, *added), key=place_of))
    return {
        "measurements": now.measurements.model_copy(update={"trials": trials}),
        "learned": tuple(sorted({*now.learned, *(row.ref for row in added)})),
    }


def _only_before(now: Iterable[Row], was: Iterable[Row]) -> Iterator[Row]:
    """Give the rows known before that are not there now, nor corrected by another in their place."""
    there = {_what(row) for row in now}
    return (row for row in was if _what(row) not in there)


def _what(row: Frozen) -> tuple[object, ...]:
    """Name what a row measured; a maximum put together from logged sets is no set that was lifted."""
    names = ("athlete", "date", "timing", "trial", "exercise")
    return (*(getattr(row, name, None) for name in names), getattr(row, "se_kg", None) is None)

"""What was measured: added once, struck out with a reason, never deleted."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from functools import lru_cache
from hashlib import sha256
from typing import Literal

from django.db import transaction

from speedloom.store import models
from speedloom.store._rows import note, now, squad_row
from speedloom.store.cards import Actor, MeasurementCard
from speedloom.store.permissions import require, within
from speedloom.store.refusals import NotThereError, RefusedError
from speedloom.training.document import canonical
from speedloom.training.fields import Frozen
from speedloom.training.kept import of_people
from speedloom.training.measurement import Jump, Lift, Measurements, Trace, Trial

Kind = Literal["trial", "jump", "lift", "trace"]
Row = Trial | Jump | Lift | Trace
_MODELS: Mapping[Kind, type[Row]] = {"trial": Trial, "jump": Jump, "lift": Lift, "trace": Trace}
KEPT_READ, SHORT = 4096, 4000
"""Rows kept in memory once read, none of them as long as a speed trace [count, characters]."""


class Compared(Frozen):
    """New measurements beside those stored: new, the same as one stored, or struck out before."""

    new: Measurements
    known: Measurements
    struck: Measurements
    differing: Measurements
    """New ones with the athlete, day and trial of one that is stored with other numbers."""


def compare_measurements(actor: Actor, squad: str, those: Measurements) -> Compared:
    """Say which measurements are new, before anything is saved."""
    require(actor, "see_tests", squad=squad)
    digests, places = _stored(squad, {row.date for _, row in _rows(those)})
    found: dict[str, list[tuple[Kind, Row]]] = {"new": [], "known": [], "struck": [], "differing": []}
    for kind, row in _rows(those):
        before = digests.get((_athlete(row), kind, _digest(row)))
        found["new" if before is None else before].append((kind, row))
        if before is None and _place(kind, row) in places:
            found["differing"].append((kind, row))
    return Compared(**{name: _together(rows) for name, rows in found.items()})


def _stored(squad: str, days: set[date]) -> tuple[dict[tuple[str, str, str], str], set[tuple[object, ...]]]:
    rows = models.Measurement.objects.filter(athlete__squad__key=squad, date__in=days)
    rows = rows.select_related("athlete")
    digests, places = {}, set()
    for row in rows:
        digests[row.athlete.ref, row.kind, row.digest] = "struck" if row.struck_at else "known"
        kind = _kind(row.kind)
        if not row.struck_at:
            places.add(_place(kind, _MODELS[kind].model_validate_json(row.document)))
    return digests, places


@transaction.atomic
def add_measurements(actor: Actor, squad: str, those: Measurements) -> int:
    """Add measurements of athletes of the squad; those stored before are left alone. Gives how many are new.

    Raises:
        RefusedError: an athlete is not of the squad.
    """
    rows = list(_rows(those))
    for ref in sorted({_athlete(row) for _, row in rows}):
        require(actor, "write_tests", squad=squad, athlete=ref)
    home = squad_row(actor, "write_tests", squad)
    people = {one.ref: one for one in models.Athlete.objects.filter(squad=home)}
    unknown = sorted({_athlete(row) for _, row in rows} - set(people))
    if unknown:
        raise RefusedError(f"Expected athletes of the squad, got {', '.join(unknown)}; add them first.")
    before = models.Measurement.objects.filter(athlete__squad=home).count()
    models.Measurement.objects.bulk_create(
        [_new(actor, people[_athlete(row)], kind, row) for kind, row in rows], ignore_conflicts=True
    )
    added = models.Measurement.objects.filter(athlete__squad=home).count() - before
    if added:
        note(actor, "write_tests", squad=home, detail=f"{added} new of {len(rows)}")
    return added


def _new(actor: Actor, athlete: models.Athlete, kind: Kind, row: Row) -> models.Measurement:
    return models.Measurement(
        athlete=athlete,
        kind=kind,
        date=row.date,
        document=canonical(row),
        digest=_digest(row),
        by=actor.login,
        at=now(),
    )


def measurements(actor: Actor, squad: str, *, athlete: str | None = None) -> Measurements:
    """Give what was measured and not struck out, of the athletes this person may see."""
    return stored_measurements(*_reached(actor, squad, athlete))


def measurement_rows(actor: Actor, squad: str, *, athlete: str | None = None) -> tuple[MeasurementCard, ...]:
    """List every measured row, struck out or not, newest day first."""
    home, refs = _reached(actor, squad, athlete)
    rows = models.Measurement.objects.filter(athlete__squad=home).select_related("athlete")
    if refs is not None:
        rows = rows.filter(athlete__ref__in=refs)
    return tuple(measurement_card(row) for row in rows.order_by("-date", "athlete__ref", "pk"))


def _reached(actor: Actor, squad: str, athlete: str | None) -> tuple[models.Squad, set[str] | None]:
    if athlete is not None:
        return squad_row(actor, "see_tests", squad, athlete=athlete), {athlete}
    home = models.Squad.objects.filter(key=squad).first()
    only = within(actor, "see_tests", squad=squad)
    if home is None or actor.of(squad) is None:
        raise NotThereError("There is no such squad among yours.")
    return home, None if only is None else set(only)


def stored_measurements(squad: models.Squad, refs: set[str] | None) -> Measurements:
    """Give what was measured in a squad and not struck out."""
    rows = models.Measurement.objects.filter(athlete__squad=squad, struck_at__isnull=True)
    if refs is not None:
        rows = rows.filter(athlete__ref__in=refs)
    return measurements_of(rows.order_by("date", "athlete__ref", "pk"))


def measurements_of(rows: Iterable[models.Measurement]) -> Measurements:
    """Turn rows into measurements, in their order."""
    return _together((_kind(row.kind), _read(row)) for row in rows)


@transaction.atomic
def strike_measurement(actor: Actor, squad: str, number: int, *, reason: str) -> MeasurementCard:
    """Strike a measurement out: it is shown crossed and used for nothing.

    Raises:
        RefusedError: no reason was given.
    """
    if not reason.strip():
        raise RefusedError("Expected a reason, such as 'gate 2 was knocked over'; it stands beside the row.")
    row = _one(actor, squad, number)
    if row.struck_at is None:
        row.struck_by, row.struck_at, row.struck_reason = actor.login, now(), reason.strip()
        row.save(update_fields=["struck_by", "struck_at", "struck_reason"])
        note(actor, "strike_test", squad=row.athlete.squad, about=row.athlete.ref, detail=reason.strip())
    return measurement_card(row)


@transaction.atomic
def bring_back_measurement(actor: Actor, squad: str, number: int) -> MeasurementCard:
    """Take back that a measurement was struck out; who struck it and why stays in the record of deeds."""
    row = _one(actor, squad, number)
    if row.struck_at is not None:
        detail = f"brought back; struck out before: {row.struck_reason}"
        row.struck_by, row.struck_at, row.struck_reason = "", None, ""
        row.save(update_fields=["struck_by", "struck_at", "struck_reason"])
        note(actor, "strike_test", squad=row.athlete.squad, about=row.athlete.ref, detail=detail)
    return measurement_card(row)


def _one(actor: Actor, squad: str, number: int) -> models.Measurement:
    rows = models.Measurement.objects.select_related("athlete__squad")
    row = rows.filter(pk=number, athlete__squad__key=squad).first()
    if row is None or actor.of(squad) is None:
        raise NotThereError("There is no such measurement in this squad.")
    require(actor, "strike_test", squad=squad, athlete=row.athlete.ref)
    return row


def _rows(those: Measurements) -> Iterator[tuple[Kind, Row]]:
    yield from (("trial", row) for row in those.trials)
    yield from (("jump", row) for row in those.jumps)
    yield from (("lift", row) for row in those.lifts)
    yield from (("trace", row) for row in those.traces)


def _together(rows: Iterable[tuple[Kind, Row]]) -> Measurements:
    those = [row for _, row in rows]
    return Measurements(
        trials=tuple(row for row in those if isinstance(row, Trial)),
        jumps=tuple(row for row in those if isinstance(row, Jump)),
        lifts=tuple(row for row in those if isinstance(row, Lift)),
        traces=tuple(row for row in those if isinstance(row, Trace)),
    )


def _athlete(row: Row) -> str:
    return row.athlete or ""


def _place(kind: Kind, row: Row) -> tuple[object, ...]:
    """Say what can be measured once only: an athlete's trial of a day by a method, or a lift of a day."""
    if isinstance(row, Lift):
        return (kind, row.athlete, row.date, row.exercise, row.load_kg)
    timing = row.timing if isinstance(row, Trial | Trace) else None
    sled = row.sled_kg if isinstance(row, Trial) else None
    return (kind, row.athlete, row.date, row.trial, timing, sled)


def _digest(row: Row) -> str:
    return f"sha256:{sha256(canonical(row).encode()).hexdigest()}"


def _kind(name: str) -> Kind:
    return next(kind for kind in _MODELS if kind == name)


def _read(row: models.Measurement) -> Row:
    kind, text = _kind(row.kind), row.document
    return _document(kind, text) if len(text) <= SHORT else _MODELS[kind].model_validate_json(text)


@of_people
@lru_cache(maxsize=KEPT_READ)
def _document(kind: Kind, text: str) -> Row:
    return _MODELS[kind].model_validate_json(text)


def measurement_card(row: models.Measurement) -> MeasurementCard:
    """Turn a row into its card."""
    return MeasurementCard(
        id=row.pk,
        athlete=row.athlete.ref,
        kind=_kind(row.kind),
        document=json.loads(row.document),
        by=row.by,
        at=row.at,
        struck_by=row.struck_by or None,
        struck_at=row.struck_at,
        struck_reason=row.struck_reason or None,
    )

"""What was tested lately: each athlete's newest day, the days of a squad, and the rows of one day."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from django.db.models import Count, Max, OuterRef, Q, QuerySet, Subquery

from speedloom.store import models
from speedloom.store.cards import Actor, MeasurementCard
from speedloom.store.measurements import measurement_card, measurements_of
from speedloom.store.permissions import within
from speedloom.store.refusals import NotThereError
from speedloom.training.fields import Frozen
from speedloom.training.measurement import Measurements


class MeasuredDay(Frozen):
    """A day on which something was measured, and how much of it still counts."""

    day: date
    rows: int


def newest_tests(actor: Actor, squad: str) -> Measurements:
    """Give of each athlete's trials, jumps, lifts and traces those of the newest day."""
    rows = _rows(actor, squad).filter(struck_at__isnull=True, athlete__archived_at__isnull=True)
    latest = (
        models.Measurement.objects.filter(
            athlete=OuterRef("athlete"), kind=OuterRef("kind"), struck_at__isnull=True
        )
        .order_by("-date")
        .values("date")[:1]
    )
    return measurements_of(rows.filter(date=Subquery(latest)).order_by("date", "athlete__ref", "pk"))


def last_tested(actor: Actor, squad: str) -> Mapping[str, date | None]:
    """Give the day on which each athlete was tested last, or None for one who never was."""
    if actor.of(squad) is None:
        raise NotThereError("There is no such squad among yours.")
    rows = models.Athlete.objects.filter(squad__key=squad, archived_at__isnull=True)
    only = within(actor, "see_tests", squad=squad)
    if only is not None:
        rows = rows.filter(ref__in=only)
    counts = Q(measurements__struck_at__isnull=True)
    return dict(rows.annotate(last=Max("measurements__date", filter=counts)).values_list("ref", "last"))


def measured_days(actor: Actor, squad: str) -> tuple[MeasuredDay, ...]:
    """List the days on which something was measured, newest first."""
    days = _rows(actor, squad).values("date").annotate(rows=Count("pk")).order_by("-date")
    return tuple(MeasuredDay(day=one["date"], rows=one["rows"]) for one in days)


def measured_on(actor: Actor, squad: str, day: date) -> tuple[MeasurementCard, ...]:
    """List a day's rows, struck out or not, by athlete."""
    rows = _rows(actor, squad).filter(date=day).select_related("athlete")
    return tuple(measurement_card(row) for row in rows.order_by("athlete__name", "athlete__ref", "pk"))


def _rows(actor: Actor, squad: str) -> QuerySet[models.Measurement]:
    if actor.of(squad) is None:
        raise NotThereError("There is no such squad among yours.")
    rows = models.Measurement.objects.filter(athlete__squad__key=squad)
    only = within(actor, "see_tests", squad=squad)
    return rows if only is None else rows.filter(athlete__ref__in=only)

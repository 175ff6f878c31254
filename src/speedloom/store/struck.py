"""Tests that were struck out, as what planning again must not rest on."""

from __future__ import annotations

from speedloom.store import models
from speedloom.store._rows import squad_row
from speedloom.store.cards import Actor
from speedloom.store.measurements import measurements_of
from speedloom.training.measurement import Measurements


def struck_measurements(actor: Actor, squad: str) -> Measurements:
    """Give what was struck out of a squad's tests, to whoever plans."""
    home = squad_row(actor, "make_programme", squad)
    rows = models.Measurement.objects.filter(athlete__squad=home, struck_at__isnull=False)
    return measurements_of(rows.order_by("date", "athlete__ref", "pk"))

"""What was measured, row by row: struck out with a reason, never deleted."""

from __future__ import annotations

from django.db import models

from speedloom.store.models.lasting import Written
from speedloom.store.models.squads import Athlete

KINDS = ("trial", "jump", "lift", "trace")


class Measurement(Written):
    """One trial, jump, lift or speed trace, as training's document."""

    athlete = models.ForeignKey(Athlete, on_delete=models.CASCADE, related_name="measurements")
    kind = models.CharField(max_length=5, choices=[(kind, kind) for kind in KINDS])
    date = models.DateField()
    document = models.TextField()
    digest = models.CharField(max_length=71)
    by = models.CharField(max_length=150)
    at = models.DateTimeField()
    struck_by = models.CharField(max_length=150, default="")
    struck_at = models.DateTimeField(null=True, blank=True)
    struck_reason = models.TextField(default="")

    class Meta:
        constraints = (
            models.UniqueConstraint(fields=["athlete", "kind", "digest"], name="measured_once"),
            models.CheckConstraint(
                condition=models.Q(struck_at__isnull=True) | ~models.Q(struck_reason=""),
                name="struck_with_a_reason",
            ),
        )
        indexes = (models.Index(fields=["athlete", "kind", "date"], name="measured_when"),)

    def __str__(self) -> str:
        return f"{self.kind} {self.date}"

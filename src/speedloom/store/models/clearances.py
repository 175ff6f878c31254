"""Written clearances that somebody has seen, after an injury, a concussion or an illness."""

from __future__ import annotations

from django.db import models

from speedloom.store.models.lasting import Lasting
from speedloom.store.models.squads import Athlete

AFTER = ("injury", "concussion", "illness", "other")


class Clearance(Lasting):
    """One clearance; taken back it is hidden, by another row that names it. What was wrong is not kept."""

    athlete = models.ForeignKey(Athlete, on_delete=models.CASCADE, related_name="clearances")
    after = models.CharField(max_length=10, choices=[(after, after) for after in AFTER])
    written_by = models.CharField(max_length=150)
    written_on = models.DateField()
    seen_by = models.CharField(max_length=150)
    by = models.CharField(max_length=150)
    at = models.DateTimeField()
    takes_back = models.ForeignKey("self", on_delete=models.CASCADE, null=True, related_name="taken_back_by")

    def __str__(self) -> str:
        return f"{self.after} {self.written_on}"

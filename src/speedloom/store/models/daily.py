"""What is said of an athlete day by day: their own answers, and notes of those who work with them."""

from __future__ import annotations

from django.db import models

from speedloom.store.models.lasting import Lasting
from speedloom.store.models.squads import Athlete


class Wellness(Lasting):
    """An athlete's answers of one day; a later row of the same day holds instead."""

    athlete = models.ForeignKey(Athlete, on_delete=models.CASCADE, related_name="wellness")
    date = models.DateField()
    document = models.TextField()
    by = models.CharField(max_length=150)
    at = models.DateTimeField()

    class Meta:
        indexes = (models.Index(fields=["athlete", "date"], name="wellness_when"),)

    def __str__(self) -> str:
        return f"{self.date}"


class Note(Lasting):
    """A note about an athlete; taken back it is hidden, by another row that names it."""

    athlete = models.ForeignKey(Athlete, on_delete=models.CASCADE, related_name="notes")
    text = models.TextField()
    by = models.CharField(max_length=150)
    at = models.DateTimeField()
    takes_back = models.ForeignKey("self", on_delete=models.CASCADE, null=True, related_name="taken_back_by")

    def __str__(self) -> str:
        return f"{self.at}"

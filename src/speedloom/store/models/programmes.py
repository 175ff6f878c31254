"""Programmes as immutable revisions, and the log that is only appended to."""

from __future__ import annotations

from django.db import models

from speedloom.store.models.lasting import Lasting, Written
from speedloom.store.models.squads import Squad


class Programme(Written):
    """A line of revisions under one id."""

    squad = models.ForeignKey(Squad, on_delete=models.CASCADE, related_name="programmes")
    ref = models.CharField(max_length=12)
    name = models.CharField(max_length=150)
    made_by = models.CharField(max_length=150)
    made_at = models.DateTimeField()
    archived_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        constraints = (models.UniqueConstraint(fields=["squad", "ref"], name="programme_once"),)

    def __str__(self) -> str:
        return self.ref


class ProgrammeRevision(Lasting):
    """One saved state of a programme: its canonical text, packed."""

    programme = models.ForeignKey(Programme, on_delete=models.CASCADE, related_name="revisions")
    number = models.PositiveIntegerField()
    digest = models.CharField(max_length=71)
    parent = models.CharField(max_length=71, default="")
    cause = models.CharField(max_length=10)
    reason = models.TextField(default="")
    athletes = models.TextField()
    """The refs of the athletes in it, each between spaces: who asks for their own finds it unread."""
    document = models.BinaryField()
    by = models.CharField(max_length=150)
    at = models.DateTimeField()

    class Meta:
        constraints = (
            models.UniqueConstraint(fields=["programme", "number"], name="revision_number_once"),
            models.UniqueConstraint(fields=["programme", "digest"], name="revision_once"),
        )

    def __str__(self) -> str:
        return f"revision {self.number}"


class LogEntry(Lasting):
    """What one person wrote about one line or session; the id was made where it was typed."""

    programme = models.ForeignKey(Programme, on_delete=models.CASCADE, related_name="log")
    entry = models.CharField(max_length=36)
    athlete = models.CharField(max_length=40)
    session = models.CharField(max_length=40, default="")
    date = models.DateField()
    document = models.TextField()
    by = models.CharField(max_length=150)
    received_at = models.DateTimeField()

    class Meta:
        constraints = (models.UniqueConstraint(fields=["programme", "entry"], name="entry_once"),)
        indexes = (models.Index(fields=["programme", "athlete", "date"], name="log_when"),)

    def __str__(self) -> str:
        return self.entry

"""Squads, their athletes and restrictions, the brief's revisions, and who did what."""

from __future__ import annotations

from django.db import models

from speedloom.store.cards import ROLES
from speedloom.store.models.lasting import Lasting, Written
from speedloom.store.models.people import Person


class Squad(Written):
    """A squad; its key stands in addresses and tells nothing."""

    key = models.CharField(max_length=16, unique=True)
    name = models.CharField(max_length=150)
    made_at = models.DateTimeField(auto_now_add=True)

    def __str__(self) -> str:
        return self.name


class Athlete(Written):
    """An athlete: training's document, without restrictions and screening."""

    squad = models.ForeignKey(Squad, on_delete=models.CASCADE, related_name="athletes")
    ref = models.CharField(max_length=40)
    name = models.CharField(max_length=150)
    document = models.TextField()
    screening = models.TextField(default="")
    archived_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        constraints = (models.UniqueConstraint(fields=["squad", "ref"], name="athlete_ref_once"),)

    def __str__(self) -> str:
        return self.ref


class Restriction(Written):
    """A restriction with its history; lifting it adds, and changes nothing else.

    `came_with` names the programme whose document held it before the store did.
    """

    athlete = models.ForeignKey(Athlete, on_delete=models.CASCADE, related_name="restrictions")
    ref = models.CharField(max_length=40)
    document = models.TextField()
    set_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, related_name="+")
    set_in = models.CharField(max_length=10, choices=[(role, role) for role in ROLES])
    set_at = models.DateTimeField()
    came_with = models.CharField(max_length=150, default="")
    lifted_by = models.CharField(max_length=150, default="")
    lifted_at = models.DateTimeField(null=True, blank=True)
    lifted_reason = models.TextField(default="")

    class Meta:
        constraints = (models.UniqueConstraint(fields=["athlete", "ref"], name="restriction_ref_once"),)

    def __str__(self) -> str:
        return self.ref


class BriefRevision(Lasting):
    """One saved state of a squad's brief, without its athletes."""

    squad = models.ForeignKey(Squad, on_delete=models.CASCADE, related_name="briefs")
    number = models.PositiveIntegerField()
    document = models.TextField()
    by = models.CharField(max_length=150)
    at = models.DateTimeField()
    reason = models.TextField(default="")

    class Meta:
        constraints = (models.UniqueConstraint(fields=["squad", "number"], name="brief_number_once"),)

    def __str__(self) -> str:
        return f"brief {self.number}"


class Audit(Lasting):
    """Who did what, when."""

    squad = models.ForeignKey(Squad, on_delete=models.CASCADE, null=True, related_name="audit")
    at = models.DateTimeField(db_index=True)
    by = models.CharField(max_length=150)
    action = models.CharField(max_length=40)
    about = models.CharField(max_length=150, default="")
    detail = models.TextField(default="")

    def __str__(self) -> str:
        return f"{self.by}: {self.action} {self.about}"

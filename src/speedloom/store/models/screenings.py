"""What was asked before hard work, each time with the role of who wrote the answers down."""

from __future__ import annotations

from django.db import models

from speedloom.store.cards import ROLES
from speedloom.store.models.lasting import Lasting
from speedloom.store.models.squads import Athlete


class Asked(Lasting):
    """One time somebody was asked; the athlete's row holds the newest answers for planning."""

    athlete = models.ForeignKey(Athlete, on_delete=models.CASCADE, related_name="asked")
    document = models.TextField()
    role = models.CharField(max_length=10, choices=[(role, role) for role in ROLES])
    name = models.CharField(max_length=150)
    by = models.CharField(max_length=150)
    at = models.DateTimeField()

    def __str__(self) -> str:
        return f"{self.role} {self.at}"

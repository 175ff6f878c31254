"""Accounts, and their roles in squads."""

from __future__ import annotations

from django.contrib.auth.base_user import AbstractBaseUser
from django.db import models

from speedloom.store.cards import ROLES
from speedloom.store.models.lasting import Written


class Person(Written, AbstractBaseUser):
    """An account; the keeper looks after the site."""

    login = models.CharField(max_length=150, unique=True)
    name = models.CharField(max_length=150)
    keeper = models.BooleanField(default=False)
    is_active = models.BooleanField(default=True)
    joined_at = models.DateTimeField(auto_now_add=True)
    mass_unit = models.CharField(max_length=2, default="kg", choices=[("kg", "kg"), ("lb", "lb")])
    length_unit = models.CharField(max_length=2, default="m", choices=[("m", "m"), ("yd", "yd")])

    objects: models.Manager[Person] = models.Manager()

    USERNAME_FIELD = "login"

    def __str__(self) -> str:
        return self.login


class Membership(models.Model):
    """One person's role in one squad."""

    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="memberships")
    squad = models.ForeignKey("store.Squad", on_delete=models.CASCADE, related_name="memberships")
    role = models.CharField(max_length=10, choices=[(role, role) for role in ROLES])
    athlete = models.ForeignKey(
        "store.Athlete", on_delete=models.SET_NULL, null=True, blank=True, related_name="accounts"
    )
    only = models.ManyToManyField("store.Athlete", blank=True, related_name="limited_to")
    since = models.DateTimeField(auto_now_add=True)

    class Meta:
        constraints = (
            models.UniqueConstraint(fields=["person", "squad"], name="one_role_a_squad"),
            models.CheckConstraint(
                condition=models.Q(athlete__isnull=True) | models.Q(role="athlete"), name="athletes_only"
            ),
        )

    def __str__(self) -> str:
        return f"{self.person_id} {self.role} of {self.squad_id}"

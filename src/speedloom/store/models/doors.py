"""Ways in: invitations, one-time sign-in, links without sign-in, API tokens; only hashes are kept."""

from __future__ import annotations

from django.db import models

from speedloom.store.cards import ROLES
from speedloom.store.models.lasting import Written
from speedloom.store.models.people import Person
from speedloom.store.models.programmes import Programme
from speedloom.store.models.squads import Athlete, Squad


class Invitation(models.Model):
    """A link that makes somebody a member of a squad, once."""

    squad = models.ForeignKey(Squad, on_delete=models.CASCADE, related_name="invitations")
    role = models.CharField(max_length=10, choices=[(role, role) for role in ROLES])
    athlete = models.ForeignKey(Athlete, on_delete=models.CASCADE, null=True, related_name="+")
    only = models.ManyToManyField(Athlete, blank=True, related_name="+")
    for_name = models.CharField(max_length=150, default="")
    secret = models.CharField(max_length=64, unique=True)
    made_by = models.CharField(max_length=150)
    made_at = models.DateTimeField()
    expires_at = models.DateTimeField()
    used_at = models.DateTimeField(null=True)
    used_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, related_name="+")
    revoked_at = models.DateTimeField(null=True)

    def __str__(self) -> str:
        return f"{self.role} of {self.squad_id}"


class OneTimeSignIn(models.Model):
    """A link that signs one person in, once, soon."""

    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="+")
    secret = models.CharField(max_length=64, unique=True)
    expires_at = models.DateTimeField()
    used_at = models.DateTimeField(null=True)

    def __str__(self) -> str:
        return f"for {self.person_id}"


class ShareLink(models.Model):
    """A calendar feed or one athlete's sheet, read by whoever has the link, until it is taken back.

    It lives as long as its maker may share what it shows.
    """

    kind = models.CharField(max_length=5, choices=[("feed", "feed"), ("sheet", "sheet")])
    programme = models.ForeignKey(Programme, on_delete=models.CASCADE, related_name="links")
    athlete = models.ForeignKey(Athlete, on_delete=models.CASCADE, null=True, related_name="+")
    secret = models.CharField(max_length=64, unique=True)
    maker = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, related_name="links")
    made_by = models.CharField(max_length=150)
    made_at = models.DateTimeField()
    revoked_at = models.DateTimeField(null=True)

    def __str__(self) -> str:
        return f"{self.kind} of {self.programme_id}"


class ApiToken(Written):
    """A person's key to the API, with that person's permissions."""

    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="tokens")
    title = models.CharField(max_length=150)
    secret = models.CharField(max_length=64, unique=True)
    made_at = models.DateTimeField()
    last_used = models.DateTimeField(null=True)
    revoked_at = models.DateTimeField(null=True)

    def __str__(self) -> str:
        return self.title


class SignInFailure(models.Model):
    """A try to sign in that failed, by whom or from where; forgotten after an hour."""

    key = models.CharField(max_length=64, db_index=True)
    at = models.DateTimeField(db_index=True)

    def __str__(self) -> str:
        return f"{self.at}"

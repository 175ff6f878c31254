"""The accounts of somebody who is erased: they end too, unless they are used for something else."""

from __future__ import annotations

from collections.abc import Iterable

from django.db.models import Q

from speedloom.store import models
from speedloom.store.erased_words import INSTEAD


def accounts_of(athletes: Iterable[models.Athlete]) -> tuple[models.Person, ...]:
    """Give the accounts that athletes sign in with."""
    rows = models.Membership.objects.filter(athlete__in=list(athletes)).select_related("person")
    return tuple({row.person_id: row.person for row in rows}.values())


def end_accounts(people: Iterable[models.Person], *, squad: models.Squad | None) -> None:
    """Erase accounts that have no role left; of the others only the name goes out of the squad's deeds.

    Sessions, keys and one-time links go with an account. Whoever looks after the site stays.
    """
    for person in people:
        used = person.keeper or models.Membership.objects.filter(person=person).exists()
        deeds = models.Audit.objects.filter(Q(squad=squad) if used else Q())
        deeds.filter(by=person.login).rewrite(by=INSTEAD)
        deeds.filter(about=person.login).rewrite(about=INSTEAD)
        if not used:
            person.delete()

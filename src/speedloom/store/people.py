"""Accounts, and who is what in a squad."""

from __future__ import annotations

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction
from django.db.models import Count, Q, QuerySet

from speedloom.store import models
from speedloom.store._rows import note, now, squad_row
from speedloom.store.cards import Actor, LengthUnit, MassUnit, MemberCard, Membership, Role
from speedloom.store.permissions import allowed
from speedloom.store.refusals import NotThereError, RefusedError


def actor_of(row: models.Person) -> Actor:
    """Turn an account into the person who acts, with every membership."""
    memberships = (
        models.Membership.objects.filter(person=row)
        .select_related("squad", "athlete")
        .prefetch_related("only")
        .order_by("squad__name", "squad__key")
    )
    return Actor(
        person=row.pk,
        login=row.login,
        name=row.name,
        keeper=row.keeper,
        mass_unit=_mass(row.mass_unit),
        length_unit="yd" if row.length_unit == "yd" else "m",
        memberships=tuple(
            Membership.model_validate(
                {
                    "squad": one.squad.key,
                    "role": one.role,
                    "athlete": one.athlete.ref if one.athlete else None,
                    "only": tuple(sorted(each.ref for each in one.only.all())),
                }
            )
            for one in memberships
        ),
    )


def _mass(unit: str) -> MassUnit:
    return "lb" if unit == "lb" else "kg"


def find(login: str) -> Actor | None:
    """Give the person with a login, for the command line, which acts for whoever owns the data folder."""
    row = models.Person.objects.filter(login=plain(login), is_active=True).first()
    return actor_of(row) if row else None


def again(actor: Actor) -> Actor:
    """Read a person anew, after a membership was added.

    Raises:
        NotThereError: the account was closed meanwhile.
    """
    row = models.Person.objects.filter(pk=actor.person, is_active=True).first()
    if row is None:
        raise NotThereError("This account was closed.")
    return actor_of(row)


def keeper() -> Actor | None:
    """Give the first person who looks after the site, or None on a new one."""
    row = models.Person.objects.filter(keeper=True, is_active=True).order_by("pk").first()
    return actor_of(row) if row else None


def plain(login: str) -> str:
    """Spell a login the one way it is stored."""
    return login.strip().casefold()


def make_person(*, login: str, name: str, password: str | None = None, keeper: bool = False) -> Actor:
    """Make an account; without a password it is entered by one-time links only.

    Raises:
        RefusedError: the login is taken or empty, or the password is too easy.
    """
    row = models.Person(login=plain(login), name=name.strip() or login.strip(), keeper=keeper)
    if not row.login or any(sign.isspace() for sign in row.login):
        raise RefusedError("Expected a name to sign in with, without spaces, such as an e-mail address.")
    _set_password(row, password)
    try:
        with transaction.atomic():
            row.save()
    except IntegrityError as error:
        raise RefusedError(f"{row.login} has an account already; sign in, or choose another name.") from error
    return actor_of(row)


def _set_password(row: models.Person, password: str | None) -> None:
    if password is None:
        row.set_unusable_password()
        return
    try:
        validate_password(password, user=row)
    except ValidationError as error:
        raise RefusedError(" ".join(error.messages)) from error
    row.set_password(password)


def set_password(actor: Actor, password: str) -> None:
    """Give the person a new password; every other session of theirs ends.

    Raises:
        RefusedError: the password is too easy.
    """
    row = models.Person.objects.get(pk=actor.person)
    _set_password(row, password)
    row.save(update_fields=["password"])


def has_password(actor: Actor) -> bool:
    """Say whether a person can sign in by password."""
    return models.Person.objects.get(pk=actor.person).has_usable_password()


def set_name(actor: Actor, name: str) -> None:
    """Choose what a person is called; the name to sign in with stays.

    Raises:
        RefusedError: the name is empty.
    """
    said = " ".join(name.split())
    if not said:
        raise RefusedError("Expected a name, got nothing.")
    models.Person.objects.filter(pk=actor.person).update(name=said)


def set_units(actor: Actor, *, mass: MassUnit, length: LengthUnit) -> None:
    """Choose the units of a person's screens and paper."""
    models.Person.objects.filter(pk=actor.person).update(mass_unit=mass, length_unit=length)


def members(actor: Actor, squad: str) -> tuple[MemberCard, ...]:
    """List everybody of a squad."""
    row = squad_row(actor, "see_people", squad)
    rows = (
        models.Membership.objects.filter(squad=row)
        .select_related("person", "athlete")
        .prefetch_related("only")
        .annotate(
            open_links=Count(
                "person__links",
                filter=Q(person__links__programme__squad=row, person__links__revoked_at__isnull=True),
            )
        )
        .order_by("person__name", "pk")
    )
    return tuple(
        MemberCard.model_validate(
            {
                "person": one.person.pk,
                "name": one.person.name,
                "login": one.person.login,
                "role": one.role,
                "athlete": one.athlete.ref if one.athlete else None,
                "only": tuple(sorted(each.ref for each in one.only.all())),
                "since": one.since,
                "links": one.open_links,
            }
        )
        for one in rows
    )


@transaction.atomic
def change_member(
    actor: Actor,
    squad: str,
    person: int,
    *,
    role: Role,
    athlete: str | None = None,
    only: tuple[str, ...] = (),
) -> None:
    """Change somebody's role in a squad; links of theirs end that they may not share any more.

    Raises:
        RefusedError: the squad would be without an owner, or the parts do not fit each other.
    """
    row = squad_row(actor, "manage_people", squad)
    one = _member(row, person)
    if one.role == "owner" and role != "owner":
        _another_owner(row, person)
    one.role = role
    one.athlete = his_athlete(row, role=role, athlete=athlete)
    one.save()
    one.only.set(those_athletes(row, only=only))
    ended = end_links(open_links().filter(programme__squad=row, maker_id=person))
    said = f"role {role}{_stopped(ended)}"
    note(actor, "manage_people", squad=row, about=one.person.login, detail=said)


@transaction.atomic
def remove_member(actor: Actor, squad: str, person: int) -> None:
    """Take somebody out of a squad; what they wrote stays, and the links they made end.

    Raises:
        RefusedError: the squad would be without an owner.
    """
    row = squad_row(actor, "manage_people", squad)
    one = _member(row, person)
    if one.role == "owner":
        _another_owner(row, person)
    one.delete()
    ended = end_links(open_links().filter(programme__squad=row, maker_id=person))
    note(actor, "manage_people", squad=row, about=one.person.login, detail=f"removed{_stopped(ended)}")


def _stopped(ended: int) -> str:
    return f"; links ended: {ended}" if ended else ""


def open_links() -> QuerySet[models.ShareLink]:
    """Give the links that were not taken back."""
    return models.ShareLink.objects.filter(revoked_at__isnull=True)


def may_share(link: models.ShareLink) -> bool:
    """Say whether whoever made a link may still share what it shows."""
    if link.maker is None or not link.maker.is_active:
        return False
    about = link.athlete.ref if link.athlete else None
    return allowed(actor_of(link.maker), "share_link", squad=link.programme.squad.key, athlete=about)


def end_links(links: QuerySet[models.ShareLink]) -> int:
    """Take those links back, for good, whose maker may not share them any more; give how many."""
    rows = links.select_related("programme__squad", "athlete", "maker")
    over = [link.pk for link in rows if not may_share(link)]
    return models.ShareLink.objects.filter(pk__in=over).update(revoked_at=now())


def his_athlete(squad: models.Squad, *, role: Role, athlete: str | None) -> models.Athlete | None:
    """Find the athlete that an athlete's account is; every other role has none.

    Raises:
        RefusedError: an athlete's role without an athlete, or the reverse.
    """
    if (role == "athlete") != (athlete is not None):
        raise RefusedError("Expected an athlete of the squad for the role athlete, and none for the others.")
    return those_athletes(squad, only=(athlete,))[0] if athlete else None


def those_athletes(squad: models.Squad, *, only: tuple[str, ...]) -> list[models.Athlete]:
    """Find athletes by their refs.

    Raises:
        RefusedError: one is not of the squad.
    """
    found = {row.ref: row for row in models.Athlete.objects.filter(squad=squad, ref__in=only)}
    missing = [ref for ref in only if ref not in found]
    if missing:
        raise RefusedError(f"Expected athletes of the squad, got {', '.join(missing)}.")
    return [found[ref] for ref in only]


def _member(squad: models.Squad, person: int) -> models.Membership:
    row = models.Membership.objects.select_related("person").filter(squad=squad, person_id=person).first()
    if row is None:
        raise NotThereError("This person is not of the squad.")
    return row


def _another_owner(squad: models.Squad, person: int) -> None:
    if not models.Membership.objects.filter(squad=squad, role="owner").exclude(person_id=person).exists():
        raise RefusedError("A squad keeps at least one owner; make somebody else owner first.")

"""Athletes of a squad: documents in, documents out; health stands apart."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from hashlib import sha256

from django.db import IntegrityError, transaction

from speedloom.store import models
from speedloom.store._rows import athlete_row, note, now, squad_row
from speedloom.store.adopted_limits import adopt_for
from speedloom.store.cards import Actor, AthleteCard
from speedloom.store.permissions import allowed, within
from speedloom.store.refusals import ConflictError, NotThereError, RefusedError
from speedloom.store.screenings import keep_answers
from speedloom.training.athlete import Athlete, Restriction, Screening
from speedloom.training.document import canonical

_HEALTH: dict[str, object] = {"restrictions": (), "screening": None}


def athletes(actor: Actor, squad: str, *, archived: bool = False) -> tuple[AthleteCard, ...]:
    """List the athletes a person may see, by name; an athlete's own account sees itself only.

    Raises:
        NotThereError: not a squad of the person's.
    """
    if actor.of(squad) is None:
        raise NotThereError("There is no such squad among yours; was the link sent to another account?")
    rows = models.Athlete.objects.filter(squad__key=squad, archived_at__isnull=not archived)
    only = within(actor, "see_athlete", squad=squad)
    if only is not None:
        rows = rows.filter(ref__in=only)
    return tuple(_card(row, squad) for row in rows.order_by("name", "ref"))


def athlete_names(actor: Actor, squad: str) -> dict[str, str]:
    """Give the names of the athletes a person may see, by their refs, without reading their documents."""
    if actor.of(squad) is None:
        raise NotThereError("There is no such squad among yours; was the link sent to another account?")
    rows = models.Athlete.objects.filter(squad__key=squad, archived_at__isnull=True)
    only = within(actor, "see_athlete", squad=squad)
    if only is not None:
        rows = rows.filter(ref__in=only)
    return dict(rows.values_list("ref", "name"))


def athlete(actor: Actor, squad: str, ref: str) -> AthleteCard:
    """Give one athlete.

    Raises:
        NotThereError: no such athlete among those the person may see.
        NotAllowedError: the role does not reach this athlete.
    """
    return _card(athlete_row(actor, "see_athlete", squad, ref), squad)


@transaction.atomic
def add_athlete(actor: Actor, squad: str, new: Athlete) -> AthleteCard:
    """Add an athlete to a squad.

    Raises:
        RefusedError: the ref is taken, or two restrictions have one name.
    """
    row = squad_row(actor, "change_athlete", squad)
    twice = sorted(ref for ref, times in Counter(one.ref for one in new.restrictions).items() if times > 1)
    if twice:
        raise RefusedError(f"Expected restrictions with a name each, got {', '.join(twice)} more than once.")
    one = models.Athlete(squad=row, ref=new.ref, name=new.title, document=_bare(new), screening=_asked(new))
    try:
        with transaction.atomic():
            one.save()
    except IntegrityError as error:
        raise RefusedError(
            f"The squad has an athlete {new.ref} already; choose another short name."
        ) from error
    _import_restrictions(actor, squad, one, new.restrictions)
    adopt_for(actor, one)
    note(actor, "change_athlete", squad=row, about=new.ref, detail="added")
    return _card(one, squad)


def _import_restrictions(actor: Actor, squad: str, row: models.Athlete, those: Iterable[Restriction]) -> None:
    # A file says who set it in words; the account that reads it in is kept beside, and only a clinician
    # may lift a clinician's.
    membership = actor.of(squad)
    for one in those:
        models.Restriction(
            athlete=row,
            ref=one.ref,
            document=canonical(one),
            set_by_id=actor.person,
            set_in=membership.role if membership else "coach",
            set_at=now(),
        ).save()


@transaction.atomic
def change_athlete(actor: Actor, squad: str, changed: Athlete, *, after: str | None = None) -> AthleteCard:
    """Change what is known of an athlete; restrictions and screening are not touched by this.

    Raises:
        ConflictError: what is changed is not the version `after`, or somebody saved at the same moment.
    """
    row = athlete_row(actor, "change_athlete", squad, changed.ref)
    before = row.document
    row.name, row.document = changed.title, _bare(changed)
    row.refuse_nul()
    same = models.Athlete.objects.filter(pk=row.pk, document=before)
    if after not in (None, _version(before)) or not same.update(name=row.name, document=row.document):
        raise ConflictError(
            f"Somebody changed what is known of {row.name} meanwhile. "
            "Look at the new state and make your change again."
        )
    note(actor, "change_athlete", squad=row.squad, about=changed.ref)
    return _card(row, squad)


@transaction.atomic
def archive_athlete(actor: Actor, squad: str, ref: str, *, back: bool = False) -> None:
    """Take an athlete out of planning, or bring them back; nothing is lost."""
    row = athlete_row(actor, "change_athlete", squad, ref)
    row.archived_at = None if back else now()
    row.save(update_fields=["archived_at"])
    note(actor, "change_athlete", squad=row.squad, about=ref, detail="back" if back else "archived")


def screening(actor: Actor, squad: str, ref: str) -> Screening | None:
    """Give what was asked last before hard work, or None."""
    row = athlete_row(actor, "see_health", squad, ref)
    return Screening.model_validate_json(row.screening) if row.screening else None


@transaction.atomic
def record_screening(actor: Actor, squad: str, ref: str, asked: Screening) -> None:
    """Keep what was asked before hard work, with the clearance.

    Raises:
        RefusedError: it would clear somebody whom a clinician has not cleared, and no clinician says so.
    """
    row = athlete_row(actor, "record_clearance", squad, ref)
    keep_answers(actor, row, asked)
    row.save(update_fields=["screening"])
    said = "cleared" if asked.cleared else "not cleared"
    membership = actor.of(squad)
    role = membership.role if membership else "nobody"
    note(actor, "record_clearance", squad=row.squad, about=ref, detail=f"hard work {said}, as {role}")


def full_athletes(squad: models.Squad) -> tuple[Athlete, ...]:
    """Give every active athlete with screening and the restrictions that were not lifted; for planning."""
    rows = models.Athlete.objects.filter(squad=squad, archived_at__isnull=True).order_by("ref")
    return tuple(_whole(row) for row in rows.prefetch_related("restrictions"))


def _whole(row: models.Athlete) -> Athlete:
    in_force = sorted(
        (one for one in row.restrictions.all() if one.lifted_at is None), key=lambda one: one.ref
    )
    return Athlete.model_validate_json(row.document).model_copy(
        update={
            "restrictions": tuple(Restriction.model_validate_json(one.document) for one in in_force),
            "screening": Screening.model_validate_json(row.screening) if row.screening else None,
        }
    )


def may_see_health(actor: Actor, squad: str, ref: str) -> bool:
    """Say whether restrictions and screening are for this person's eyes."""
    return allowed(actor, "see_health", squad=squad, athlete=ref)


def _bare(one: Athlete) -> str:
    return canonical(one.model_copy(update=_HEALTH))


def _asked(one: Athlete) -> str:
    return canonical(one.screening) if one.screening else ""


def _card(row: models.Athlete, squad: str) -> AthleteCard:
    return AthleteCard(
        squad=squad,
        ref=row.ref,
        name=row.name,
        athlete=Athlete.model_validate_json(row.document),
        archived=row.archived_at is not None,
        version=_version(row.document),
    )


def _version(document: str) -> str:
    return sha256(document.encode()).hexdigest()[:16]

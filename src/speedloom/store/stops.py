"""What is written on the field: each entry once; a stop for pain limits the athlete at the same moment."""

from __future__ import annotations

from collections.abc import Iterable

from django.db import transaction
from django.utils.timezone import localdate

from speedloom.store import models
from speedloom.store.cards import Actor, Appended
from speedloom.store.logs import append
from speedloom.store.permissions import allowed
from speedloom.store.refusals import RefusedError
from speedloom.store.restrictions import set_restriction
from speedloom.training.athlete import Limit, Restriction
from speedloom.training.log import LogEntry

STOP = "stop_"
"""What the names of limits begin with that a stop for pain has set."""


@transaction.atomic
def write(actor: Actor, squad: str, ref: str, entries: Iterable[LogEntry]) -> Appended:
    """Append entries to a programme's log; those that stop somebody for pain set a limit with it.

    Sending them again confirms them again, and makes no second limit.

    Raises:
        NotAllowedError: an entry is about an athlete this person does not write for; nothing is stored.
    """
    sent = tuple(entries)
    kept = append(actor, squad, ref, sent)
    confirmed = set(kept.confirmed)
    for entry in sent:
        if entry.id in confirmed and is_stop(entry):
            _stop(actor, squad, entry)
    return kept


def is_stop(entry: LogEntry) -> bool:
    """Say whether an entry ends an exercise, or the day, for pain."""
    return entry.status == "stopped" and entry.reason == "pain"


def stop_ref(entry: LogEntry) -> str:
    """Name the limit a stop sets: by the entry's id, so that the same stop makes the same limit."""
    return f"{STOP}{entry.id.replace('-', '').lower()}"


def _stop(actor: Actor, squad: str, entry: LogEntry) -> None:
    here = models.Athlete.objects.filter(squad__key=squad, ref=entry.athlete).first()
    known = models.Restriction.objects.filter(athlete=here, ref=stop_ref(entry))
    may = allowed(actor, "set_restriction", squad=squad, athlete=entry.athlete)
    # Somebody who left the squad has a log and no restrictions: what was written is kept all the same.
    if here is None or not may or known.exists():
        return
    membership = actor.of(squad)
    clinician = membership is not None and membership.role == "clinician"
    # Whatever day the training was for: what hurts, hurts from now on.
    day = min(entry.date, localdate())
    new = Restriction.model_validate(
        {
            "ref": stop_ref(entry),
            "limits": (Limit(what="sets", at_most=0, exercise=entry.exercise),),
            "from": day,
            "set_by": actor.name,
            "set_as": "clinician" if clinician else "coach",
            "set_on": day,
        }
    )
    try:
        set_restriction(actor, squad, entry.athlete, new)
    except RefusedError:
        # The same stop came by another way at the same moment: the limit is there.
        if not known.exists():
            raise

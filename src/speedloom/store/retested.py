"""All tests of a squad for one comparison: an athlete's change is drawn to the squad's, whoever looks."""

from __future__ import annotations

from speedloom.store import models
from speedloom.store.cards import Actor
from speedloom.store.measurements import stored_measurements
from speedloom.store.permissions import require
from speedloom.store.refusals import NotThereError
from speedloom.training.athlete import Athlete
from speedloom.training.brief import Brief
from speedloom.training.fields import Frozen
from speedloom.training.measurement import Measurements


class SquadTests(Frozen):
    """What a comparison of two tests rests on; of others than those a person sees, nothing is shown."""

    measurements: Measurements
    people: tuple[Athlete, ...]
    brief: Brief


def squad_tests(actor: Actor, squad: str, *, athlete: str | None = None) -> SquadTests:
    """Give a squad's tests and bodies, to compare what a person may see: everybody, or one athlete.

    Raises:
        NotThereError: not a squad of the person's.
        NotAllowedError: the role does not reach the tests that are asked for.
    """
    require(actor, "see_tests", squad=squad, athlete=athlete)
    home = models.Squad.objects.filter(key=squad).first()
    if home is None:
        raise NotThereError("There is no such squad any more.")
    latest = (
        models.BriefRevision.objects.filter(squad=home).order_by("-number").values_list("document", flat=True)
    )
    documents = models.Athlete.objects.filter(squad=home).order_by("ref").values_list("document", flat=True)
    people = tuple(Athlete.model_validate_json(text) for text in documents)
    return SquadTests(
        measurements=stored_measurements(home, None),
        people=people,
        brief=Brief.model_validate_json(latest[0]),
    )

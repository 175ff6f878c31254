"""A programme as everybody's health stands now: whatever plans again starts here, and nowhere else."""

from __future__ import annotations

from speedloom.store import models
from speedloom.store._rows import squad_row
from speedloom.store.cards import Actor
from speedloom.store.limits_now import whole_with_limits_now
from speedloom.training.athlete import Screening
from speedloom.training.brief import ResolvedBrief
from speedloom.training.programme import Programme


def to_plan_again(actor: Actor, squad: str, programme: Programme) -> Programme:
    """Give a programme to plan again from: its athletes with the limits and the clearance of now.

    Planning goes by all of it, whoever plans. What was asked last counts where it says otherwise of hard work
    than the document; the same answers of another day are no news. A programme made by hand comes back as
    it is.

    Raises:
        NotAllowedError: this person does not plan here.
    """
    squad_row(actor, "change_programme", squad)
    now = whole_with_limits_now(squad, programme)
    content = now.brief.content
    if content is None:
        return now
    brief = now.brief.model_copy(update={"content": _asked_now(squad, content)})
    return now.model_copy(update={"brief": brief})


def _asked_now(squad: str, content: ResolvedBrief) -> ResolvedBrief:
    rows = models.Athlete.objects.filter(squad__key=squad).exclude(screening="")
    asked = {ref: Screening.model_validate_json(text) for ref, text in rows.values_list("ref", "screening")}
    people = tuple(
        one.model_copy(update={"screening": asked[one.ref]})
        if one.ref in asked and asked[one.ref].bars != (one.screening is not None and one.screening.bars)
        else one
        for one in content.athletes
    )
    return content.model_copy(update={"athletes": people})

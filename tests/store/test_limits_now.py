"""The limits of a programme as they stand now: of the store, and those that only the document holds."""

from __future__ import annotations

import json
from collections.abc import Sequence

import invented_briefs
from invented_squads import Squads, limit
from speedloom.store.limits_now import with_limits_now
from speedloom.store.restrictions import lift_restriction, set_restriction
from speedloom.training.athlete import Restriction
from speedloom.training.programme import Programme


def holding(those: Sequence[Restriction]) -> Programme:
    """Make a programme whose brief holds these limits of mila; what is planned is of no matter here."""
    ada = invented_briefs.athlete(in_training=True)
    planned = invented_briefs.planned(invented_briefs.brief(ada))
    content = planned.brief.content
    assert content is not None
    (one,) = content.athletes
    mila = one.model_copy(update={"ref": "mila", "restrictions": tuple(those)})
    brief = planned.brief.model_copy(update={"content": content.model_copy(update={"athletes": (mila,)})})
    hers = tuple(own.model_copy(update={"athlete": "mila"}) for own in planned.programmes)
    return planned.model_copy(update={"brief": brief, "programmes": hers})


def held(squads: Squads, programme: Programme) -> tuple[Restriction, ...]:
    content = with_limits_now(squads.keeper, squads.ours, programme).brief.content
    assert content is not None
    return content.athletes[0].restrictions


def test_a_lifted_limit_does_not_hide_another_of_the_same_name(squads: Squads) -> None:
    coach = squads.by_role["coach"]
    of_coach = limit("knee")
    of_clinician = limit("knee", set_as="clinician", said="Physio Ann")
    card = set_restriction(coach, squads.ours, "mila", of_coach)
    programme = holding([of_coach, of_clinician])
    assert set(held(squads, programme)) == {of_coach, of_clinician}
    lift_restriction(coach, squads.ours, "mila", card.id, reason="a new shoe")
    assert held(squads, programme) == (of_clinician,)


def test_other_days_make_another_limit(squads: Squads) -> None:
    coach = squads.by_role["coach"]
    longer = Restriction.model_validate_json(
        json.dumps(json.loads(limit("knee").model_dump_json(by_alias=True)) | {"until": "2026-06-30"})
    )
    card = set_restriction(coach, squads.ours, "mila", limit("knee"))
    lift_restriction(coach, squads.ours, "mila", card.id, reason="a new shoe")
    assert held(squads, holding([limit("knee"), longer])) == (longer,)

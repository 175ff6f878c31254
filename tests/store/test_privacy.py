"""Export and erase on request (DESIGN.md 6, privacy): everything of one athlete, nothing of another."""

from __future__ import annotations

import json

import pytest

from invented_entries import entry, next_one
from invented_squads import PROGRAMME, Squads, limit, sprint, two_athletes
from speedloom.store import (
    erasing,
    exporting,
    links,
    logs,
    measurements,
    models,
    people,
    programmes,
    restrictions,
)
from speedloom.store.refusals import ExpiredError, NotAllowedError, NotThereError, RefusedError
from speedloom.store.squads import audit, my_squads
from speedloom.training.document import canonical, digest


@pytest.fixture
def lived(squads: Squads) -> Squads:
    """A squad in which something has happened."""
    coach = squads.by_role["coach"]
    programmes.save_programme(coach, squads.ours, next_one(two_athletes()), after=digest(two_athletes()))
    logs.append(coach, squads.ours, PROGRAMME, [entry(1), entry(2, "noa")])
    for ref in ("mila", "noa"):
        restrictions.set_restriction(coach, squads.ours, ref, limit())
    return squads


def test_an_athlete_gets_everything_of_theirs_and_nothing_of_another(lived: Squads) -> None:
    mila = exporting.export_athlete(lived.by_role["athlete"], lived.ours, "mila")
    assert (len(mila["measurements"]), len(mila["restrictions"]), len(mila["log"])) == (1, 1, 1)
    assert [one["revision"]["number"] for one in mila["programmes"]] == [1, 2]
    assert "noa" not in json.dumps(mila).casefold()
    with pytest.raises(NotAllowedError):
        exporting.export_athlete(lived.by_role["athlete"], lived.ours, "noa")
    with pytest.raises(NotAllowedError):
        exporting.export_athlete(lived.by_role["viewer"], lived.ours, "mila")


def test_who_is_erased_is_in_no_table_and_no_document(lived: Squads) -> None:
    owner = lived.by_role["owner"]
    _, secret = links.make_link(owner, lived.ours, PROGRAMME, kind="sheet", athlete="mila")
    erasing.erase_athlete(owner, lived.ours, "mila")
    left = [programmes.read_programme(owner, lived.ours, PROGRAMME, number=number) for number in (1, 2)]
    assert "mila" not in "".join(map(canonical, left)).casefold()
    assert [own.athlete for own in left[1].programmes] == ["noa"]
    assert left[1].revision.parent == digest(left[0])
    assert [one.digest for one in programmes.revisions(owner, lived.ours, PROGRAMME)] == [
        digest(left[1]), digest(left[0]),
    ]  # fmt: skip
    assert logs.log(owner, lived.ours, PROGRAMME).entries == (entry(2, "noa"),)
    assert measurements.measurements(owner, lived.ours) == sprint("noa")
    assert "mila" not in {one.about for one in audit(owner, lived.ours)}
    with pytest.raises(ExpiredError):
        links.followed(secret, kind="sheet")
    assert people.again(lived.by_role["athlete"]).memberships == ()


def test_the_next_revision_follows_after_somebody_was_erased(lived: Squads) -> None:
    coach = lived.by_role["coach"]
    erasing.erase_athlete(lived.by_role["owner"], lived.ours, "mila")
    latest = programmes.read_programme(coach, lived.ours, PROGRAMME)
    card = programmes.save_programme(coach, lived.ours, next_one(latest), after=digest(latest))
    assert card.revision == 3


def test_a_programme_of_nobody_is_gone(lived: Squads) -> None:
    owner = lived.by_role["owner"]
    for ref in ("mila", "noa"):
        erasing.erase_athlete(owner, lived.ours, ref)
    assert programmes.programmes(owner, lived.ours) == ()
    assert models.LogEntry.objects.count() == 0


def test_only_an_owner_erases_and_the_name_is_typed(lived: Squads) -> None:
    owner = lived.by_role["owner"]
    with pytest.raises(NotAllowedError):
        erasing.erase_athlete(lived.by_role["coach"], lived.ours, "mila")
    with pytest.raises(NotAllowedError):
        erasing.erase_squad(lived.by_role["coach"], lived.ours, name="Ours")
    with pytest.raises(NotThereError):
        erasing.erase_squad(owner, lived.theirs, name="x")
    with pytest.raises(RefusedError, match="Expected the squad's name, Ours, got Theirs"):
        erasing.erase_squad(owner, lived.ours, name="Theirs")
    erasing.erase_squad(owner, lived.ours, name="Ours")
    assert my_squads(people.again(owner)) == ()
    assert models.Programme.objects.filter(squad__key=lived.ours).count() == 0
    assert len(my_squads(lived.outsider)) == 1

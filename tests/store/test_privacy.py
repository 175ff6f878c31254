"""Export and erase on request (DESIGN.md 6, privacy): everything of one athlete, nothing of another."""

from __future__ import annotations

import json

import pytest
from django.apps import apps
from django.test import Client

from invented_entries import entry, next_one
from invented_squads import PASSWORD, PROGRAMME, Squads, limit, one_of, sprint, two_athletes
from speedloom.store import (
    api_tokens,
    erasing,
    exporting,
    invitations,
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
    with pytest.raises(NotThereError, match="closed"):
        people.again(lived.by_role["athlete"])


def test_the_account_of_who_is_erased_ends_and_its_name_is_in_no_table(lived: Squads) -> None:
    owner = lived.by_role["owner"]
    mila = one_of(owner, lived.ours, "athlete", name="zilvermeeuw")
    links.make_link(mila, lived.ours, PROGRAMME, kind="sheet", athlete="mila")
    _card, key = api_tokens.make_token(mila, title="a test")
    client = Client()
    client.force_login(
        models.Person.objects.get(pk=mila.person), backend="speedloom.store.signing_in.PersonBackend"
    )
    assert "/mine/" in client.get("/")["Location"]
    erasing.erase_athlete(owner, lived.ours, "mila")
    assert "/sign-in/" in client.get("/")["Location"], "signed out on every device"
    assert Client().get("/api/squads", headers={"Authorization": f"Bearer {key}"}).status_code == 401
    answer = Client().post("/sign-in/", {"login": "zilvermeeuw", "password": PASSWORD})
    assert answer.status_code != 302
    for model in apps.get_app_config("store").get_models():
        assert "zilvermeeuw" not in str(list(model.objects.values())), model


@pytest.mark.parametrize("keeps", ["another squad", "the site"])
def test_an_account_that_is_used_elsewhere_stays_for_that(lived: Squads, keeps: str) -> None:
    owner, mila = lived.by_role["owner"], lived.by_role["athlete"]
    if keeps == "the site":
        models.Person.objects.filter(pk=mila.person).update(keeper=True)
    else:
        _card, secret = invitations.invite(lived.outsider, lived.theirs, role="viewer")
        invitations.accept(mila, secret)
    erasing.erase_athlete(owner, lived.ours, "mila")
    left = people.again(mila)
    assert left.of(lived.ours) is None
    assert [one.squad for one in left.memberships] == ([] if keeps == "the site" else [lived.theirs])
    assert mila.login not in {one.by for one in audit(owner, lived.ours)}


def test_a_squad_takes_its_athletes_accounts_along_and_no_others(lived: Squads) -> None:
    owner = lived.by_role["owner"]
    erasing.erase_squad(owner, lived.ours, name="Ours")
    with pytest.raises(NotThereError):
        people.again(lived.by_role["athlete"])
    for role in ("owner", "coach", "clinician"):
        assert people.again(lived.by_role[role]).of(lived.ours) is None


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

"""Accounts, invitations, roles and tokens."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest
from django.contrib.auth.hashers import Argon2PasswordHasher
from django.test import Client

from invented_squads import PASSWORD, Squads, one_of
from speedloom.store import accounts, api_tokens, athletes, invitations, models, people, signing_in
from speedloom.store.data_folder import DataFolder
from speedloom.store.refusals import ExpiredError, NotAllowedError, NotThereError, RefusedError
from speedloom.web.settings import SiteOptions, site_settings


def test_an_invitation_works_once(squads: Squads) -> None:
    _, secret = invitations.invite(squads.keeper, squads.ours, role="viewer")
    new = invitations.accept_with_new_account(
        secret, login="Head@Example.org ", name="Head", password=PASSWORD
    )
    assert (new.login, new.of(squads.ours).role) == ("head@example.org", "viewer")
    with pytest.raises(ExpiredError):
        invitations.accept(squads.outsider, secret)
    with pytest.raises(ExpiredError):
        invitations.invitation(secret)


def test_the_secret_is_not_in_the_database(squads: Squads) -> None:
    _, secret = invitations.invite(squads.keeper, squads.ours, role="viewer")
    assert secret not in str(list(models.Invitation.objects.values()))


def test_an_invitation_grows_old_and_can_be_taken_back(squads: Squads) -> None:
    card, old = invitations.invite(squads.keeper, squads.ours, role="viewer")
    models.Invitation.objects.filter(pk=card.id).update(expires_at=card.expires - timedelta(days=8))
    card, back = invitations.invite(squads.keeper, squads.ours, role="viewer")
    invitations.revoke_invitation(squads.keeper, squads.ours, card.id)
    for secret in (old, back, "never made"):
        with pytest.raises(ExpiredError):
            invitations.accept(squads.outsider, secret)
    assert invitations.invitations(squads.keeper, squads.ours) == ()


def test_a_password_too_easy_uses_no_invitation_up(squads: Squads) -> None:
    _, secret = invitations.invite(squads.keeper, squads.ours, role="viewer")
    for easy in ("short", "password1234"):
        with pytest.raises(RefusedError):
            invitations.accept_with_new_account(secret, login="head", name="Head", password=easy)
    assert people.find("head") is None
    assert invitations.invitation(secret).role == "viewer"


def test_a_coach_invites_athletes_and_nobody_else(squads: Squads) -> None:
    coach = squads.by_role["coach"]
    card, _ = invitations.invite(coach, squads.ours, role="athlete", athlete="noa")
    assert card.athlete == "noa"
    with pytest.raises(NotAllowedError):
        invitations.invite(coach, squads.ours, role="coach")
    assert invitations.may_invite(coach, squads.ours) == ("athlete",)
    assert invitations.may_invite(squads.by_role["assistant"], squads.ours) == ()


@pytest.mark.parametrize(("role", "athlete"), [("athlete", None), ("coach", "mila"), ("athlete", "zoe")])
def test_role_and_athlete_fit_each_other(role: str, athlete: str | None, squads: Squads) -> None:
    with pytest.raises(RefusedError, match="of the squad"):
        invitations.invite(squads.keeper, squads.ours, role=role, athlete=athlete)  # type: ignore[arg-type]


def test_a_role_for_some_athletes_sees_those(squads: Squads) -> None:
    helper = one_of(squads.keeper, squads.ours, "assistant", name="helper", only=("noa",))
    assert [one.ref for one in athletes.athletes(helper, squads.ours)] == ["noa"]


def test_a_squad_keeps_an_owner(squads: Squads) -> None:
    owner, keeper = squads.by_role["owner"], squads.keeper
    people.change_member(keeper, squads.ours, owner.person, role="coach")
    assert people.again(owner).of(squads.ours).role == "coach"
    for attempt in (
        lambda: people.change_member(keeper, squads.ours, keeper.person, role="coach"),
        lambda: people.remove_member(keeper, squads.ours, keeper.person),
    ):
        with pytest.raises(RefusedError, match="at least one owner"):
            attempt()


def test_who_is_taken_out_finds_no_squad(squads: Squads) -> None:
    coach = squads.by_role["coach"]
    people.remove_member(squads.keeper, squads.ours, coach.person)
    assert people.again(coach).memberships == ()
    assert "coach" not in {one.login for one in people.members(squads.keeper, squads.ours)}


def test_a_login_is_taken_once_however_it_is_spelled(squads: Squads) -> None:
    with pytest.raises(RefusedError, match="has an account already"):
        people.make_person(login=" COACH ", name="Another")
    assert people.find("CoacH") == squads.by_role["coach"]


@pytest.mark.django_db
def test_an_account_without_password_has_none_that_fits() -> None:
    who = people.make_person(login="one", name="One")
    assert not people.has_password(who)
    for tried in ("", "one", "!", "None"):
        assert signing_in.PersonBackend().authenticate(None, login="one", password=tried) is None


@pytest.mark.usefixtures("squads")
def test_passwords_are_kept_by_argon2() -> None:
    kept = set(models.Person.objects.values_list("password", flat=True))
    assert {one.partition("$")[0] for one in kept} == {"argon2"}


def test_outside_of_tests_hashing_is_as_slow_as_argon2_wants_it(tmp_path: Path) -> None:
    settings = site_settings(SiteOptions(DataFolder(tmp_path)))
    assert settings["PASSWORD_HASHERS"] == ["django.contrib.auth.hashers.Argon2PasswordHasher"]
    kept = Argon2PasswordHasher().encode(PASSWORD, "salt-of-a-test")
    memory_kb = int(kept.partition("m=")[2].partition(",")[0])
    assert memory_kb >= 19 * 1024, "the least that OWASP's cheat sheet names (memory)"


def test_a_token_opens_until_it_is_taken_back(squads: Squads) -> None:
    coach = squads.by_role["coach"]
    card, secret = api_tokens.make_token(coach, title="Phone")
    assert signing_in.by_api_token(secret) == coach
    assert secret not in str(list(models.ApiToken.objects.values()))
    with pytest.raises(NotThereError):
        api_tokens.revoke_token(squads.by_role["owner"], card.id)
    api_tokens.revoke_token(coach, card.id)
    assert signing_in.by_api_token(secret) is None
    assert api_tokens.tokens(coach)[0].revoked_at is not None


def test_a_keeper_closes_and_opens_accounts_and_sees_no_squad_of_others(squads: Squads) -> None:
    coach = squads.by_role["coach"]
    cards = {card.login: card for card in accounts.accounts(squads.keeper)}
    assert set(cards) == {"keeper", "outsider", *squads.by_role}
    accounts.close_account(squads.keeper, coach.person)
    assert people.find("coach") is None
    with pytest.raises(NotThereError):
        people.again(coach)
    assert signing_in.PersonBackend().authenticate(None, login="coach", password=PASSWORD) is None
    accounts.close_account(squads.keeper, coach.person, back=True)
    assert people.find("coach") == coach
    with pytest.raises(RefusedError, match="stays open"):
        accounts.close_account(squads.keeper, squads.keeper.person)
    for role in ("owner", "coach", "athlete"):
        with pytest.raises(NotAllowedError):
            accounts.accounts(squads.by_role[role])
        with pytest.raises(NotAllowedError):
            accounts.help_in(squads.by_role[role], coach.person)


def test_a_keeper_helps_in_whoever_lost_a_password_but_no_other_keeper(
    squads: Squads, client: Client
) -> None:
    secret = accounts.help_in(squads.keeper, squads.by_role["coach"].person)
    assert client.get(f"/sign-in/{secret}/").status_code == 302
    assert "The coach" in client.get("/account/").content.decode()
    with pytest.raises(RefusedError):
        accounts.help_in(squads.keeper, squads.outsider.person)

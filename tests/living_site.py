"""Some athletes of the living demo on the site, and who looks at them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from django.test import Client

from living_squad import living
from season_on_pages import signed_in
from speedloom.cli._demo_site import store_squad
from speedloom.store import invitations, people, programmes
from speedloom.store.cards import Actor, Role
from speedloom.training.programme import Programme

FEW = ("fenna", "leilani", "mila", "nomvula", "rosa")
PASSWORD = "paper boats on a long river"  # noqa: S105 - of invented people, in tests
ROLES: Mapping[str, tuple[Role, str | None]] = {
    "assistant": ("assistant", None),
    "physio": ("clinician", None),
    "viewer": ("viewer", None),
    "mila": ("athlete", "mila"),
}


@dataclass(frozen=True)
class LivingSite:
    """The squad's key, its programme, and a client for everybody."""

    key: str
    programme: str
    coach: Actor
    people: Mapping[str, Client]

    @property
    def squad(self) -> str:
        """The squad's address."""
        return f"/squads/{self.key}/"

    @property
    def here(self) -> str:
        """The programme's address."""
        return f"{self.squad}programmes/{self.programme}/"

    def document(self) -> Programme:
        """Give the newest revision."""
        return programmes.read_programme(self.coach, self.key, self.programme)

    def page(
        self, path: str, query: Mapping[str, str] | None = None, *, who: str = "coach", status: int = 200
    ) -> str:
        """Open a page."""
        answer = self.people[who].get(path, dict(query or {}))
        assert answer.status_code == status, (path, answer.status_code)
        return answer.content.decode()


def living_site() -> LivingSite:
    """Store the squad, and let its people come."""
    squad = living(*FEW)
    keeper = people.make_person(login="lived-coach", name="The coach", keeper=True)
    key = store_squad(keeper, squad.brief, squad.measurements, squad.programme, life=squad.life)
    coach = people.again(keeper)
    clients = {"coach": signed_in(coach)}
    for login, (role, athlete) in ROLES.items():
        _, secret = invitations.invite(coach, key, role=role, athlete=athlete)
        who = invitations.accept_with_new_account(
            secret, login=f"lived-{login}", name=login, password=PASSWORD
        )
        clients[login] = signed_in(who)
    return LivingSite(key, squad.programme.id, coach, clients)

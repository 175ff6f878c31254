"""The season of docs/season.py played through the pages: typed, looked at, accepted, as a coach would.

The clock of the site is the story's. What the pages make is put beside what the command line makes of the
same documents, taken from the site as files.
"""

from __future__ import annotations

import json
import runpy
from collections import defaultdict
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from django.test import Client
from django.utils import timezone

from house import ROOT
from page_forms import form_with
from speedloom.exchange.brief_file import read_brief
from speedloom.exchange.documents import read_programme
from speedloom.store import athletes, briefs, invitations, logs, models, people, programmes
from speedloom.store.cards import Actor, Role
from speedloom.training.brief import Brief
from speedloom.training.document import canonical
from speedloom.training.log import Log
from speedloom.training.programme import Programme

SEASON = runpy.run_path(str(ROOT / "docs" / "season.py"))
PASSWORD = "paper boats on a long river"  # noqa: S105 - of invented people, in tests
PHYSIO = "club physiotherapist"
TESTS = ("spring_build_tests.csv", "spring_build_lifts.csv")
"""What was pasted, as files beside the brief."""
AT_ONCE = 400
ZONE = "Europe/Amsterdam"


class SeasonOnPages:
    """The squad on the site, with a client for each account, and the folder of the command line beside it."""

    def __init__(self, folder: Path, set_clock: Callable[[datetime], None]) -> None:
        """Store the squad's people, places and kit; its tests and its programme come by the pages."""
        self.folder, self._set_clock = folder, set_clock
        folder.mkdir(parents=True)
        self.story = SEASON["Story"](folder)
        self.first_tests = SEASON["_prepared"](folder)
        brief, _measured = read_brief(folder / "season.toml")
        self.brief = brief
        self.people: dict[str, Actor] = {}
        self.on(2026, 1, 2)
        keeper = people.make_person(login="season-coach", name="The coach", keeper=True)
        self.people["coach"] = keeper
        self.clients = {"coach": signed_in(keeper)}
        made = self.clients["coach"].post("/squads/new/", {"name": "Season", "zone": ZONE})
        self.at = made["Location"]
        self.key = self.at.split("/")[2]
        self.coach = people.again(keeper)
        briefs.save_brief(self.coach, self.key, brief, after=1, reason="from a file")
        for athlete in brief.athletes:
            athletes.add_athlete(self.coach, self.key, athlete)
        self.programme = ""

    def on(self, year: int, month: int, day: int) -> None:
        """Let the site's clock stand at noon of a day; everybody has to sign in anew, as after weeks."""
        self._set_clock(datetime(year, month, day, 12, tzinfo=UTC))
        self.clients = {login: signed_in(who) for login, who in self.people.items()}

    def joins(self, login: str, role: Role, *, name: str = "", athlete: str | None = None) -> None:
        """Let somebody come with an account of their own."""
        _, secret = invitations.invite(self.coach, self.key, role=role, athlete=athlete)
        who = invitations.accept_with_new_account(secret, login=login, name=name or login, password=PASSWORD)
        self.people[login] = who
        self.clients[login] = signed_in(who)

    def look(self, path: str, *, who: str = "coach", **query: str) -> str:
        """Open a page."""
        answer = self.clients[who].get(f"{self.at}{path}", query)
        assert answer.status_code == 200, (path, answer.status_code)
        return answer.content.decode()

    def send(self, path: str, typed: dict[str, Any], *, who: str = "coach", status: int = 302) -> str:
        """Send a form."""
        answer = self.clients[who].post(f"{self.at}{path}", typed)
        assert answer.status_code == status, (path, answer.status_code, answer.content.decode()[:4000])
        return answer.content.decode()

    def pastes(self, table: str) -> None:
        """Paste a table of tests, look at it, and keep it."""
        page = self.send("tests/", {"table": table}, status=200)
        form = form_with(page, "stamp")
        self.send("tests/", {**form, "save": "1"})

    def plans(self) -> None:
        """Make the programme: everybody was asked, and is well."""
        form = form_with(self.look("new-programme/"), "slots")
        asked = {
            f"{one.ref}-last_sprint": str(one.screening.last_hard_sprint)
            for one in self.brief.athletes
            if one.screening
        }
        self.send("new-programme/", {**form, **asked, "all_well": "on"})
        (card,) = programmes.programmes(self.coach, self.key)
        self.programme = card.id

    @property
    def here(self) -> str:
        """The path of the programme's pages."""
        return f"programmes/{self.programme}/"

    def revision(self) -> Programme:
        """Give the newest revision."""
        return programmes.read_programme(self.coach, self.key, self.programme)

    def log(self) -> Log:
        """Give what is written down."""
        return logs.log(self.coach, self.key, self.programme)

    def writes(self, log: Log) -> None:
        """Send entries through the door of the session page, each by whoever wrote it."""
        # Nobody writes before it has happened: the site's clock goes on to the evening of the last entry.
        self._set_clock(max([timezone.now(), *(entry.at + timedelta(minutes=1) for entry in log.entries)]))
        by: dict[str, list[Any]] = defaultdict(list)
        for entry in log.entries:
            by[entry.by].append(entry.model_dump(mode="json"))
        for login, entries in by.items():
            for first in range(0, len(entries), AT_ONCE):
                self._written(login, entries[first : first + AT_ONCE])

    def _written(self, login: str, entries: list[Any]) -> None:
        # An athlete's own door is for one athlete; whoever runs the session writes for all.
        own = "" if login == "assistant-1" else f"athletes/{login}/"
        answer = self.clients[login].post(
            f"{self.at}{own}{self.here}written/",
            json.dumps({"entries": entries}),
            content_type="application/json",
        )
        assert answer.status_code == 200, answer.content.decode()[:500]
        told = answer.json()
        kept = [*told["stored"], *told["known"]]
        assert sorted(kept) == sorted(one["id"] for one in entries), told

    def accepts(self, page: str, query: dict[str, Any]) -> str:
        """Look at what would change, and accept it; give what was said."""
        answer = self.clients["coach"].get(f"{self.at}{self.here}{page}/", query)
        assert answer.status_code == 200, answer.content.decode()[:3000]
        shown = answer.content.decode()
        form = form_with(shown, "after")
        self.send(f"{self.here}{page}/", dict(form))
        return shown

    def takes_home(self, name: str) -> None:
        """Save the newest revision, the log and the brief as files, as the Data page exports them."""
        number = self.revision().revision.number
        (self.folder / f"{name}_{number}.json").write_text(canonical(self.revision()), encoding="utf-8")
        (self.folder / f"{name}_log.json").write_text(canonical(self.log()), encoding="utf-8")
        whole, _measured = briefs.brief_to_plan(self.coach, self.key)
        named = whole.model_copy(update={"tests": TESTS})
        (self.folder / f"{name}_brief.json").write_text(canonical(named), encoding="utf-8")

    def story_programme(self, name: str) -> Programme:
        """Read what the command line made."""
        return read_programme(self.folder / f"{name}.json")

    def brief_now(self) -> Brief:
        """Give the squad's brief as it is."""
        return briefs.brief(self.coach, self.key).brief


def signed_in(who: Actor) -> Client:
    """Give a client in which somebody is signed in."""
    client = Client()
    client.force_login(
        models.Person.objects.get(pk=who.person), backend="speedloom.store.signing_in.PersonBackend"
    )
    return client

"""How long the site takes over a page, with 500 athletes, three years of tests and 1,000 programmes.

Wanted: the 95th percentile of every page at most 100 ms, and at most 150 kB packed; of a change with its
check 300 ms (`site_changes.py`). Every address of the site that shows a page is asked, by the owner of a
squad of fifty that trains after a fourteen-athlete programme.

`.venv/bin/python benchmarks/site_pages.py [TIMES]`
"""

from __future__ import annotations

import json
import os
import platform
import re
import sys
import tempfile
import time
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from importlib.resources import as_file, files
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "tests"))

from speedloom.store.data_folder import DataFolder
from speedloom.web.settings import SiteOptions
from speedloom.web.site import start

PLACE = tempfile.TemporaryDirectory(prefix="speedloom-site-")
FOLDER = DataFolder(Path(PLACE.name))
start(SiteOptions(FOLDER, hosts=("testserver",)))

from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver
from site_changes import Taken, changes

from invented_squads import PASSWORD, two_athletes
from speedloom.cli._read import read_resolved
from speedloom.cli.plan import planned
from speedloom.exchange.brief_file import read_brief
from speedloom.store import (
    athletes,
    invitations,
    measurements,
    migrating,
    models,
    people,
    programmes,
    signing_in,
    squads,
)
from speedloom.store.cards import Actor
from speedloom.training.athlete import Athlete
from speedloom.training.measurement import Measurements
from speedloom.training.programme import Programme
from speedloom.web.serving import settle

LIMIT_MS, LIMIT_KB = 100.0, 150.0
ATHLETES, PROGRAMMES, SQUADS, DAYS, TRIALS = 500, 1000, 10, 12, 3
PART = re.compile(r"<(?:\w+:)?(\w+)>")
LEFT_OUT = {"hand-out", "sign-in", "sign-out", "invitation", "health", "api", "take-back"}
"""Files, ways in and calls: not pages."""
ANSWERED = (200, 302)
NOT_THE_OWNERS = 403
CHANGED_OFTEN = 5
"""Changes made for each time a page is asked for, so that a percentile says something [count]."""


def history(refs: list[str]) -> Measurements:
    """Invent three years of sprints: a test day every quarter, three trials each."""
    rows = []
    for number, ref in enumerate(refs):
        for day in range(DAYS):
            for trial in range(1, TRIALS + 1):
                slower = 0.01 * (number % 40) + 0.005 * trial - 0.004 * day
                rows.append(
                    {
                        "athlete": ref,
                        "date": (date(2023, 1, 9) + timedelta(days=91 * day)).isoformat(),
                        "trial": trial,
                        "timing": "gates",
                        "clock": "unknown",
                        "splits": [
                            {"distance_m": d, "time_s": round(t + slower * d / 30, 3)}
                            for d, t in ((5.0, 1.15), (10.0, 1.9), (20.0, 3.2), (30.0, 4.4))
                        ],
                    }
                )
    return Measurements.model_validate_json(json.dumps({"trials": rows}))


def fill(owner: Actor, programme: Programme) -> tuple[Actor, str]:
    """Store every squad; give the owner as they are then, and the key of the squad that is measured."""
    with as_file(files("speedloom.cli") / "demo_squad") as folder:
        brief, tests = read_brief(folder / "spring_build.toml")
    first = ""
    for number in range(SQUADS):
        key = squads.make_squad(owner, name=f"Squad {number}", brief=brief)
        owner = people.again(owner)
        those = list(brief.athletes) if number == 0 else []
        those += [Athlete(ref=f"one_{one}") for one in range(ATHLETES // SQUADS - len(those))]
        for athlete in those:
            athletes.add_athlete(owner, key, athlete)
        measurements.add_measurements(owner, key, history([athlete.ref for athlete in those]))
        for one in range(PROGRAMMES // SQUADS - (number == 0)):
            document = two_athletes().model_copy(update={"id": f"{number * 1000 + one:012x}"})
            programmes.save_programme(owner, key, document, name=f"Block {one}")
        if number == 0:
            first = key
            measurements.add_measurements(owner, key, tests)
            programmes.save_programme(owner, key, programme)
    return owner, first


def pages(squad: str, programme: Programme) -> Iterator[tuple[str, str]]:
    """List every address that shows a page: as it is written in the code, and as it is asked."""
    own = programme.programmes[0]
    session = next(session for week in own.weeks for session in week.sessions)
    parts = {
        "squad": squad,
        "programme": programme.id,
        "athlete": own.athlete,
        "ref": session.prescriptions[-1].ref,
        "number": "1",
        "place": "hall",
        "kit": "sled_hall",
        "rule": "sprint_gap",
        "date": session.date.isoformat(),
        "session": session.ref,
        "slot": session.slot or "nowhere",
    }

    def under(patterns: Iterable[URLPattern | URLResolver], before: str) -> Iterator[tuple[str, str]]:
        for one in patterns:
            route = before + str(one.pattern)
            if isinstance(one, URLResolver):
                yield from under(one.url_patterns, route)
                continue
            access = getattr(one.callback, "access", None)
            looks = access is not None and (access.who == "signed_in" or access.look is not None)
            if looks and not LEFT_OUT & set(route.split("/")):
                yield route, "/" + PART.sub(lambda part: parts.get(part[1], "nowhere"), route)

    yield from under(get_resolver().url_patterns, "")


@dataclass(frozen=True)
class Measured:
    """How a page was answered: when, and how much of it was sent, packed [kB]."""

    status: int
    taken: Taken
    weight_kb: float

    def __str__(self) -> str:
        heavy = "" if self.weight_kb <= LIMIT_KB else " TOO HEAVY"
        fault = "" if self.status in ANSWERED else " NO PAGE"
        return f"{self.status}{fault} {self.weight_kb:6.1f} kB{heavy} {self.taken}  /{self.taken.what}"


def measured(client: Client, route: str, address: str, times: int) -> Measured:
    """Ask for a page once, and then often."""
    page, taken = client.get(address), Taken(route, LIMIT_MS)
    for _ in range(times):
        page = taken.ask(lambda: client.get(address))
    weight = len(b"".join(page.streaming_content) if page.streaming else page.content) / 1000
    return Measured(page.status_code, taken, weight)


def signed_in(who: Actor) -> Client:
    """Give a browser in which somebody is signed in; a fault is an answer, and counted."""
    client = Client(headers={"Accept-Encoding": "gzip"}, raise_request_exception=False)
    client.force_login(models.Person.objects.get(pk=who.person), backend=signing_in.BACKEND)
    return client


def athlete_of(owner: Actor, squad: str, programme: Programme) -> Actor:
    """Make an account for the first athlete of a programme: some pages are theirs alone."""
    ref = programme.programmes[0].athlete
    _, secret = invitations.invite(owner, squad, role="athlete", athlete=ref)
    return invitations.accept_with_new_account(secret, login=ref, name=ref, password=PASSWORD)


def main(times: int) -> int:
    """Fill a site, ask every page, print; give 1 when a page takes longer or weighs more than wanted."""
    with as_file(files("speedloom.cli") / "demo_squad") as demo:
        _, programme = planned(read_resolved(demo / "spring_build.toml"))
    migrating.bring_up_to_date(FOLDER)
    started = time.perf_counter()
    owner, squad = fill(people.make_person(login="owner", name="Owner", keeper=True), programme)
    busy = os.getloadavg()[0] if hasattr(os, "getloadavg") else float("nan")
    print(f"{platform.machine()}, Python {platform.python_version()}, {times} times each, load {busy:.1f}")
    size = FOLDER.database.stat().st_size / 1e6
    print(f"filled in {time.perf_counter() - started:.0f} s, {size:.0f} MB")
    settle()
    client, athlete = signed_in(owner), signed_in(athlete_of(owner, squad, programme))
    found: list[Taken] = []
    for route, address in pages(squad, programme):
        theirs = client.get(address).status_code == NOT_THE_OWNERS
        page = measured(athlete if theirs else client, route, address, times)
        found.append(page.taken)
        print(page, flush=True)
    for taken in changes(
        client,
        squad,
        programme,
        times=CHANGED_OFTEN * times,
        read=lambda: programmes.read_programme(owner, squad, programme.id),
    ):
        print(f"{taken}  {taken.what}", flush=True)
        found.append(taken)
    late, own = sum(not one.kept for one in found), sum(not one.own_kept for one in found)
    print(f"{late} of {len(found)} take longer than wanted by the clock, {own} by their own work alone")
    return int(late > 0)


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 20))

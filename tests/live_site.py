"""The site in a process of its own, as people run it; and the demo squad in a data folder, for browsers."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, date, datetime
from importlib.resources import as_file, files
from pathlib import Path
from typing import Any

from house import ROOT
from speedloom.training.brief import Brief
from speedloom.training.measurement import Measurements
from speedloom.training.programme import Programme

LINK = re.compile(r"http://127\.0\.0\.1:(\d+)(/sign-in/[\w-]+/)")


@contextmanager
def served(*arguments: object) -> Iterator[tuple[subprocess.Popen[str], int, str]]:
    """Start the site, and give its process, its port and the path that signs in."""
    command = [sys.executable, "-m", "speedloom", *map(str, arguments), "--no-browser"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as site:
        try:
            link = None
            for line in site.stdout or ():
                link = LINK.search(line)
                if link:
                    break
            assert link, site.stderr.read() if site.stderr else ""
            yield site, int(link[1]), link[2]
        finally:
            site.kill()


PASSWORD = "paper boats on a long river"  # noqa: S105 - of invented people, in tests
LOGIN = "coach"
ATHLETE = "athlete"


def demo_folder(folder: Path) -> dict[str, str]:
    """Make the demo squad in a data folder; give what stands for each part of an address.

    In a process of its own: the settings of the site that runs this one are of another folder.
    """
    code = "import sys; from live_site import make_demo; make_demo(sys.argv[1])"
    done = subprocess.run(
        [sys.executable, "-c", code, str(folder)],
        cwd=ROOT / "tests",
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    parts: dict[str, str] = json.loads(done.stdout.splitlines()[-1])
    return parts


def make_demo(folder: str) -> None:
    """Store the demo squad with a coach who has a password, and print what stands in addresses."""
    from speedloom.cli._demo_life import life, moved
    from speedloom.cli._demo_site import store_demo
    from speedloom.cli._site import open_site, options
    from speedloom.exchange.brief_file import read_brief

    today = datetime.now(tz=UTC).date()
    with as_file(files("speedloom.cli") / "demo_squad") as squad:
        # The site reads the clock, so the squad has to be in the middle of its programme today.
        brief, measurements = moved(*read_brief(squad / "spring_build.toml"), today=today)
    programme = _planned(brief, measurements)
    assert isinstance(programme, Programme)
    open_site(options(Path(folder), None))
    from speedloom.store import invitations, links, people, squads

    keeper = people.make_person(login=LOGIN, name="The coach", password=PASSWORD, keeper=True)
    store_demo(Path(folder), brief, measurements, programme, life=life(programme, measurements, today=today))
    keeper = people.again(keeper)
    (home,) = squads.my_squads(keeper)
    first = brief.athletes[0].ref
    helper = _joined(keeper, home.key, "assistant", login="helper", name="A helper")
    _joined(keeper, home.key, "athlete", login=ATHLETE, name="An athlete", athlete=first)
    card, secret = invitations.invite(keeper, home.key, role="viewer")
    _sheet, sheet = links.make_link(keeper, home.key, programme.id, kind="sheet", athlete=first)
    _feed, feed = links.make_link(keeper, home.key, programme.id, kind="feed", athlete=None)
    parts = {
        "squad": home.key,
        "athlete": brief.athletes[0].ref,
        "programme": programme.id,
        "ref": _working_line(programme),
        "kind": "session",
        "number": "1",
        "slot": brief.slots[0].ref,
        "place": brief.places[0].ref,
        "kit": brief.kit[0].ref,
        "rule": "sprint_gap",
        "date": next_training(programme, today),
        "busy": busiest_training(programme, today),
        "today": today.isoformat(),
        "person": str(helper.person),
        "invitation": str(card.id),
        "secret": secret,
        "sheet": sheet,
        "feed": feed,
        "session": last_session(programme, today),
        "rest": "nowhere",
    }
    sys.stdout.write(json.dumps(parts) + "\n")


def _joined(keeper: Any, squad: str, role: Any, *, login: str, name: str, athlete: str | None = None) -> Any:  # noqa: ANN401
    """Invite somebody, and let them come with a password."""
    from speedloom.store import invitations

    _, secret = invitations.invite(keeper, squad, role=role, athlete=athlete)
    return invitations.accept_with_new_account(secret, login=login, name=name, password=PASSWORD)


def _planned(brief: Brief, measurements: Measurements) -> object:
    from speedloom.training.exercise import load_catalogue
    from speedloom.training.rule import load_rulebook
    from speedloom.workflows.plan_programme import plan_programme
    from speedloom.workflows.resolve_brief import resolve_brief

    rulebook, catalogue = load_rulebook().with_changes(brief.rules), load_catalogue()
    resolved = resolve_brief(brief, measurements, rulebook=rulebook, catalogue=catalogue)
    return plan_programme(resolved, rulebook=rulebook, catalogue=catalogue)


def next_training(programme: Programme, today: date) -> str:
    """Give the next day from today on with a training."""
    days = {session.date for own in programme.programmes for week in own.weeks for session in week.sessions}
    return min(day for day in days if day >= today).isoformat()


def busiest_training(programme: Programme, today: date) -> str:
    """Give the day to come on which most train, and of those the one with most timed runs."""
    timed = {"unloaded_sprint", "resisted_sprint"}
    people, runs = Counter[date](), Counter[date]()
    for own in programme.programmes:
        for session in (one for week in own.weeks for one in week.sessions):
            people[session.date] += 1
            runs[session.date] += sum(
                line.sets * line.reps
                for line in session.prescriptions
                if line.purpose == "work" and line.method in timed
            )
    return max((day for day in people if day >= today), key=lambda day: (people[day], runs[day])).isoformat()


def last_session(programme: Programme, today: date) -> str:
    """Give the first athlete's last session before today."""
    days = [session for week in programme.programmes[0].weeks for session in week.sessions]
    return max((one for one in days if one.date < today), key=lambda one: one.date).ref


def _working_line(programme: Programme) -> str:
    return next(
        line.ref
        for week in programme.programmes[0].weeks
        for session in week.sessions
        for line in session.prescriptions
        if line.purpose == "work" and line.load_kg
    )

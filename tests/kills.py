"""A site that is killed at seeded moments while it writes, imports, migrates, backs up and restores.

`python tests/kills.py 20` kills twenty times; exit code 1 when something was found half done.
The process that kills never opens the database by Django: each deed is a process of its own.
"""

from __future__ import annotations

import random
import sqlite3
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path

from kills_kept import CHECKS, PASTE
from speedloom.store.data_folder import DataFolder
from speedloom.web.settings import SiteOptions
from speedloom.web.site import start

Tell = Callable[[str], None]
Deed = Callable[[DataFolder, Tell], None]
READY = "ready"
LONGEST_S = {"migrate": 1.0, "update": 1.0}
"""The latest moment of a kill after the deed began [s]; 0.4 where nothing is said."""


def log(_: DataFolder, tell: Tell) -> None:
    """Send entries in batches until killed; tell each id that was confirmed."""
    from uuid import uuid4

    from invented_entries import entry
    from invented_squads import PROGRAMME
    from speedloom.store import logs

    keeper, squad = _keeper()
    tell(READY)
    while True:
        those = [entry(uuid4().int, ref) for ref in ("mila", "noa", "mila")]
        for each in logs.append(keeper, squad, PROGRAMME, those).confirmed:
            tell(each)


def save(_: DataFolder, tell: Tell) -> None:
    """Save one revision after another until killed; tell each digest."""
    from invented_entries import next_one
    from invented_squads import PROGRAMME
    from speedloom.store import programmes
    from speedloom.training.document import digest

    keeper, squad = _keeper()
    tell(READY)
    while True:
        latest = programmes.read_programme(keeper, squad, PROGRAMME)
        new = next_one(latest)
        tell(programmes.save_programme(keeper, squad, new, after=digest(latest)).digest)


def paste(_: DataFolder, tell: Tell) -> None:
    """Import pastes of twenty trials until killed; tell the day of each."""
    from datetime import date, timedelta

    from invented_squads import sprint
    from speedloom.store import measurements
    from speedloom.training.measurement import Measurements

    keeper, squad = _keeper()
    number = len(measurements.measurements(keeper, squad).trials)
    tell(READY)
    while True:
        number += 1
        day = (date(2020, 1, 1) + timedelta(days=number)).isoformat()
        rows = [sprint("mila", day=day, trial=trial).trials[0] for trial in range(1, PASTE + 1)]
        measurements.add_measurements(keeper, squad, Measurements(trials=tuple(rows)))
        tell(day)


def stop(_: DataFolder, tell: Tell) -> None:
    """Stop somebody for pain again and again until killed; tell each entry that was confirmed."""
    from uuid import uuid4

    from invented_entries import entry
    from invented_squads import PROGRAMME
    from speedloom.store import stops

    keeper, squad = _keeper()
    tell(READY)
    while True:
        one = entry(uuid4().int, "noa", status="stopped", reason="pain", exercise="back_squat")
        for each in stops.write(keeper, squad, PROGRAMME, [one]).confirmed:
            tell(each)


def limit(_: DataFolder, tell: Tell) -> None:
    """Set and lift restrictions until killed; tell each that is set, and each that is lifted."""
    from uuid import uuid4

    import invented_squads
    from speedloom.store import restrictions

    keeper, squad = _keeper()
    tell(READY)
    while True:
        ref = f"limit_{uuid4().hex[:20]}"
        one = restrictions.set_restriction(keeper, squad, "mila", invented_squads.limit(ref))
        tell(f"set {ref}")
        restrictions.lift_restriction(keeper, squad, "mila", one.id, reason="Cleared")
        tell(f"lifted {ref}")


def brief(_: DataFolder, tell: Tell) -> None:
    """Save one brief after another until killed; tell the number of each."""
    import invented_squads
    from speedloom.store import briefs

    keeper, squad = _keeper()
    tell(READY)
    while True:
        after = briefs.brief(keeper, squad).number
        new = invented_squads.brief(f"Spring {after}")
        tell(str(briefs.save_brief(keeper, squad, new, after=after, reason="Another name").number))


def back_up(folder: DataFolder, tell: Tell) -> None:
    """Copy the database to one file again and again until killed."""
    from speedloom.store import backup

    tell(READY)
    while True:
        backup.back_up(folder.database, folder.path / "saturday.sqlite3")
        tell("copied")


def restore(folder: DataFolder, tell: Tell) -> None:
    """Put one of two backups back, in turn, until killed."""
    from speedloom.store import backup

    tell(READY)
    while True:
        for name in ("one", "two"):
            backup.put_back(folder.path / f"{name}.sqlite3", folder.database)
            tell(name)


def migrate(folder: DataFolder, tell: Tell) -> None:
    """Make the tables of a new site until killed."""
    from speedloom.store import migrating

    tell(READY)
    while True:
        for path in folder.path.glob("speedloom.sqlite3*"):
            path.unlink()
        from django.db import connection

        connection.close()
        migrating.bring_up_to_date(folder)
        tell("made")


def update(folder: DataFolder, tell: Tell) -> None:
    """Bring the tables of an older site up to date, again and again from the older one, until killed."""
    import shutil

    from django.db import connection

    from speedloom.store import migrating

    tell(READY)
    while True:
        connection.close()  # the last one to close puts its journal away
        aside = shutil.copy(folder.path / "old.sqlite3", folder.path / "aside")
        Path(aside).replace(folder.database)
        migrating.bring_up_to_date(folder)
        tell("updated")


def make_old(folder: DataFolder, tell: Tell) -> None:
    """Make a site with the first tables only, and an account in it."""
    from django.core.management import call_command

    from speedloom.store import backup, people

    call_command("migrate", "store", "0001", verbosity=0)
    people.make_person(login="keeper", name="The keeper", keeper=True)
    backup.back_up(folder.database, folder.path / "old.sqlite3")
    tell("made")


def _keeper() -> tuple[object, str]:
    from speedloom.store import people

    keeper = people.keeper()
    return keeper, keeper.memberships[0].squad


def make(folder: DataFolder, tell: Tell) -> None:
    """Make the squad that is written into, and two backups of it that differ."""
    from invented_squads import one_squad
    from speedloom.store import backup, migrating

    migrating.bring_up_to_date(folder)
    backup.back_up(folder.database, folder.path / "one.sqlite3")
    one_squad()
    backup.back_up(folder.database, folder.path / "two.sqlite3")
    tell("made")


def in_a_child(deed: str, folder: DataFolder, *, kill_after: float | None) -> list[str]:
    """Do something in a process of its own, kill it so many seconds after it is ready, give what it told."""
    command = [sys.executable, __file__, DO, deed, str(folder.path)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, encoding="utf-8") as child:
        assert child.stdout is not None
        if kill_after is not None:
            child.stdout.readline()  # it is ready
            time.sleep(kill_after)
            if child.poll() is not None:
                raise SystemExit(f"{deed} ended by itself: {child.returncode}")
            child.kill()
        lines = [line[:-1] for line in child.stdout if line.endswith("\n")]
    if kill_after is None and child.returncode:
        raise SystemExit(f"{deed} failed: {child.returncode}, after {lines[-3:]}")
    return lines


def do(deed: str, folder: DataFolder) -> None:
    """Do something to a folder's site, and tell each thing that is confirmed on a line of its own."""
    start(SiteOptions(folder))
    BY_NAME[deed](folder, say)


def found_wrong(deed: str, told: list[str], folder: DataFolder) -> Iterator[str]:
    """Say everything that is half done, lost or doubled after a kill."""
    from speedloom.store.backup import look_at_backup, look_over

    if deed in {"migrate", "update"}:
        in_a_child("finish", folder, kill_after=None)  # what was begun can always be brought to its end
    yield from look_over(folder.database)
    saturday = folder.path / "saturday.sqlite3"
    if deed == "back_up" and saturday.exists():
        look_at_backup(saturday, known=_known())  # raises when it is not whole
    with closing(sqlite3.connect(folder.database)) as database:
        yield from CHECKS[deed](database, told)


def _known() -> frozenset[str]:
    from speedloom.store.migrating import known_migrations

    return known_migrations()


def _finish(folder: DataFolder, tell: Tell) -> None:
    from speedloom.store import migrating

    migrating.bring_up_to_date(folder)
    if migrating.waiting_migrations():
        raise SystemExit("steps still wait")
    tell("finished")


DEEDS: dict[str, Deed] = {
    "log": log,
    "stop": stop,
    "save": save,
    "limit": limit,
    "brief": brief,
    "paste": paste,
    "back_up": back_up,
    "restore": restore,
    "migrate": migrate,
    "update": update,
}
PLACES = {"written": "make", "restore": "make", "migrate": "make", "update": "make_old"}
"""Folders by the deed that has one of its own, and what is made in each first."""
BY_NAME: dict[str, Deed] = {**DEEDS, "make": make, "make_old": make_old, "finish": _finish}
DO = "--do"


def say(text: str) -> None:
    """Print a line at once."""
    sys.stdout.write(f"{text}\n")
    sys.stdout.flush()


def main(kills: int, *, seed: int = 0) -> int:
    """Kill that many times, say what was found, and give how often something was wrong."""
    chance, told = random.Random(seed), Counter[str]()
    wrong = 0
    with tempfile.TemporaryDirectory(prefix="speedloom-kills-") as place:
        folders = {name: DataFolder(Path(place) / name).make() for name in PLACES}
        start(SiteOptions(folders["written"]))
        for name, first in PLACES.items():
            in_a_child(first, folders[name], kill_after=None)
        for number in range(kills):
            name = list(DEEDS)[number % len(DEEDS)]
            folder = folders.get(name, folders["written"])
            lines = in_a_child(name, folder, kill_after=chance.uniform(0, LONGEST_S.get(name, 0.4)))
            faults = list(found_wrong(name, lines, folder))
            told[name] += len(lines)
            wrong += bool(faults)
            for fault in faults:
                say(f"kill {number}, {name}: {fault}")
    say(f"{kills} kills, {wrong} with something wrong; confirmed before them: {dict(told)}")
    return wrong


if __name__ == "__main__":
    if sys.argv[1] == DO:
        do(sys.argv[2], DataFolder(Path(sys.argv[3])))
        sys.exit()
    sys.exit(bool(main(int(sys.argv[1]), seed=int(sys.argv[2]) if len(sys.argv) > 2 else 0)))

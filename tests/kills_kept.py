"""What is wrong in a site's database after a kill: confirmed and lost, doubled, or half done."""

from __future__ import annotations

import sqlite3
from collections import Counter
from collections.abc import Callable, Iterator

BATCH, PASTE = 3, 20
"""Entries sent together, and trials pasted together: each all there or not at all [count]."""
_STOPPED = '%"status":"stopped"%'


def _log_kept(database: sqlite3.Connection, told: list[str]) -> Iterator[str]:
    rows = database.execute("SELECT entry FROM store_logentry WHERE document NOT LIKE ?", (_STOPPED,))
    kept = Counter(entry for (entry,) in rows)
    yield from (f"entry {one} was confirmed and is there {kept[one]} times" for one in told if kept[one] != 1)
    if sum(kept.values()) % BATCH:
        yield f"{sum(kept.values())} entries: a batch of {BATCH} was stored in part"


def _stops_kept(database: sqlite3.Connection, told: list[str]) -> Iterator[str]:
    rows = database.execute("SELECT entry FROM store_logentry WHERE document LIKE ?", (_STOPPED,))
    stops = Counter(f"stop_{entry.replace('-', '')}" for (entry,) in rows)
    limits = Counter(
        ref for (ref,) in database.execute("SELECT ref FROM store_restriction WHERE ref LIKE 'stop_%'")
    )
    if stops != limits:
        yield f"{len(stops)} stops for pain and {len(limits)} limits from them"
    names = (f"stop_{one.replace('-', '')}" for one in told)
    yield from (
        f"{name} was confirmed and is there {limits[name]} times" for name in names if limits[name] != 1
    )


def _limits_kept(database: sqlite3.Connection, told: list[str]) -> Iterator[str]:
    rows = database.execute(
        "SELECT ref, lifted_at FROM store_restriction WHERE ref LIKE 'limit_%'"
    ).fetchall()
    there = Counter(f"set {ref}" for ref, _ in rows) + Counter(f"lifted {ref}" for ref, at in rows if at)
    yield from (f"{one}: confirmed, and there {there[one]} times" for one in told if there[one] != 1)
    deeds = database.execute("SELECT action, detail FROM store_audit WHERE detail LIKE 'limit_%'").fetchall()
    said = Counter(
        f"{'set' if action == 'set_restriction' else 'lifted'} {detail.partition(':')[0]}"
        for action, detail in deeds
    )
    if said != there:
        yield "what was set and lifted is not what the list of deeds says"


def _briefs_kept(database: sqlite3.Connection, told: list[str]) -> Iterator[str]:
    numbers = [one for (one,) in database.execute("SELECT number FROM store_briefrevision ORDER BY number")]
    yield from (f"brief {one} was confirmed and is not there" for one in told if int(one) not in numbers)
    if numbers != list(range(1, len(numbers) + 1)):
        yield f"briefs are {numbers}"
    (deeds,) = database.execute("SELECT count(*) FROM store_audit WHERE about LIKE 'brief %'").fetchone()
    if deeds != len(numbers) - 1:
        yield f"{len(numbers)} briefs, and {deeds} deeds that saved one"


def _saves_kept(database: sqlite3.Connection, told: list[str]) -> Iterator[str]:
    rows = database.execute("SELECT number, digest FROM store_programmerevision ORDER BY number").fetchall()
    digests = Counter(stamp for _, stamp in rows)
    yield from (f"revision {one} is there {digests[one]} times" for one in told if digests[one] != 1)
    if [number for number, _ in rows] != list(range(1, len(rows) + 1)):
        yield f"revisions are {[number for number, _ in rows]}"


def _pastes_kept(database: sqlite3.Connection, told: list[str]) -> Iterator[str]:
    days = dict(database.execute("SELECT date, count(*) FROM store_measurement GROUP BY date").fetchall())
    yield from (f"{day} has {days.get(day)} trials of {PASTE}" for day in told if days.get(day) != PASTE)
    yield from (f"{day} has {n} trials of {PASTE}" for day, n in days.items() if n not in (1, 2, PASTE))


def _one_of_two(database: sqlite3.Connection, _: list[str]) -> Iterator[str]:
    squads, revisions = (
        database.execute(f"SELECT count(*) FROM {table}").fetchone()[0]  # noqa: S608 - two fixed names
        for table in ("store_squad", "store_programmerevision")
    )
    if (squads, revisions) not in {(0, 0), (1, 1)}:
        yield f"{squads} squads and {revisions} revisions: neither of the two backups"


def _account_kept(database: sqlite3.Connection, _: list[str]) -> Iterator[str]:
    (accounts,) = database.execute("SELECT count(*) FROM store_person").fetchone()
    if accounts != 1:
        yield f"{accounts} accounts after an update, expected the one that was there"


def _nothing_more(_: sqlite3.Connection, __: list[str]) -> Iterator[str]:
    yield from ()


CHECKS: dict[str, Callable[[sqlite3.Connection, list[str]], Iterator[str]]] = {
    "log": _log_kept,
    "stop": _stops_kept,
    "save": _saves_kept,
    "limit": _limits_kept,
    "brief": _briefs_kept,
    "paste": _pastes_kept,
    "back_up": _nothing_more,
    "restore": _one_of_two,
    "migrate": _nothing_more,
    "update": _account_kept,
}
"""By the deed that was killed: what it told, held against what is there."""

"""How long a change by hand takes with its check, asked as a browser does; part of `site_pages.py`.

Before each change come the week, the check of that athlete and the form, as they do on the screen. Wanted: a
95th percentile of at most 300 ms for the change, 100 ms for the whole squad's check asked for the first time,
and for the look at what bringing the first revision back would change. Solving the rest again is planning:
its page asks first and costs nothing, and the plan says that it takes a moment; it is to take at most 2 s.
"""

from __future__ import annotations

import random
import statistics
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

from django.http import HttpResponse
from django.test import Client

from speedloom.training.document import digest
from speedloom.training.programme import Prescription, Programme

CHANGE_MS, CHECK_MS, SOLVE_MS = 300.0, 100.0, 2000.0
SAVED = 302
SELDOM = 5
"""Changes after which the rest is solved again once [count]."""


@dataclass(frozen=True)
class Taken:
    """How long something took, time after time [ms], and how much of it was this process's own work [ms]."""

    what: str
    limit: float
    wall: list[float] = field(default_factory=list)
    own: list[float] = field(default_factory=list)

    def ask(self, question: Callable[[], HttpResponse]) -> HttpResponse:
        """Ask, and take the time."""
        wall, own = time.perf_counter(), time.process_time()
        answer = question()
        self.wall.append(1000 * (time.perf_counter() - wall))
        self.own.append(1000 * (time.process_time() - own))
        return answer

    @property
    def kept(self) -> bool:
        """Whether it is as quick as wanted by the clock on the wall."""
        return p95(self.wall) <= self.limit

    @property
    def own_kept(self) -> bool:
        """Whether its own work is as quick as wanted: on a busy machine the clock counts others' as well."""
        return p95(self.own) <= self.limit

    def __str__(self) -> str:
        middle, late = statistics.median(self.wall), "" if self.kept else " NOT KEPT"
        said = f"{middle:7.1f} ms, 95 % {p95(self.wall):7.1f}, own work {statistics.median(self.own):6.1f}"
        return f"{said}, 95 % {p95(self.own):6.1f}{late}{'' if self.own_kept else ' BY OWN WORK'}"


def p95(times: list[float]) -> float:
    """Give the 95th percentile [ms]."""
    return sorted(times)[max(0, round(0.95 * len(times)) - 1)]


def changes(
    client: Client, squad: str, programme: Programme, *, times: int, read: Callable[[], Programme]
) -> Iterator[Taken]:
    """Change as many lines, drawn with a seed; give the times of the changes and of the checks after them."""
    chance = random.Random(5)
    change = Taken("a change of one line with its check, saved", CHANGE_MS)
    check = Taken("check of one athlete after a change", CHECK_MS)
    whole = Taken("check of the whole squad after a change, the first time", CHECK_MS)
    back, solve = (
        Taken("what the first revision would bring back, after a change", CHECK_MS),
        Taken("solving the rest again after a change, looked at", SOLVE_MS),
    )
    here = f"/squads/{squad}/programmes/{programme.id}/"
    while len(change.wall) < times:
        document = read()
        athlete, line = chance.choice(_lines(document))
        client.get(here, {"athlete": athlete})
        client.get(f"{here}check/", {"athlete": athlete})
        form = f"{here}change/{line.ref}/"
        client.get(form)
        typed = {"after": digest(document), "reason": "lighter today", "sets": str(line.sets - 1)}
        if change.ask(lambda: client.post(form, typed)).status_code != SAVED:  # noqa: B023 - asked at once
            change.wall.pop(), change.own.pop()  # a rule did not allow it: nothing was saved
            continue
        check.ask(lambda: client.get(f"{here}check/", {"athlete": athlete}))  # noqa: B023
        whole.ask(lambda: client.get(f"{here}check/"))
        back.ask(lambda: client.get(f"{here}revisions/1/"))
        if len(change.wall) % SELDOM == 0:
            solve.ask(lambda: client.post(f"{here}solve-again/", {"look": "1"}))
    yield from (change, check, whole, back, solve)


def _lines(programme: Programme) -> list[tuple[str, Prescription]]:
    return [
        (own.athlete, line)
        for own in programme.programmes
        for week in own.weeks
        for session in week.sessions
        for line in session.prescriptions
        if line.purpose == "work" and line.sets > 1
    ]

"""Long work on the side: a page that asks can show how far it is, and leave; the same work is done once."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from threading import Lock

from speedloom.planning.clash import Clash
from speedloom.training.kept import forgotten_by
from speedloom.training.programme import Programme

Outcome = Programme | Clash
Report = Callable[[str, float], None]
KEPT = 6
"""Outcomes kept in memory, so that accepting what was looked at does not plan it anew [count]."""
AT_A_TIME = 2
_WORKERS = ThreadPoolExecutor(AT_A_TIME, thread_name_prefix="planning-again")


class Job:
    """A plan under way, or made."""

    def __init__(self, make: Callable[[Report], Outcome]) -> None:
        """Begin it."""
        self.share = 0.0
        self.future: Future[Outcome] = _WORKERS.submit(make, self._report)

    def _report(self, _about: str, share: float) -> None:
        self.share = share

    def done(self, *, within_s: float) -> bool:
        """Say whether it is made, after waiting a little."""
        try:
            self.future.exception(timeout=within_s)
        except TimeoutError:
            return False
        return True


_JOBS: OrderedDict[str, Job] = OrderedDict()
_LOCK = Lock()


def under_way(key: str, make: Callable[[Report], Outcome]) -> Job:
    """Give the job of a key, begun now if nobody asked for it before.

    Args:
        key: everything the outcome depends on, in one text.
        make: makes the outcome; it must not touch the database, for it runs in a thread of its own.
    """
    with _LOCK:
        job = _JOBS.get(key)
        if job is None or (job.future.done() and job.future.exception() is not None):
            job = _JOBS[key] = Job(make)
        _JOBS.move_to_end(key)
        while len(_JOBS) > KEPT:
            _JOBS.popitem(last=False)
        return job


def _forget() -> None:
    with _LOCK:
        _JOBS.clear()


forgotten_by(_forget)

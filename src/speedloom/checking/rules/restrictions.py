"""X1: no line exceeds a restriction that holds for the athlete on that day."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

from speedloom.checking.finding import Finding
from speedloom.checking.line import Work
from speedloom.checking.scene import Scene, Visit
from speedloom.training.athlete import Limit, Restriction
from speedloom.training.words import LimitOf

_UNITS: Mapping[LimitOf, str] = {
    "share_vmax": "share",
    "distance_m": "m",
    "load_kg": "kg",
    "share_1rm": "share",
    "contacts": "contacts",
    "minutes": "min",
    "sets": "sets",
}
_NEARLY = 1e-6


def restriction_kept(scene: Scene) -> Iterator[Finding]:
    """Find lines, or sums of a session, above a limit in force."""
    for visit in scene.visits:
        restrictions = visit.person.entry.restrictions if visit.person.entry else ()
        for restriction in restrictions:
            if restriction.holds(visit.day):
                for limit in restriction.limits:
                    yield from _exceeded(scene, visit, restriction, limit)


def _exceeded(scene: Scene, visit: Visit, restriction: Restriction, limit: Limit) -> Iterator[Finding]:
    meant = [work for work in visit.work if _meant(limit, work)]
    value, worst = _amount(visit, limit, meant)
    if value > limit.at_most + _NEARLY:
        yield scene.breach(
            "restriction_kept",
            visit=visit,
            line=worst.line if worst else None,
            value=value,
            limit=limit.at_most,
            unit=_UNITS[limit.what],
            restriction=restriction.ref,
            what=limit.what,
            set_by=restriction.set_by,
        )


def _meant(limit: Limit, work: Work) -> bool:
    line = work.line
    return (
        limit.method in {None, line.method}
        and limit.exercise in {None, line.exercise}
        and (limit.tag is None or limit.tag in work.tags)
        and (limit.side is None or line.side in {"both", "each", limit.side})
    )


def _amount(visit: Visit, limit: Limit, meant: Sequence[Work]) -> tuple[float, Work | None]:
    """Give what counts against a limit, and the line that counts most."""
    if limit.what == "minutes" and not _narrowed(limit):
        return visit.session.minutes, None
    if not meant:
        return 0.0, None
    values = [(_VALUE[limit.what](work, limit), work) for work in meant]
    value, worst = max(values, key=lambda pair: pair[0])
    if limit.what in {"contacts", "minutes", "sets"}:
        return sum(one for one, _ in values), worst
    return value, worst


def _narrowed(limit: Limit) -> bool:
    return any(part is not None for part in (limit.method, limit.exercise, limit.tag, limit.side))


def _contacts(work: Work, limit: Limit) -> float:
    # Repetitions of "each" are done on both sides; a limit on one side counts that side's half.
    half = limit.side is not None and work.line.side == "each"
    return work.contacts / 2 if half else float(work.contacts)


_VALUE: Mapping[LimitOf, Callable[[Work, Limit], float]] = {
    "share_vmax": lambda work, _: work.share,
    "distance_m": lambda work, _: work.run_m,
    "load_kg": lambda work, _: (work.line.load_kg or 0.0) + (work.line.added_kg or 0.0),
    "share_1rm": lambda work, _: work.share_1rm or 0.0,
    "contacts": _contacts,
    "minutes": lambda work, _: work.line.minutes,
    "sets": lambda work, _: float(work.line.sets),
}

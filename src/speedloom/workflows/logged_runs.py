"""Results that are the gates of one run: one repetition at several distances, later where it is farther."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from speedloom.training.log import Result


def by_repetition(results: Iterable[Result]) -> Mapping[tuple[int, int], tuple[Result, ...]]:
    """Put the results of one repetition together, by set and repetition (0 where none is said)."""
    found: dict[tuple[int, int], tuple[Result, ...]] = {}
    for result in results:
        place = (result.set, result.rep or 0)
        found[place] = (*found.get(place, ()), result)
    return found


def gates_of(results: Sequence[Result]) -> tuple[Result, ...]:
    """Give the results of one repetition as gates of one run, nearest first; none where they are not.

    Gates have a time and a distance each, no distance twice, and one load; that times grow is not asked.
    """
    timed = [one for one in results if one.distance_m and one.time_s]
    distances = {one.distance_m for one in timed}
    alike = len(timed) == len(results) == len(distances) and len({one.load_kg for one in results}) == 1
    return tuple(sorted(timed, key=_distance)) if alike and len(timed) > 1 else ()


def not_later(gates: Sequence[Result]) -> tuple[Result, ...]:
    """Give the gates whose time is not above that of a nearer gate: no run can be so."""
    latest, odd = 0.0, []
    for gate in gates:
        if (gate.time_s or 0.0) <= latest:
            odd.append(gate)
        latest = max(latest, gate.time_s or 0.0)
    return tuple(odd)


def whole_runs(results: Sequence[Result]) -> tuple[Result, ...]:
    """Give one result for each run: of several gates the farthest, which is what was run."""
    kept: list[Result] = []
    for those in by_repetition(results).values():
        gates = gates_of(those)
        kept += [gates[-1]] if gates else those
    return tuple(kept)


def _distance(result: Result) -> float:
    return result.distance_m or 0.0

"""The few words on a thread: what a method is in one mesocycle, said ever shorter."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence

from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Prescription
from speedloom.wording.names import short_name
from speedloom.wording.units import METRIC, Units, length_number, number

Texts = tuple[str, ...]


def span_of(values: Iterable[float]) -> str:
    """Write the least and the greatest of some numbers.

    >>> span_of([10.0, 15.0, 10.0]), span_of([5])
    ('10–15', '5')
    """
    known = sorted(set(values))
    low, high = number(known[0]), number(known[-1])
    return low if low == high else f"{low}–{high}"


def thread_words(
    key: str, lines: Sequence[Prescription], *, catalogue: Catalogue, units: Units = METRIC
) -> Texts:
    """Say what a thread's lines are, the longest way first; nothing where there are none."""
    if key == "plyometric":
        return _names(lines, catalogue=catalogue)
    return _WAYS[key](lines, units) if lines else ()


def _sprint(lines: Sequence[Prescription], units: Units) -> Texts:
    standing = [line.distance_m for line in lines if line.distance_m and line.run != "top_speed"]
    flying = [line.distance_m for line in lines if line.distance_m and line.run == "top_speed"]
    near = f"{_metres(standing, units)} {units.length}" if standing else ""
    far = f"run-in + {_metres(flying, units)} {units.length}" if flying else ""
    return tuple(dict.fromkeys(filter(None, (" · ".join(filter(None, (near, far))), near or far))))


def _metres(distances: Iterable[float], units: Units) -> str:
    known = sorted(set(distances))
    ends = dict.fromkeys(length_number(value, units=units) for value in (known[0], known[-1]))
    return "–".join(ends)


def _resisted(lines: Sequence[Prescription], _: Units) -> Texts:
    slower = [100.0 * line.decrement for line in lines if line.decrement and line.effort is None]
    if not slower:
        return ("hill",) if any(line.grade for line in lines) else ()
    whole = span_of(round(value) for value in slower)
    return (f"{whole} % slower", f"{whole} %")


def _power(lines: Sequence[Prescription], _: Units) -> Texts:
    loaded = [100.0 * line.share_1rm for line in lines if line.share_1rm and line.load_kg]
    if not loaded:
        return ("body weight",)
    whole = span_of(round(value) for value in loaded)
    return (f"{whole} % of 1RM", f"{whole} %")


def _repetitions(lines: Sequence[Prescription], _: Units) -> Texts:
    reps = span_of(value for line in lines for value in (line.reps, line.reps_to or line.reps))
    return (f"{reps} reps",)


def _names(lines: Sequence[Prescription], *, catalogue: Catalogue) -> Texts:
    work: Counter[str] = Counter()
    for line in lines:
        name = short_name(line.exercise, catalogue=catalogue)
        work[name[:1].lower() + name[1:]] += line.contacts or line.sets * line.reps
    most = [name for name, _ in sorted(work.items(), key=lambda entry: (-entry[1], entry[0]))[:2]]
    return tuple(dict.fromkeys(filter(None, (", ".join(most), *most))))


_WAYS: Mapping[str, Callable[[Sequence[Prescription], Units], Texts]] = {
    "sprint": _sprint,
    "resisted": _resisted,
    "power": _power,
    "maximal": _repetitions,
    "general": _repetitions,
}

"""What became of a session from one revision to the next, as kinds of change: "fewer runs", "other jumps"."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

from speedloom.training.programme import Prescription, Session
from speedloom.wording.dates import listing

Kind = tuple[str, str]
"""How something changed, and what: ("fewer", "jumps")."""
LIFTS = ("power", "maximal_strength", "general_strength", "hamstring_groin_calf")
NOUNS = ("top-speed runs", "runs", "sled runs", "jumps", "sets", "build-up runs", "warm-up", "own lines")
OTHERWISE = "otherwise changed"
AFTER = frozenset({"added", "left out", "on another day", "otherwise divided", "changed"})
"""What is said after the thing, not before it."""
OPPOSITES: Mapping[frozenset[str], str] = {
    frozenset({"added", "left out"}): "on another day",
    frozenset({"fewer", "more"}): "otherwise divided",
}
"""What two changes that go against each other in one week come to."""
AGAINST = (
    *OPPOSITES,
    *map(
        frozenset,
        (
            ("shorter", "longer"),
            ("slower", "faster"),
            ("lighter", "heavier"),
            ("easier", "harder"),
            ("lower", "higher"),
        ),
    ),
)


def kinds_of(old: Session, new: Session) -> tuple[Kind, ...]:
    """Give what changed in a session's work, a kind of work at a time; dates and places are not compared."""
    found = [kind for noun in NOUNS for kind in _kinds(noun, _of(noun, old), _of(noun, new))]
    return tuple(found) or tuple(_small(old, new))


def kinds_text(kinds: Iterable[Kind]) -> str:
    """Write kinds of change, those of one sort together.

    >>> kinds_text([("fewer", "runs"), ("fewer", "jumps"), ("lighter", "sled runs")])
    'fewer runs and jumps, lighter sled runs'
    """
    sorts: dict[str, list[str]] = {}
    for how, noun in kinds:
        sorts.setdefault(how, []).append(noun)
    return ", ".join(_sort(how, listing(nouns)) for how, nouns in sorts.items())


def _sort(how: str, nouns: str) -> str:
    return (f"{nouns} {how}" if how in AFTER else f"{how} {nouns}").strip()


def together(kinds: Iterable[Kind]) -> tuple[Kind, ...]:
    """Give what the changes of several sessions come to; those that go against each other become one.

    >>> together([("left out", "jumps"), ("fewer", "sets"), ("added", "jumps")])
    (('on another day', 'jumps'), ('fewer', 'sets'))
    """
    hows: dict[str, dict[str, None]] = {}
    for how, noun in kinds:
        hows.setdefault(noun, {})[how] = None
    return tuple((how, noun) for noun, found in hows.items() for how in _settled(list(found)))


def _settled(hows: Sequence[str]) -> Iterator[str]:
    against = [pair for pair in AGAINST if pair <= set(hows)]
    yield from (OPPOSITES.get(pair, "changed") for pair in against)
    if not any(pair in OPPOSITES for pair in against):
        yield from (how for how in hows if not any(how in pair for pair in against))


def _small(old: Session, new: Session) -> Iterator[Kind]:
    """Give what changed beside the work itself."""
    if old.minutes != new.minutes:
        yield ("shorter" if new.minutes < old.minutes else "longer", "session")
    was, now = ([line.expect for line in one.prescriptions] for one in (old, new))
    if was != now:
        yield ("other", "times to expect")
    if was == now and old.minutes == new.minutes and _shown(old) != _shown(new):
        yield (OTHERWISE, "")


def _noun(line: Prescription) -> str:
    if line.purpose == "warm_up":
        return "warm-up"
    if line.purpose == "build_up":
        return "build-up runs"
    if line.method == "unloaded_sprint":
        return "top-speed runs" if line.run == "top_speed" else "runs"
    if line.method in LIFTS:
        return "sets"
    return {"resisted_sprint": "sled runs", "plyometric": "jumps"}.get(line.method, "own lines")


def _of(noun: str, session: Session) -> list[Prescription]:
    return [line for line in session.prescriptions if _noun(line) == noun]


def _kinds(noun: str, old: Sequence[Prescription], new: Sequence[Prescription]) -> Iterator[Kind]:
    if not old and not new:
        return
    if not old or not new:
        yield ("added" if new else "left out", noun)
        return
    much, now = _amount(noun, old), _amount(noun, new)
    if much != now:
        yield ("fewer" if now < much else "more", noun)
    if [line.exercise for line in old] != [line.exercise for line in new] and _swapped(old, new):
        yield ("other", noun)
        return
    for less, more, number in QUALITIES:
        way = _way(number, old, new)
        if way:
            yield (less if way < 0 else more, noun)


def _amount(noun: str, lines: Sequence[Prescription]) -> int:
    if noun == "jumps":
        return sum(line.contacts or 0 for line in lines)
    if noun == "sets":
        return sum(line.sets for line in lines)
    return sum(line.sets * line.reps for line in lines)


def _swapped(old: Sequence[Prescription], new: Sequence[Prescription]) -> bool:
    """Say whether an exercise came in, not only went out."""
    return not {line.exercise for line in new} <= {line.exercise for line in old}


Number = Callable[[Prescription], float | None]


def _metres(line: Prescription) -> float | None:
    return None if line.distance_m is None else line.distance_m + (line.run_in_m or 0.0)


def _pace(line: Prescription) -> float:
    return 1.0 if line.effort is None else line.effort


def _repetitions(line: Prescription) -> float | None:
    return line.reps if line.method in LIFTS else None


def _room_left(line: Prescription) -> float | None:
    return None if line.rir is None else -line.rir


QUALITIES: tuple[tuple[str, str, Number], ...] = (
    ("shorter", "longer", _metres),
    ("slower", "faster", _pace),
    ("lighter", "heavier", lambda line: line.load_kg),
    ("shorter", "longer", _repetitions),
    ("easier", "harder", _room_left),
    ("lower", "higher", lambda line: line.height_m),
)
"""What a change is called when a number falls, and when it rises."""


def _way(number: Number, old: Sequence[Prescription], new: Sequence[Prescription]) -> float:
    """Give the way a number went: by the line that changed most, 0 where none did."""
    before = {line.exercise: number(line) for line in old}
    moves = [
        (now - was) / max(abs(was), 1.0)
        for line in new
        if (now := number(line)) is not None and (was := before.get(line.exercise)) is not None
    ]
    return max(moves, key=abs, default=0.0)


def _shown(session: Session) -> list[dict[str, object]]:
    """Give what people see of a session's lines: all but the derivation and the refs."""
    return [line.model_dump(exclude={"basis", "ref", "pair"}) for line in session.prescriptions]

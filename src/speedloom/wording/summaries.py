"""What was planned, in a few lines."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping

from speedloom.checking.finding import Findings
from speedloom.training.programme import Programme, Unmet
from speedloom.wording.dates import listing, runs, span
from speedloom.wording.findings import counted
from speedloom.wording.names import athlete_name, word
from speedloom.wording.units import number

ASSUMED = {
    "height_m": "height",
    "mass_kg": "body mass",
    "length": "acceleration length",
    "temperature_c": "air temperature",
}
WISHES = {"frequency": "sessions", "volume": "volume", "session": "session"}
MANY = 4


def plan_summary(programme: Programme, *, findings: Findings) -> str:
    """Say what was planned, what was assumed, what could not be had, and what the check found."""
    lines = [
        _size(programme),
        *_assumed(programme),
        *_unmet(programme),
        f"Check: {counted(findings)}.",
    ]
    return "\n".join(lines) + "\n"


def _size(programme: Programme) -> str:
    content = programme.brief.content
    weeks = max((len(own.weeks) for own in programme.programmes), default=0)
    counts = Counter(len([s for week in own.weeks for s in week.sessions]) for own in programme.programmes)
    fewest, most = min(counts, default=0), max(counts, default=0)
    sessions = f"{most}" if fewest == most else f"{fewest} to {most}"
    title = f"{content.name}: " if content else ""
    dates = f" ({span(content.start, content.end)})" if content else ""
    athletes = len(programme.programmes)
    return (
        f"{title}{weeks} weeks{dates}, {athletes} athlete{'s' * (athletes != 1)}, "
        f"{sessions} sessions{' each' * (athletes != 1)}."
    )


def _assumed(programme: Programme) -> Iterator[str]:
    content = programme.brief.content
    whom: dict[str, list[str]] = defaultdict(list)
    for one in content.assumed if content else ():
        athlete, _, what = one.partition(".")
        whom[what].append(athlete_name(programme, athlete))
    for what, names in whom.items():
        everybody = len(names) == len(programme.programmes)
        said = "everybody" if everybody and len(names) > 1 else listing(names)
        yield f"Assumed: {assumed_words(what)} of {said}."


def assumed_words(what: str) -> str:
    """Say what was assumed.

    >>> assumed_words("level.power")
    'level in power'
    """
    head, _, rest = what.partition(".")
    named = ASSUMED.get(head, word(head))
    return f"{named} in {word(rest)}" if rest else named


def _unmet(programme: Programme) -> Iterator[str]:
    whom: dict[tuple[str, tuple[int, ...]], list[str]] = defaultdict(list)
    for (wish, athlete), found in _by_athlete(programme).items():
        weeks = tuple(sorted({one.week for one in found}))
        amounts = _amounts(found) if len(found) == 1 else ""
        whom[f"{wish}{amounts}", weeks].append(athlete)
    several = len(programme.programmes) > 1
    for (wish, weeks), athletes in whom.items():
        named = listing(athletes) if len(athletes) <= MANY else f"{len(athletes)} athletes"
        when = f"week{'s' * (len(weeks) > 1)} {runs(weeks)}"
        yield f"Not had in full: {wish} in {when}{f', {named}' * several}."


def _by_athlete(programme: Programme) -> Mapping[tuple[str, str], list[Unmet]]:
    found: dict[tuple[str, str], list[Unmet]] = defaultdict(list)
    for wish in programme.unmet:
        found[_wish(wish), athlete_name(programme, wish.athlete)].append(wish)
    return found


def _wish(wish: Unmet) -> str:
    reason = f" ({word(wish.reason)})" if wish.reason else ""
    if wish.wish == "volume" and wish.method:
        return f"{word(wish.method)}{reason}"
    method = f" of {word(wish.method)}" if wish.method else ""
    return f"{WISHES.get(wish.wish, word(wish.wish))}{method}{reason}"


def _amounts(found: list[Unmet]) -> str:
    (wish,) = found
    return "" if wish.wanted is None else f" ({number(wish.got or 0)} of {number(wish.wanted)})"

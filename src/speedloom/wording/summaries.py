"""What was planned, in a few lines."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence

from speedloom.checking.finding import Findings
from speedloom.training.programme import Programme
from speedloom.wording.dates import full_date, listing, span
from speedloom.wording.findings import counted
from speedloom.wording.missing import missing_lines
from speedloom.wording.names import athlete_name, word
from speedloom.wording.unmet import unmet_lines

ASSUMED = {
    "height_m": "height",
    "mass_kg": "body mass",
    "length": "acceleration length",
    "temperature_c": "air temperature",
}


def plan_summary(programme: Programme, *, findings: Findings, doubts: Sequence[str] = ()) -> str:
    """Say what was planned, what was assumed, what could not be had, and what the check found.

    `doubts` is what in the tests can hardly be true.
    """
    lines = [
        _size(programme),
        *_assumed(programme),
        *missing_lines(programme),
        *doubts,
        *unmet_lines(programme),
        f"Check: {counted(findings)}.",
    ]
    return "\n".join(lines) + "\n"


def past_words(programme: Programme) -> tuple[str, ...]:
    """Say until when a programme is over and not judged; nothing where all of it lies ahead."""
    frozen = programme.revision.frozen_until
    if frozen is None:
        return ()
    return (f"Days until {full_date(frozen)} are over: they stand as they were and are not judged.",)


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

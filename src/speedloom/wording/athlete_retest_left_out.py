"""What a retest cannot compare, and what to do about it: one line an athlete and reason."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from speedloom.training.exercise import Catalogue
from speedloom.wording.athlete_retest_values import measure_name
from speedloom.wording.dates import full_date, listing
from speedloom.wording.names import word
from speedloom.workflows.retest import Retest
from speedloom.workflows.retest_pairs import Changed, LeftOut
from speedloom.workflows.retest_values import Refused

_FIELDS: Mapping[str, str] = {
    "timing": "timing",
    "clock": "start of the clock",
    "behind_m": "distance behind the first beam",
    "start": "start",
    "surface": "surface",
    "height from": "height",
    "jump": "jump",
}
_REFUSED: Mapping[str, str] = {
    "impossible_jump": "a jump that cannot be true; was the flight time in milliseconds, the height in cm?",
    "too_many_repetitions": "more than 10 repetitions to failure say too little of one; test with fewer",
}
NOT_SAID = "not said"


def left_out_lines(
    found: Retest, *, catalogue: Catalogue, names: Mapping[str, str] | None = None
) -> tuple[str, ...]:
    """Say of everybody what was refused and what could not be compared, in order of athlete."""
    who = names or {}
    told = sorted({one.athlete for one in found.left_out} | {one.athlete for one in found.refused})
    return tuple(
        f"{who.get(ref, ref)}: {line}"
        for ref in told
        for line in own_left_out(found, ref, catalogue=catalogue)
    )


def own_left_out(found: Retest, athlete: str, *, catalogue: Catalogue) -> tuple[str, ...]:
    """Say of one athlete what was refused and what could not be compared."""
    groups: dict[tuple[object, ...], list[LeftOut]] = {}
    for one in found.left_out:
        if one.athlete == athlete:
            groups.setdefault((one.why, one.days, one.changed), []).append(one)
    return (
        *(_left_out(those, catalogue=catalogue) for those in groups.values()),
        *(_refused(one) for one in found.refused if one.athlete == athlete),
    )


def _left_out(those: Sequence[LeftOut], *, catalogue: Catalogue) -> str:
    first = those[0]
    what = listing(_lower(measure_name(one.measure, catalogue=catalogue)) for one in those)
    if first.why == "one_test_only":
        return (
            f"{what} tested on one day only ({full_date(first.days[0])}); "
            "nothing to compare until there is a second test."
        )
    how = listing(_changed(one) for one in first.changed)
    return (
        f"{what} not compared: {how} ({full_date(first.days[0])} and {full_date(first.days[-1])}). "
        "Test again as the first time, or begin a new line."
    )


def _changed(one: Changed) -> str:
    return (
        f"{_FIELDS.get(one.field, one.field)} {word(one.before) or NOT_SAID}, "
        f"then {word(one.after) or NOT_SAID}"
    )


def _refused(one: Refused) -> str:
    which = f"{one.what} {one.trial}" if one.trial is not None else one.what
    why = _REFUSED.get(one.why, word(one.why))
    return f"{which} of {full_date(one.date)} left out: {why}."


def _lower(text: str) -> str:
    return text[:1].lower() + text[1:]

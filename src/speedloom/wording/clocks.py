"""Where to stand and what starts the clock, so that an expected time can be measured again."""

from __future__ import annotations

BEHIND = "behind"
LONG = {
    "movement": "the first movement starts the clock",
    "unknown": "start as in the test",
    "gun": "the gun starts the clock",
    "flying": "from beam to beam, after the run-in",
}
SHORT = {"movement": "from first movement", "unknown": "as in the test", "gun": "from the gun", "flying": ""}


def clock_long(clock: str) -> str:
    """Say in a heading where to stand and what starts the clock.

    >>> clock_long("gates/behind/0.5"), clock_long("hand/movement")
    ('times: gates, start 0.5 m behind the first beam', 'times: hand, the first movement starts the clock')
    """
    timing, start, metres = _parts(clock)
    if start == BEHIND and metres:
        return f"times: {timing}, start {metres} m behind the first beam"
    return f"times: {timing}, {LONG.get(start, LONG['unknown'])}"


def clock_short(clock: str) -> str:
    """Say beside one athlete's time where to stand; nothing for a run-in, which the line names itself.

    >>> clock_short("gates/behind/0.3"), clock_short("gates/flying")
    ('0.3 m behind the beam', '')
    """
    _, start, metres = _parts(clock)
    return f"{metres} m behind the beam" if start == BEHIND and metres else SHORT.get(start, SHORT["unknown"])


def _parts(clock: str) -> tuple[str, str, str]:
    timing, _, rest = clock.partition("/")
    start, _, metres = rest.partition("/")
    return timing, start, metres

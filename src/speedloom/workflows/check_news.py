"""What the check finds after a change that it did not find before, and what it no longer finds."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from speedloom.checking.finding import Finding

WEIGHTS = ("advice", "warning", "hard")
_SAME = 1e-9


@dataclass(frozen=True)
class CheckNews:
    """New and worse findings, and those that are gone; in the check's own order."""

    new: tuple[Finding, ...]
    gone: tuple[Finding, ...]

    @property
    def hard(self) -> tuple[Finding, ...]:
        """The new ones that no programme may hold."""
        return tuple(one for one in self.new if one.weight == "hard")

    @property
    def to_look_at(self) -> tuple[Finding, ...]:
        """The new ones that a coach may keep with a word."""
        return tuple(one for one in self.new if one.weight == "warning")


def check_news(was: Iterable[Finding], now: Iterable[Finding]) -> CheckNews:
    """Compare what the check finds before and after a change.

    A finding that stood before is news where its value is further from the limit now, where it weighs more,
    or where more lines have it.
    """
    before = {_about(one): one for one in was}
    after = {_about(one): one for one in now}
    new = tuple(one for key, one in after.items() if key not in before or _is_worse(one, before[key]))
    gone = tuple(one for key, one in before.items() if key not in after and one.weight != "advice")
    return CheckNews(new, gone)


def _about(finding: Finding) -> tuple[object, ...]:
    # The line is left out: a line that was swapped has another name, and a rule is found once a session.
    return (finding.rule, finding.number, finding.athlete, finding.week, finding.session)


def _is_worse(now: Finding, was: Finding) -> bool:
    heavier = WEIGHTS.index(now.weight) > WEIGHTS.index(was.weight)
    more = _lines(now) > _lines(was)
    return heavier or more or now.excess > was.excess + _SAME


def _lines(finding: Finding) -> int:
    return int(dict(finding.detail).get("lines", "1"))

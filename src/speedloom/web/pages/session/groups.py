"""Those of one exercise who do the same: a head for each dose, so that no row says otherwise than it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from speedloom.report.sheets.squad import Attendance
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Prescription
from speedloom.wording.clocks import clock_long, clock_short
from speedloom.wording.line_words import load_meaning, stop_words
from speedloom.wording.session_words import line_words
from speedloom.wording.units import Units

UNLESS_ABSENT = frozenset({"held", "clock"})


@dataclass(frozen=True)
class Group:
    """Athletes with one exercise, dose, manner and rest; `facts` are those that hold for all of them."""

    name: str
    dose: str
    facts: Mapping[str, str]
    lines: tuple[tuple[Attendance, Prescription], ...]

    def own_words(self, line: Prescription, *, catalogue: Catalogue, units: Units) -> str:
        """Say how a line is done where its group does not say it."""
        said = _facts(line, catalogue=catalogue, units=units)
        said["clock"] = clock_short(line.expect.clock) if line.expect else ""
        return " · ".join(words for name, words in said.items() if words and name not in self.facts)


def grouped(
    lines: Sequence[tuple[Attendance, Prescription]], *, catalogue: Catalogue, units: Units
) -> tuple[Group, ...]:
    """Put together who does the same, the groups in the order in which their first athlete goes."""
    found: dict[tuple[str, ...], list[tuple[Attendance, Prescription]]] = {}
    for one, line in lines:
        words = line_words(line, catalogue=catalogue, units=units)
        found.setdefault((words.name, words.dose, words.manner, words.rest), []).append((one, line))
    return tuple(
        Group(name, dose, _shared([_facts(line, catalogue=catalogue, units=units) for _, line in those]),
              tuple(those))
        for (name, dose, *_), those in found.items()
    )  # fmt: skip


def facts_of_all(groups: Sequence[Group]) -> Mapping[str, str]:
    """Give what holds for every group: it is said once, above all of them."""
    return {name: said for name, said in _shared([group.facts for group in groups]).items() if said}


def _facts(line: Prescription, *, catalogue: Catalogue, units: Units) -> dict[str, str]:
    """Say how a line is done: manner, rests, what the load holds, when to stop, how it is timed."""
    words = line_words(line, catalogue=catalogue, units=units)
    return {
        "manner": words.manner,
        "rest": words.rest,
        "stop": stop_words(line),
        "held": load_meaning(line, catalogue=catalogue, units=units),
        "clock": clock_long(line.expect.clock) if line.expect else "",
    }


def _shared(facts: Sequence[Mapping[str, str]]) -> dict[str, str]:
    """Give what all of them say; who has no load and no time has nothing to say of either."""
    shared = {}
    for name in facts[0]:
        said = {one.get(name) for one in facts} - ({""} if name in UNLESS_ABSENT else set())
        if len(said) == 1 and None not in said:
            shared[name] = said.pop() or ""
    return shared

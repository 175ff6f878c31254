"""What the session page shows, as plain values for its template and for the phone."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from django.utils.translation import gettext as _

from speedloom.exchange.filled_weeks import clock_of
from speedloom.report.sheets.plates import plates_text
from speedloom.report.sheets.squad import Attendance, SquadSession
from speedloom.training.exercise import Catalogue
from speedloom.training.kit import Kit
from speedloom.training.log import LogEntry
from speedloom.training.programme import Prescription, Programme
from speedloom.web.pages.session.above import above_limits
from speedloom.web.pages.session.box_text import said_in_box
from speedloom.web.pages.session.groups import Group, facts_of_all, grouped
from speedloom.web.pages.session.left_out import held, pain_elsewhere
from speedloom.web.pages.session.steps import Step, steps_of
from speedloom.web.pages.session.swaps import instead_of, swapped
from speedloom.wording.cautions import exercise_cautions
from speedloom.wording.line_words import TIMES, boxes, stop_time, stop_words
from speedloom.wording.names import exercise_name
from speedloom.wording.session_words import LineWords, line_words
from speedloom.wording.units import METRIC, Units, kilograms_per
from speedloom.workflows.done_as_written import prescribed_results
from speedloom.workflows.two_accounts import Account, Place, accounts, last_entries

NOT_HERE = frozenset({"absent", "skipped"})
FEW_BOXES = 3
"""So many boxes stand beside a name on a phone [count]."""


@dataclass(frozen=True)
class BoxShown:
    """One repetition or set to be filled in, with what stands in it."""

    name: str
    set: int
    rep: int
    label: str
    text: str
    shown: str
    unusual: bool
    differs: bool
    both: str
    """Every value that stands of it, where they differ."""


@dataclass(frozen=True)
class RowShown:
    """One athlete's part of an exercise."""

    athlete: str
    name: str
    line: str
    own: str
    load: str
    plates: str
    expect: str
    band: str
    stop: str
    stop_words: str
    kind: str
    boxes: tuple[BoxShown, ...]
    state: str
    over: bool
    limit: str
    pain: str
    held: bool
    swap: bool
    data: str

    @property
    def two(self) -> tuple[BoxShown, ...]:
        """The boxes of which two values stand, to be settled."""
        return tuple(box for box in self.boxes if box.differs)

    @property
    def full(self) -> bool:
        """Whether boxes and name need a line each on a phone."""
        return len(self.boxes) > FEW_BOXES or bool(self.load or self.expect)

    @property
    def small(self) -> str:
        """What stands below the name: own exercise or dose, expected time, time that stops, plates."""
        stop = f"stop {self.stop}" if self.stop else ""
        time = self.expect if self.load else ""
        plates = f"plates {self.plates}" if self.plates else ""
        return " · ".join(filter(None, (self.own, time, stop, plates)))

    def with_typed(self, typed: Mapping[str, str]) -> RowShown:
        """Put what was typed into the boxes; what stands in the log is kept beside it."""
        return replace(
            self, boxes=tuple(replace(box, text=typed.get(box.name, box.text)) for box in self.boxes)
        )


@dataclass(frozen=True)
class GroupShown:
    """Those who do one exercise in one dose; `head` is empty where the exercise has one group only."""

    head: str
    dose: str
    about: str
    rows: tuple[RowShown, ...]


@dataclass(frozen=True)
class StepShown:
    """One exercise with its rows, in groups of equal dose."""

    number: int
    words: LineWords
    about: str
    cautions: tuple[str, ...]
    substitutes: tuple[tuple[str, str], ...]
    groups: tuple[GroupShown, ...]

    @property
    def rows(self) -> tuple[RowShown, ...]:
        """Everybody who does it."""
        return tuple(row for group in self.groups for row in group.rows)

    def with_typed(self, typed: Mapping[str, str]) -> StepShown:
        """Put what was typed into the boxes of all rows."""
        groups = (
            replace(group, rows=tuple(row.with_typed(typed) for row in group.rows)) for group in self.groups
        )
        return replace(self, groups=tuple(groups))

    @property
    def dose(self) -> str:
        """The dose where all have the same, else nothing: then it stands above each group."""
        return self.groups[0].dose if len(self.groups) == 1 else ""


@dataclass(frozen=True)
class _Day:
    """The training and what is written of it, to be put into words."""

    programme: Programme
    catalogue: Catalogue
    kits: Mapping[str, Kit]
    units: Units
    last: tuple[LogEntry, ...]
    said: Mapping[Place, Sequence[Account]]
    differing: frozenset[Place]
    above: Mapping[str, str]
    on: date


def steps_shown(
    programme: Programme,
    session: SquadSession,
    entries: Iterable[LogEntry],
    *,
    catalogue: Catalogue,
    differing: Iterable[Place] = (),
    units: Units = METRIC,
    on: date | None = None,
) -> tuple[StepShown, ...]:
    """Put a training into words, an exercise at a time, with what is written of it already."""
    content = programme.brief.content
    kits = {kit.ref: kit for kit in content.kit} if content else {}
    those = tuple(entries)
    day = _Day(
        programme,
        catalogue,
        kits,
        units,
        last_entries(those),
        accounts(those),
        frozenset(differing),
        above_limits(programme, session, units=units),
        on or session.date,
    )
    steps = steps_of(session.present, catalogue=catalogue, kits=kits)
    return tuple(_step(number, step, day) for number, step in enumerate(steps, start=1))


def _step(number: int, step: Step, day: _Day) -> StepShown:
    usual = step.usual
    exercise = day.catalogue.get(usual.exercise)
    parts = grouped(step.lines, catalogue=day.catalogue, units=day.units)
    shared = facts_of_all(parts)
    names = [one.name for one, _ in step.lines]
    order = "in order of load, so that plates change least" if names != sorted(names) else ""
    return StepShown(
        number=number,
        words=line_words(usual, catalogue=day.catalogue, units=day.units),
        about=" · ".join(filter(None, (*shared.values(), order))),
        cautions=exercise_cautions(usual.exercise, catalogue=day.catalogue),
        substitutes=tuple(
            (ref, exercise_name(ref, catalogue=day.catalogue))
            for ref in (exercise.substitutes if exercise else ())
        ),
        groups=tuple(_group(part, usual, shared, day, alone=len(parts) == 1) for part in parts),
    )


def _group(
    part: Group, usual: Prescription, shared: Mapping[str, str], day: _Day, *, alone: bool
) -> GroupShown:
    own = {name: said for name, said in part.facts.items() if said and name not in shared}
    other = part.name if part.lines[0][1].exercise != usual.exercise else ""
    return GroupShown(
        head="" if alone else " ".join(filter(None, (other, part.dose))),
        dose=part.dose,
        about=" · ".join(own.values()),
        rows=tuple(_row(one, line, part, day) for one, line in part.lines),
    )


def _row(one: Attendance, line: Prescription, part: Group, day: _Day) -> RowShown:
    words = line_words(line, catalogue=day.catalogue, units=day.units)
    kit = day.kits.get(line.kit or "")
    other = swapped(day.last, one, line, on=day.on, catalogue=day.catalogue)
    state, over = _state(one, line, day)
    own = part.own_words(line, catalogue=day.catalogue, units=day.units)
    if other is not None:
        # What is written is of an exercise that is not done: none of its numbers may stand beside the swap.
        name = exercise_name(other.exercise or "", catalogue=day.catalogue)
        state, over, own = _("%(exercise)s, as you choose") % {"exercise": name}, False, ""
    pain = pain_elsewhere(day.last, one, line, catalogue=day.catalogue)
    return RowShown(
        athlete=one.athlete,
        name=one.name,
        line=line.ref,
        own=own,
        load="" if other else words.load,
        plates=plates_text(line.load_kg, kit, units=day.units) if kit and line.load_kg and not other else "",
        expect=f"{line.expect.time_s:.2f} s" if line.expect and not other else "",
        band=f"{line.expect.low:.2f}–{line.expect.high:.2f}" if line.expect and not other else "",
        stop="" if other else stop_time(line),
        stop_words=stop_words(line),
        kind=boxes(line)[1],
        boxes=tuple(_boxes(one, line, other.exercise if other else None, day)),
        state=state,
        over=over,
        limit=day.above.get(line.ref, ""),
        pain=pain,
        held=held(line, one.athlete, day.said, pain=pain),
        swap=other is not None,
        data=json.dumps(
            row_data(one, line, on=day.on, catalogue=day.catalogue, units=day.units), separators=(",", ":")
        ),
    )


def row_data(
    one: Attendance, line: Prescription, *, on: date, catalogue: Catalogue, units: Units
) -> dict[str, object]:
    """Give what an entry about a line is made of, for the phone."""
    return {
        "athlete": one.athlete,
        "name": one.name,
        "session": one.session.ref,
        "line": line.ref,
        "date": one.session.date.isoformat(),
        "exercise": line.exercise,
        "called": exercise_name(line.exercise, catalogue=catalogue),
        "surface": line.surface,
        "kind": boxes(line)[1],
        "clock": clock_of(line),
        "written": list(prescribed_results(line)),
        "reps": line.reps,
        "kg_per_unit": kilograms_per(units),
        "stop_s": float(stop_time(line) or 0.0),
        "rest_reps_s": line.rest_reps_s,
        "rest_s": line.rest_s,
        "instead": instead_of(one, line, on=on, catalogue=catalogue),
    }


def _boxes(one: Attendance, line: Prescription, other: str | None, day: _Day) -> Iterable[BoxShown]:
    timed = boxes(line)[1] == TIMES
    for written in prescribed_results(line):
        number, rep = int(written["set"]), int(written["rep"] or 0)
        place = (one.athlete, "" if other else line.ref, other or "", number, rep)
        said = day.said.get(place, ())
        result = said[-1].result if said else None
        text = said_in_box(result, timed=timed, load_kg=line.load_kg, units=day.units) if result else ""
        yield BoxShown(
            name=f"{line.ref}.{number}.{rep}",
            set=number,
            rep=rep,
            label=_label(line, number, rep),
            text=text,
            shown=text,
            unusual=result is not None and result.mark == "unusual",
            differs=place in day.differing,
            both=_(" or ").join(
                said_in_box(one.result, timed=timed, load_kg=line.load_kg, units=day.units) for one in said
            ),
        )


def _label(line: Prescription, number: int, rep: int) -> str:
    if not rep:
        return f"set {number}"
    return f"set {number}, run {rep}" if line.sets > 1 else f"run {rep}"


def _state(one: Attendance, line: Prescription, day: _Day) -> tuple[str, bool]:
    """Say what is written of somebody beside results, and whether the exercise is over for them."""
    about = [entry for entry in day.last if entry.athlete == one.athlete]
    whole = [entry for entry in about if entry.session == one.session.ref and entry.line is None]
    own = [entry for entry in about if entry.line == line.ref and entry.status in {"stopped", *NOT_HERE}]
    for entry in (*reversed(own), *reversed(whole)):
        if entry.status in {"stopped", *NOT_HERE}:
            return entry_state(entry), True
        if entry.status == "modified":
            return entry_state(entry), False
    return "", False


def entry_state(entry: LogEntry) -> str:
    """Say the status of an entry in a few words."""
    return entry.note or ": ".join(filter(None, (entry.status, entry.reason)))

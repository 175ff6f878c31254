"""What a form of the session page says, turned into entries; the phone's script makes the same of taps."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from django.utils.translation import gettext as _

from speedloom.report.sheets.squad import Attendance, SquadSession
from speedloom.training.exercise import Catalogue
from speedloom.training.log import LogEntry
from speedloom.training.programme import Prescription
from speedloom.web.pages.session.box_text import emptied, faults_text, filled, read_box, said_in_box
from speedloom.web.pages.session.left_out import held, pain_elsewhere, rule_says_stop
from speedloom.web.pages.session.pen import Pen
from speedloom.web.pages.session.swaps import swap, swapped
from speedloom.wording.line_words import TIMES, boxes
from speedloom.wording.names import exercise_name
from speedloom.wording.units import METRIC, Units
from speedloom.workflows.done_as_written import prescribed_results
from speedloom.workflows.two_accounts import Account, Place, accounts, last_entries

REASONS = ("pain", "illness", "kit", "weather", "time", "other")
NOT_HERE = frozenset({"absent", "skipped", "stopped"})
OF_A_LINE: Mapping[str, str] = {"stop": "stopped", "skip": "skipped", "modify": "modified"}
NO_REASON_TO_BE_AWAY = frozenset({"kit"})
LATE = "Came late"
ABSENT = frozenset({"a", "absent"})
"""What stands in a box of somebody who was not there."""


@dataclass(frozen=True)
class Typed:
    """Entries that were typed, what is wrong with boxes, by their names, and who was left out of a tap."""

    entries: list[LogEntry] = field(default_factory=list)
    faults: dict[str, str] = field(default_factory=dict)
    left_out: list[str] = field(default_factory=list)


@dataclass(frozen=True)
class Sheet:
    """The training that is written about, what is written of it already, and the pen."""

    session: SquadSession
    entries: tuple[LogEntry, ...]
    pen: Pen
    catalogue: Catalogue
    units: Units = METRIC
    limits: Mapping[str, str] = field(default_factory=dict)
    """The limits in words, by the refs of the lines that are above them now."""

    @property
    def said(self) -> Mapping[Place, Sequence[Account]]:
        """What is said of every repetition and set already."""
        return accounts(self.entries)

    def line(self, ref: str) -> tuple[Attendance, Prescription] | None:
        """Find a line of the training with whose it is."""
        return next(
            ((one, line) for one in self.session.present for line in one.work if line.ref == ref), None
        )

    def athlete(self, ref: str) -> Attendance | None:
        """Find somebody of the training."""
        return next((one for one in self.session.present if one.athlete == ref), None)


def absent_in(sheet: Sheet, form: Mapping[str, str]) -> tuple[Typed, dict[str, str]]:
    """Find who was absent (an `a` in any box), and give the form without their boxes."""
    away = {
        one.athlete: one
        for (ref, _number, _rep), text in filled(form).items()
        if text.lower() in ABSENT and (found := sheet.line(ref)) is not None
        for one in (found[0],)
    }
    theirs = tuple(f"box:{line.ref}." for one in away.values() for line in one.work)
    effort = {f"{name}:{ref}" for name in ("effort", "minutes") for ref in away}
    here = {
        name: text
        for name, text in form.items()
        if not name.startswith(theirs or ("\0",)) and name not in effort
    }
    return Typed([sheet.pen.of_session(one, status="absent") for one in away.values()]), here


def from_boxes(sheet: Sheet, form: Mapping[str, str]) -> Typed:
    """Read every box that is not as it was shown: new ones, changed ones, and those that were emptied."""
    typed = Typed()
    shown = {name.removeprefix("was:"): text for name, text in form.items() if name.startswith("was:")}
    typed_in = filled(form) | dict.fromkeys(emptied(form), "-")
    said = sheet.said
    for ref in dict.fromkeys(place[0] for place in typed_in):
        found = sheet.line(ref)
        if found is None:
            typed.faults[ref] = "This line is not in the training any more; load the page anew."
            continue
        changed = {
            (number, rep): text
            for (line, number, rep), text in typed_in.items()
            if line == ref and text != shown.get(f"{ref}.{number}.{rep}")
        }
        those = _Line(sheet, *found, shown, said)
        typed.entries.extend(those.entries(changed, typed.faults))
    return typed


@dataclass(frozen=True)
class _Line:
    """One line of one athlete, what was shown of it when it was typed, and what stands now."""

    sheet: Sheet
    one: Attendance
    line: Prescription
    shown: Mapping[str, str]
    said: Mapping[Place, Sequence[Account]]

    def entries(self, changed: Mapping[tuple[int, int], str], faults: dict[str, str]) -> Iterator[LogEntry]:
        """Write new repetitions as one entry, and changed ones as corrections of what they stand in."""
        sheet = self.sheet
        on = sheet.pen.day(self.one)
        other = swapped(last_entries(sheet.entries), self.one, self.line, on=on, catalogue=sheet.catalogue)
        new: list[dict[str, Any]] = []
        mended: dict[str, tuple[LogEntry, dict[tuple[int, int], dict[str, Any] | None]]] = {}
        for place, name, result in self._read(changed, faults, outside=other is not None):
            old = other or self._replaced(place, name)
            if old is not None:
                mended.setdefault(old.id, (old, {}))[1][place] = result
            elif result is not None and not self._agrees(place, result):
                new.append(result)
        if new:
            yield self.sheet.pen.of_line(self.one, self.line, new)
        for old, results in mended.values():
            yield corrected(self.sheet.pen, old, results)

    def _read(
        self, changed: Mapping[tuple[int, int], str], faults: dict[str, str], *, outside: bool
    ) -> Iterator[tuple[tuple[int, int], str, dict[str, Any] | None]]:
        """Give the place and the name of each changed box, and what it says; None for not done."""
        for at, written in enumerate(prescribed_results(self.line), start=1):
            place = (int(written["set"]), int(written["rep"] or 0))
            name = f"{self.line.ref}.{place[0]}.{place[1]}"
            if place not in changed:
                continue
            read, wrong = read_box(self.line, changed[place], at=at, where=name, units=self.sheet.units)
            if wrong:
                faults[name] = faults_text(wrong)
                continue
            base = {**written, "load_kg": None, "contacts": None} if outside else written
            yield place, name, None if read is None else measured(self.line, base, read)

    def _before(self, place: tuple[int, int]) -> Sequence[Account]:
        return self.said.get((self.one.athlete, self.line.ref, "", *place), ())

    def _replaced(self, place: tuple[int, int], name: str) -> LogEntry | None:
        """Give the entry a value corrects: only one that the person saw; others stand beside it."""
        before = self._before(place)
        timed = boxes(self.line)[1] == TIMES
        seen = [
            one.entry
            for one in before
            if said_in_box(one.result, timed=timed, load_kg=self.line.load_kg, units=self.sheet.units)
            == self.shown.get(name)
        ]
        return seen[-1] if seen else None

    def _agrees(self, place: tuple[int, int], result: Mapping[str, Any]) -> bool:
        """Say whether the same, or that and more, was written by somebody meanwhile."""
        before = self._before(place)
        return any(
            all(
                result.get(name) is None or result.get(name) == getattr(one.result, name)
                for name in ("time_s", "reps", "load_kg")
            )
            for one in before
        )


def measured(line: Prescription, written: Mapping[str, Any], read: Mapping[str, Any]) -> dict[str, Any]:
    """Join what is written of a repetition with what was typed."""
    result = dict(written) | {key: value for key, value in read.items() if value is not None}
    if result.get("reps") not in {None, line.reps}:
        result["contacts"] = None
    return result


def corrected(
    pen: Pen, old: LogEntry, changed: Mapping[tuple[int, int], Mapping[str, Any] | None]
) -> LogEntry:
    """Replace an entry by one with other values; what was not changed stays in it."""
    results: dict[tuple[int, int], Mapping[str, Any] | None] = {
        (one.set, one.rep or 0): one.model_dump(mode="json") | {"mark": None} for one in old.results
    }
    results |= changed
    kept = [result for _, result in sorted(results.items()) if result is not None]
    said = {} if kept or old.status != "done" else {"status": "modified"}
    return pen.instead(old, kept, **said)


def as_written(
    sheet: Sheet, lines: Iterable[tuple[Attendance, Prescription]], *, in_one: bool = False
) -> Typed:
    """Write lines as done as written, where nothing is written of them yet; who is not here is left out.

    So is whoever the stop rule of the line has stopped. Where many are written in one, whoever is above a
    limit that holds now, or whom pain stopped in another exercise of the day, is left out too, until somebody
    writes of them by hand: the page that was tapped may be older than the limit.
    """
    said, last, typed = sheet.said, last_entries(sheet.entries), Typed()
    for one, line in lines:
        left = [
            result
            for result in prescribed_results(line)
            if (one.athlete, line.ref, "", int(result["set"]), int(result["rep"] or 0)) not in said
        ]
        if not left or _over(last, one, line):
            continue
        why = _why_not(sheet, one, line, in_one=in_one)
        if why:
            name = exercise_name(line.exercise, catalogue=sheet.catalogue)
            typed.left_out.append(f"{one.name}, {name} ({why})")
        else:
            typed.entries.append(sheet.pen.of_line(one, line, left))
    return typed


def _over(last: Iterable[LogEntry], one: Attendance, line: Prescription) -> bool:
    """Say whether a line is written off: stopped, left out, or its athlete is not there."""
    return any(
        entry.athlete == one.athlete
        and entry.status in NOT_HERE
        and (entry.line == line.ref or (entry.line is None and entry.session == one.session.ref))
        for entry in last
    )


def _why_not(sheet: Sheet, one: Attendance, line: Prescription, *, in_one: bool) -> str:
    """Say why a line is not done as written in one tap; '' where it is."""
    said = sheet.said
    if rule_says_stop(line, one.athlete, said):
        return _("its rule says stop")
    if not in_one:
        return ""
    limit = sheet.limits.get(line.ref, "")
    if limit:
        return _("limit: %(limit)s") % {"limit": limit}
    pain = pain_elsewhere(last_entries(sheet.entries), one, line, catalogue=sheet.catalogue)
    if held(line, one.athlete, said, pain=pain):
        return _("stopped for pain in %(exercise)s") % {"exercise": pain}
    return ""


def otherwise(sheet: Sheet, form: Mapping[str, str]) -> Iterator[LogEntry]:
    """Write what went otherwise: stopped, done with another exercise, left out, late or absent."""
    found = sheet.line(form.get("line", ""))
    if found is None:
        return
    one, line = found
    what, note = form.get("what", ""), form.get("note", "").strip()
    why = form["reason"] if form.get("reason") in REASONS else None
    if what in OF_A_LINE:
        yield sheet.pen.of_line(one, line, status=OF_A_LINE[what], reason=why, note=note)
    elif what == "late":
        yield sheet.pen.of_session(one, status="modified", reason="time", note=note or LATE)
    elif what == "absent":
        away = None if why in NO_REASON_TO_BE_AWAY else why
        yield sheet.pen.of_session(one, status="absent", reason=away, note=note)
    elif what.startswith("swap:"):
        to, exercise = what.removeprefix("swap:"), sheet.catalogue.get(line.exercise)
        if exercise is not None and to in exercise.substitutes:
            yield from swap(sheet.pen, one, line, to, why, catalogue=sheet.catalogue)


def after(sheet: Sheet, form: Mapping[str, str]) -> Typed:
    """Read effort and minutes of the whole session, of everybody of whom they were typed."""
    typed = Typed()
    for one in sheet.session.present:
        effort = _number(form, f"effort:{one.athlete}", most=10.0, typed=typed)
        minutes = _number(form, f"minutes:{one.athlete}", most=1440.0, typed=typed)
        if effort is not None or minutes is not None:
            typed.entries.append(sheet.pen.of_session(one, effort=effort, minutes=minutes))
    return typed


def _number(form: Mapping[str, str], name: str, *, most: float, typed: Typed) -> float | None:
    text = form.get(name, "").strip().replace(",", ".")
    if not text or text == form.get(f"was:{name}", ""):
        return None
    try:
        value = float(text)
    except ValueError:
        value = -1.0
    if not 0 <= value <= most:
        typed.faults[name] = f"Expected a number from 0 to {most:g}, got {text[:20]}."
        return None
    return value

"""Lines put in the place of others, added and taken out by hand, and sessions taken out; all else stands."""

from __future__ import annotations

from collections.abc import Callable, Container, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from speedloom.errors import EditError
from speedloom.planning.acts import Act, Add, Remove, Swap, where
from speedloom.planning.by_hand import CHOSEN, chosen, kind_of, place_of, stood_before
from speedloom.planning.draft import Draft
from speedloom.planning.edited import (
    Change,
    Edit,
    Tags,
    all_tags,
    changed_line,
    edit_names,
    known_again,
    recounted,
    under,
    with_minutes,
    with_weeks,
)
from speedloom.planning.for_exercise import drafted_for, suits
from speedloom.planning.holding import LINE_NUMBERS, WHOLE
from speedloom.planning.keeping import holds_number
from speedloom.planning.ledger import Ledger, Tag, last_number, literal
from speedloom.planning.past import OUT, refs_of, unit_of, volume_of
from speedloom.planning.prescribe import finish
from speedloom.planning.problem import Filled
from speedloom.planning.setting import Setting
from speedloom.training.brief import ResolvedBrief
from speedloom.training.document import digest
from speedloom.training.exercise import Exercise
from speedloom.training.programme import (
    AthleteProgramme,
    Prescription,
    Programme,
    Session,
    StopRule,
    Volume,
    Week,
)
from speedloom.training.rule import Rulebook
from speedloom.training.words import SPRINTS

NEEDED = ("sets", "reps")
"""What a line must say that no formula writes, beside its minutes."""
FEWER = ("load_kg", "expect", "decrement", "kit", "share_1rm")
"""What a run keeps of another one's numbers: all but these."""


DraftsOf = Callable[[AthleteProgramme, int, Ledger], Mapping[str, Filled]]
"""Gives the drafts behind the sessions of an athlete's week, by ref, in a ledger."""


def reworked(
    programme: Programme,
    acts: Sequence[Act],
    *,
    ledger: Ledger,
    drafts_of: DraftsOf,
    reason: str,
    spare: Container[str] = frozenset(),
) -> tuple[Programme, tuple[str, ...]]:
    """Give the programme with lines and sessions changed by hand, and what was left out of it.

    The revision stays as it is.

    Args:
        programme: the programme.
        acts: what the coach does, one thing a line at most.
        ledger: a ledger with the nodes of the athletes' weeks in it.
        drafts_of: gives the drafts behind a week.
        reason: why, in the coach's words; it is kept with every node.
        spare: refs for which it need not be done where it cannot be.

    Raises:
        EditError: something that is not spare cannot be done here.
    """
    edit = Edit(ledger, reason)
    wanted = {where(act): act for act in acts}
    made: list[AthleteProgramme] = []
    used: dict[str, Exercise] = {}
    left: list[str] = []
    for own in programme.programmes:
        touched = tuple(week for week in own.weeks if not wanted.keys().isdisjoint(refs_of((week,))))
        if touched:
            work = _Rework(edit, own, drafts_of, list(acts), own.next_ref, spare)
            weeks = tuple(work.week(week) for week in touched)
            retired = (*own.retired, *work.retired)
            made.append(
                own.model_copy(update={"weeks": weeks, "next_ref": work.next_ref, "retired": retired})
            )
            used |= work.used
            left += work.left
    names, added = known_again(programme.basis, *ledger.numbered(all_tags(made, edit)))
    named = {one.athlete: edit_names(one, edit, names) for one in made}
    athletes = tuple(_joined(own, named.get(own.athlete)) for own in programme.programmes)
    changed = programme.model_copy(
        update={"programmes": athletes, "basis": under(programme.basis | added, athletes)}
    )
    return with_entries(changed, used.values()), tuple(left)


def ledger_of(
    programme: Programme, athletes: Container[str], *, brief: ResolvedBrief, rulebook: Rulebook
) -> Ledger:
    """Give a ledger with the nodes of some athletes' weeks: a squad's other thousands are not taken up."""
    own = [one for one in programme.programmes if one.athlete in athletes]
    return Ledger(brief, rulebook, basis=under(programme.basis, own), after=last_number(programme.basis))


def _joined(own: AthleteProgramme, made: AthleteProgramme | None) -> AthleteProgramme:
    if made is None:
        return own
    return with_weeks(own, made.weeks).model_copy(update={"next_ref": made.next_ref, "retired": made.retired})


def with_entries(programme: Programme, used: Iterable[Exercise]) -> Programme:
    """Give the programme with the catalogue's entries of exercises in its brief: it stands alone."""
    brief = programme.brief.content
    if brief is None:
        return programme
    known = {entry.ref: entry for entry in brief.catalogue}
    new = {entry.ref: entry for entry in used} | known
    if new == known:
        return programme
    brief = brief.model_copy(update={"catalogue": tuple(new[ref] for ref in sorted(new))})
    copy = programme.brief.model_copy(update={"digest": digest(brief), "content": brief})
    return programme.model_copy(update={"brief": copy})


@dataclass
class _Rework:
    """One athlete's weeks under change."""

    edit: Edit
    own: AthleteProgramme
    drafts_of: DraftsOf
    acts: list[Act]
    next_ref: int
    spare: Container[str]
    retired: list[str] = field(default_factory=list)
    left: list[str] = field(default_factory=list)
    used: dict[str, Exercise] = field(default_factory=dict)

    @property
    def ledger(self) -> Ledger:
        """The programme's ledger."""
        return self.edit.ledger

    def week(self, week: Week) -> Week:
        """Change one week and count it again."""
        out = {act.ref for act in self.acts if isinstance(act, Remove)}
        key = f"{self.own.athlete}-w{week.number}"
        sessions: list[Session] = []
        for session in week.sessions:
            if session.ref in out:
                self._take_out(week, key, session)
            else:
                sessions.append(self._session(week, session))
        changed = week.model_copy(update={"sessions": tuple(sessions)})
        touched = _volumes(week) ^ _volumes(changed)
        volumes = {name for name, _ in touched}
        changed = self._with_new_volumes(changed, key, volumes - set(week.volumes))
        counted = recounted(changed, key, self.edit, volumes=volumes)
        return self._with_new_wishes(counted, key, volumes - set(week.volumes))

    def _take_out(self, week: Week, key: str, session: Session) -> None:
        self.retired += [session.ref, *(line.ref for line in session.prescriptions)]
        if session.slot is not None:
            self.edit.tags(week, key)[f"{OUT}{session.slot}"] = self._coach(
                "session", "removed", session.slot
            )

    def _coach(self, quantity: str, value: str, before: str | None) -> Tag:
        inputs: dict[str, Any] = {} if before is None else {"proposed": literal(before)}
        return self.ledger.put(quantity, value, "", by="coach", inputs=inputs, reason=self.edit.reason)

    def _with_new_volumes(self, week: Week, key: str, names: Iterable[str]) -> Week:
        tags, found = self.edit.tags(week, key), dict(week.volumes)
        for name in sorted(names):
            unit = unit_of(name)
            tags[f"volumes.{name}"] = self.ledger.put(
                f"planned {name}", 0.0, unit, by="volume.planned", inputs={}
            )
            found[name] = Volume(wanted=0, planned=0, unit=unit)
        return week.model_copy(update={"volumes": found})

    def _with_new_wishes(self, week: Week, key: str, names: Iterable[str]) -> Week:
        """Want what the coach has put in where nothing of its kind was wanted."""
        tags, found = self.edit.tags(week, key), dict(week.volumes)
        for name in sorted(names):
            planned = tags[f"volumes.{name}"]
            tags[f"volumes.{name}.wanted"] = wanted = self.ledger.compute(
                f"wanted {name}", unit_of(name), "total", line_1=planned
            )
            found[name] = found[name].model_copy(update={"wanted": wanted.value})
        return week.model_copy(update={"volumes": found})

    def _session(self, week: Week, session: Session) -> Session:
        mine = {session.ref, *(line.ref for line in session.prescriptions)}
        acts = [act for act in self.acts if where(act) in mine]
        if not acts:
            return session
        lines = list(session.prescriptions)
        for act in acts:
            try:
                lines = self._done(week, session, lines, act)
            except EditError:
                if where(act) not in self.spare:
                    raise
                self.left.append(where(act))
        if lines == list(session.prescriptions):
            return session
        if not any(line.purpose == "work" for line in lines):
            message = f"{session.ref}: expected some work to be left; take the whole session out instead."
            raise EditError(message)
        return with_minutes(session.model_copy(update={"prescriptions": tuple(lines)}), self.edit)

    def _done(self, week: Week, session: Session, lines: list[Prescription], act: Act) -> list[Prescription]:
        if isinstance(act, Remove):
            return self._without(session, lines, act)
        if isinstance(act, Swap):
            return self._swapped(week, session, lines, act)
        return self._added(week, session, lines, act)

    def _without(self, session: Session, lines: list[Prescription], act: Remove) -> list[Prescription]:
        line = next(one for one in lines if one.ref == act.ref)
        self.retired.append(line.ref)
        tag = chosen(line, ledger=self.ledger)
        planned = line.exercise if tag is None else stood_before(tag, ledger=self.ledger)
        if planned is not None:
            self.edit.tags(session, session.ref)[f"{OUT}{planned}"] = self._coach(CHOSEN, "removed", planned)
        return [one for one in lines if one is not line]

    def _swapped(
        self, week: Week, session: Session, lines: list[Prescription], act: Swap
    ) -> list[Prescription]:
        old = next(one for one in lines if one.ref == act.line)
        filled = self._filled(week, session)
        exercise, before = self._entry(filled, act.exercise), self._entry(filled, old.exercise)
        self._refuse(filled, exercise, session)
        tag = chosen(old, ledger=self.ledger)
        stood = old.exercise if tag is None else stood_before(tag, ledger=self.ledger)
        choice = self._coach(CHOSEN, act.exercise, stood)
        draft = drafted_for(filled, exercise, instead=before)
        if draft is not None:
            new = self._finished(filled.setting, draft, choice, near=old)
            new = self._with_numbers(new, act)
        elif exercise.method == old.method and old.method in SPRINTS:
            new = self._with_numbers(self._as_before(old, exercise, choice), act)
        else:
            new = self._written(filled.setting, session, exercise, choice, act)
        self.retired.append(old.ref)
        return [new if one is old else one for one in lines]

    def _added(self, week: Week, session: Session, lines: list[Prescription], act: Add) -> list[Prescription]:
        filled = self._filled(week, session)
        exercise = self._entry(filled, act.exercise)
        self._refuse(filled, exercise, session)
        choice = self._coach(CHOSEN, act.exercise, None)
        draft = None if act.method else drafted_for(filled, exercise)
        if draft is None:
            new = self._written(filled.setting, session, exercise, choice, act)
        else:
            new = self._finished(filled.setting, draft, choice)
            new = self._with_numbers(new, act)
        kinds = [kind_of(one.method, one.run) if one.purpose == "work" else "" for one in lines]
        at = place_of(kind_of(new.method, new.run), kinds)
        return [*lines[:at], new, *lines[at:]]

    def _with_numbers(self, line: Prescription, act: Swap | Add) -> Prescription:
        """Put the coach's own numbers on top of the formulas'."""
        names = [name for name in LINE_NUMBERS if name in act.numbers]
        changes = [Change(line.ref, name, act.numbers[name]) for name in names]
        changes += [Change(line.ref, "cue", act.cue)] if act.cue else []
        return changed_line(line, changes, self.edit)

    def _filled(self, week: Week, session: Session) -> Filled:
        found = self.drafts_of(self.own, week.number, self.ledger).get(session.ref)
        if found is None:
            message = (
                f"{session.ref}: expected a day that can be planned, got none; plan the rest again first."
            )
            raise EditError(message)
        return found

    def _entry(self, filled: Filled, ref: str) -> Exercise:
        found = filled.setting.plan.catalogue.get(ref)
        if found is None:
            message = f"{ref}: expected an exercise of the catalogue."
            raise EditError(message)
        return found

    def _refuse(self, filled: Filled, exercise: Exercise, session: Session) -> None:
        if not suits(filled.setting, exercise):
            message = (
                f"{session.ref}: {exercise.ref} cannot be done there by this athlete: place, kit, level, age "
                "or a restriction does not allow it."
            )
            raise EditError(message)
        self.used[exercise.ref] = exercise

    def _new(self, fields: Mapping[str, Any], basis: Tags, choice: Tag) -> Prescription:
        ref = f"{self.own.athlete}-{self.next_ref}"
        self.next_ref += 1
        self.edit.nodes[ref] = {name: tag for name, tag in basis.items() if holds_number(fields, name)}
        self.edit.nodes[ref][CHOSEN] = choice
        return Prescription(ref=ref, locked=(CHOSEN,), **fields)

    def _finished(
        self, setting: Setting, draft: Draft, choice: Tag, *, near: Prescription | None = None
    ) -> Prescription:
        """Finish a draft with the count the line had before, or the one proposed, as near as may be."""
        counts = [count for count in draft.counts() if count]
        aim = round(draft.proposed.value) if near is None else getattr(near, draft.counted)
        count = min(counts, key=lambda one: (abs(one - aim), one))
        line = finish(setting, draft, count)
        return self._new(line.fields, line.basis, choice)

    def _as_before(self, old: Prescription, exercise: Exercise, choice: Tag) -> Prescription:
        """Keep a run's counts, distance and rests for one whose time no formula tells: it goes by effort."""
        fields = {name: getattr(old, name) for name in type(old).model_fields if name not in {*FEWER, "ref"}}
        basis = dict(self.edit.tags(old, old.ref))
        fields |= {"exercise": exercise.ref, "cue": exercise.cue, "stop_rule": StopRule(kind="technique")}
        if old.effort is None:
            fields["effort"], basis["effort"] = 1.0, self.ledger.given("effort", 1.0, "share", literal(1))
        del fields["locked"], fields["basis"]
        return self._new(fields, basis, choice)

    def _written(
        self, setting: Setting, session: Session, exercise: Exercise, choice: Tag, act: Swap | Add
    ) -> Prescription:
        """Write a line that no formula writes, all of it by the coach."""
        method = (act.method if isinstance(act, Add) else None) or exercise.method
        needed = (*NEEDED, "distance_m") if method in SPRINTS else NEEDED
        numbers = dict(act.numbers) | ({} if act.minutes is None else {"minutes": act.minutes})
        missing = [name for name in (*needed, "minutes") if name not in numbers]
        if missing:
            raise EditError(f"{_no_numbers(session, exercise)} Not given: {', '.join(missing)}.")
        basis = {name: self._number(name, value) for name, value in numbers.items()}
        fields: dict[str, Any] = {
            "purpose": "work",
            "method": method,
            "exercise": exercise.ref,
            "side": "each" if exercise.sides == "each" else "both",
            "cue": act.cue or exercise.cue,
            "stop_rule": StopRule(kind="technique"),
        }
        fields |= {name: int(tag.value) if name in WHOLE else tag.value for name, tag in basis.items()}
        if fields["method"] == "plyometric" and exercise.contacts_per_rep:
            basis["contacts"] = tag = self.ledger.compute(
                "contacts",
                "contacts",
                "contacts.line",
                sets=basis["sets"],
                reps=basis["reps"],
                contacts_per_rep=literal(exercise.contacts_per_rep),
                sides=literal(fields["side"]),
            )
            fields["contacts"] = int(tag.value)
        if fields["method"] in SPRINTS:
            fields |= {"path": "straight", "surface": setting.day.place.surface}
            if "effort" not in basis:
                fields["effort"] = 1.0
                basis["effort"] = self.ledger.given("effort", 1.0, "share", literal(1))
        if fields["method"] == "unloaded_sprint":
            fields["run"] = exercise.slot if exercise.slot in {"top_speed", "submaximal"} else "acceleration"
        return self._new(fields, basis, choice)

    def _number(self, name: str, value: float) -> Tag:
        unit = LINE_NUMBERS.get(name, "min")
        quantity = name.rpartition("_")[0] or name
        return self.ledger.by_coach(None, value, unit=unit, reason=self.edit.reason, quantity=quantity)


def _no_numbers(session: Session, exercise: Exercise) -> str:
    return (
        f"{session.ref}: the formulas have no numbers for {exercise.ref} on that day; write sets, "
        "repetitions and minutes by hand."
    )


def _volumes(week: Week) -> set[tuple[str, str]]:
    """Give the week's lines that count in a volume, each with it."""
    return {
        (volume, line.ref)
        for session in week.sessions
        for line in session.prescriptions
        if (volume := volume_of(line)) is not None
    }

"""From a drafted line and its count to a finished prescription with the basis of every number."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from speedloom.planning.draft import Draft
from speedloom.planning.ledger import Input, Ledger, Tag, literal
from speedloom.planning.setting import Setting
from speedloom.training.words import SPRINTS


@dataclass(frozen=True)
class Line:
    """A finished line: its fields, the node of each number, and its part in the week's volume."""

    draft: Draft
    fields: dict[str, Any]
    basis: dict[str, Tag]
    count: Tag

    @property
    def minutes(self) -> float:
        """The line's minutes."""
        return float(self.fields["minutes"])


def finish(setting: Setting, draft: Draft, count: int) -> Line:
    """Finish a line with its count of repetitions or sets."""
    ledger = setting.ledger
    chosen = _chosen(ledger, draft, count)
    sets, reps = (draft.other, chosen) if draft.counted == "reps" else (chosen, draft.other)
    fields: dict[str, Any] = {
        "purpose": draft.purpose,
        "method": draft.method,
        "exercise": draft.exercise_ref,
        "sets": int(sets.value),
        "reps": int(reps.value),
    } | draft.fields
    basis = {"sets": sets, "reps": reps} | draft.basis
    if draft.counted == "reps":
        fields["reps"], basis["reps"] = int(reps.value), reps
    _rests(draft, fields, basis)
    _minutes(ledger, draft, sets, reps, fields=fields, basis=basis)
    _contacts(ledger, draft, sets, reps, fields=fields, basis=basis)
    _surroundings(setting, draft, fields)
    return Line(draft, fields, basis, chosen)


def _chosen(ledger: Ledger, draft: Draft, count: int) -> Tag:
    if draft.minutes is not None or draft.by_coach:
        return draft.proposed
    fewest = 0 if draft.optional else draft.fewest
    return ledger.put(
        draft.counted,
        count,
        "1",
        by="solver.count",
        inputs={"proposed": draft.proposed, "fewest": literal(fewest), "most": literal(draft.most)},
    )


def _rests(draft: Draft, fields: dict[str, Any], basis: dict[str, Tag]) -> None:
    timing = draft.timing
    if timing.rest_reps is not None and fields["reps"] > 1:
        fields["rest_reps_s"], basis["rest_reps_s"] = round(timing.rest_reps.value), timing.rest_reps
    if timing.rest is not None and fields["sets"] > 1:
        fields["rest_s"], basis["rest_s"] = round(timing.rest.value), timing.rest


def _minutes(
    ledger: Ledger, draft: Draft, sets: Tag, reps: Tag, *, fields: dict[str, Any], basis: dict[str, Tag]
) -> None:
    if draft.minutes is not None:
        fields["minutes"] = draft.minutes
        return
    timing = draft.timing
    zero = literal(0)
    raw = ledger.compute(
        "minutes",
        "min",
        "minutes.line",
        sets=sets,
        reps=literal(1) if timing.runs_on else reps,
        work_s=timing.work,
        rest_reps_s=timing.rest_reps or zero,
        rest_s=timing.rest or zero,
        change_over_s=timing.change_over or zero,
        ramp_up_s=timing.ramp_up or zero,
        turns=timing.turns or literal(1),
    )
    minutes = ledger.compute("minutes", "min", "round.up", value=raw, step=literal(0.5))
    fields["minutes"], basis["minutes"] = float(minutes.value), minutes


def _contacts(
    ledger: Ledger, draft: Draft, sets: Tag, reps: Tag, *, fields: dict[str, Any], basis: dict[str, Tag]
) -> None:
    if draft.method != "plyometric" or draft.exercise is None or "contacts" in fields:
        return
    contacts = ledger.compute(
        "contacts",
        "contacts",
        "contacts.line",
        sets=sets,
        reps=reps,
        contacts_per_rep=literal(draft.exercise.contacts_per_rep),
        sides=literal(draft.fields.get("side", draft.exercise.sides)),
    )
    fields["contacts"], basis["contacts"] = int(contacts.value), contacts


def _surroundings(setting: Setting, draft: Draft, fields: dict[str, Any]) -> None:
    if draft.method in SPRINTS and draft.purpose == "work":
        fields["path"] = "straight"
        fields["surface"] = setting.day.place.surface
    if not fields.get("cue") and draft.exercise is not None:
        fields["cue"] = draft.exercise.cue


def session_minutes(setting: Setting, lines: tuple[Line, ...]) -> tuple[float, Tag, Tag]:
    """Give a session's minutes with their node, and the node of the minutes there are."""
    down = "down_gym" if setting.day.gym else "down_field"
    inputs: dict[str, Input] = {f"line_{place}": line.basis["minutes"] for place, line in enumerate(lines, 1)}
    inputs["down"] = f"rule:session_minutes.{down}"
    total = setting.ledger.compute("minutes", "min", "total", **inputs)
    slot = setting.day.slot
    available = setting.ledger.given(
        "minutes available", slot.minutes, "min", f"brief:slots.{slot.ref}.minutes"
    )
    return float(total.value), total, available

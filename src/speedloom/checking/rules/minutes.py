"""X2: a session with its warm-up, rests, queues and change-overs fits into its slot."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import ceil

from speedloom.checking.finding import Finding
from speedloom.checking.line import Work
from speedloom.checking.scene import Scene, Visit
from speedloom.training.words import LineMethod

_DOSE: Mapping[LineMethod, str] = {
    "unloaded_sprint": "acceleration_dose",
    "resisted_sprint": "sled_dose",
    "plyometric": "plyometric_dose",
    "power": "power_dose",
    "maximal_strength": "main_lift_dose",
    "general_strength": "general_strength_dose",
    "hamstring_groin_calf": "hamstring_dose",
}
_OWN_BARS = ("barbell", "trap_bar")
_GYM = "gym"


def slot_minutes(scene: Scene) -> Iterator[Finding]:
    """Find sessions that need more minutes than their slot has."""
    for visit in scene.visits:
        needed, available = minutes_needed(scene, visit), _available(scene, visit)
        if needed > available:
            yield scene.breach("slot_minutes", visit=visit, value=needed, limit=available, unit="min")


def _available(scene: Scene, visit: Visit) -> float:
    slots = {slot.ref: slot for slot in (scene.brief.slots if scene.brief else ())}
    slot = slots.get(visit.session.slot or "")
    return visit.session.minutes_available if slot is None else float(slot.minutes)


def minutes_needed(scene: Scene, visit: Visit) -> float:
    """Count a session's minutes: what is written, or what its lines must take if that is more."""
    least = {work.line.ref: least_minutes(scene, visit, work) for work in visit.work}
    lines = sum(max(line.minutes, least.get(line.ref, 0.0)) for line in visit.session.prescriptions)
    # Talking and clearing up is ours to ask of programmes made here; a coach's own minutes stand as they are.
    place = scene.places.get(visit.session.place)
    gym = place is not None and place.kind == _GYM
    down = (
        scene.number("session_minutes", "down_gym" if gym else "down_field") if scene.programme.basis else 0.0
    )
    return max(visit.session.minutes, ceil((lines + down) * 2 - 1e-9) / 2)


def least_minutes(scene: Scene, visit: Visit, work: Work) -> float:
    """Count work, rests and the queue for kit; change-overs and ramp-up sets come on top."""
    dose = _DOSE.get(work.line.method)
    if dose is None:
        return work.line.minutes
    known = scene.brief is not None
    work_s = scene.number(_dose_of(work, dose), "work_s") if known else 0.0
    waiting = _turns(scene, visit, work) - 1
    one_by_one = work.is_run or work.is_sled
    each_s = work_s if one_by_one else 0.0
    set_s = work.line.reps * work_s if one_by_one else work_s
    between_reps = max(work.line.rest_reps_s or 0, waiting * each_s) if one_by_one else 0.0
    between_sets = max(work.line.rest_s or 0, waiting * set_s)
    total_s = (
        work.line.sets * (set_s + (work.line.reps - 1) * between_reps) + (work.line.sets - 1) * between_sets
    )
    return total_s / 60


def _dose_of(work: Work, dose: str) -> str:
    # A hill or a partner needs no harness: the repetition takes as long as a free run.
    return "acceleration_dose" if work.is_sled and work.line.kit is None else dose


def _turns(scene: Scene, visit: Visit, work: Work) -> int:
    kit = scene.kit.get(work.line.kit or "")
    present = scene.squad(visit.session)
    if work.is_run:
        place = scene.places.get(visit.session.place)
        return ceil(present / ((place.lanes if place else None) or scene.number("session_minutes", "lanes")))
    if kit is not None and (work.is_sled or kit.kind in _OWN_BARS):
        return ceil(present / kit.count)
    return 1

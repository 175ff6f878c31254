"""The warm-up with its build-up runs, and the coach's own lines."""

from __future__ import annotations

from typing import Any

from speedloom.planning.draft import Cost, Draft, Timing
from speedloom.planning.formulas import step_up
from speedloom.planning.ledger import Tag, literal
from speedloom.planning.lines.runs import longest
from speedloom.planning.setting import Setting
from speedloom.training.athlete import Limit
from speedloom.training.brief import OwnLine
from speedloom.training.exercise import Exercise, WarmUp

BUILD_UP = "build_up_run"
NOT_BEFORE_A_MATCH = {
    "unloaded_sprint",
    "resisted_sprint",
    "plyometric",
    "power",
    "maximal_strength",
    "change_of_direction",
}


def warm_up_minutes(setting: Setting) -> Tag:
    """Enter the minutes of warm-up and build-ups together."""
    where = "gym" if setting.day.gym else "field"
    level = setting.plan.level("maximal_strength" if setting.day.gym else "unloaded_sprint")
    return setting.ledger.rule("warm-up", "session_minutes", f"warm_up_{where}_{level}")


def warm_up(setting: Setting) -> list[Draft]:
    """Draft the warm-up and, on a straight, the build-up runs inside its minutes."""
    found = _warm_up_of(setting)
    total = warm_up_minutes(setting)
    if found.build_ups is None or setting.forbidden(_build_up_run(setting)):
        return [_fixed(setting, found.ref, float(total.value), {"minutes": total}, purpose="warm_up")]
    running = step_up(found.build_ups.minutes, 0.5)
    build = setting.ledger.given("build-ups", running, "min", literal(running))
    rest = setting.ledger.compute("warm-up", "min", "total", all=total, less=literal(-running))
    return [
        _fixed(setting, found.ref, float(rest.value), {"minutes": rest}, purpose="warm_up"),
        _build_ups(setting, found, build),
    ]


def _warm_up_of(setting: Setting) -> WarmUp:
    """Choose the children's warm-up on a straight, else the one written for the fewest kinds of place."""
    catalogue = setting.plan.catalogue
    if setting.plan.youth and not setting.day.gym:
        return catalogue.warm_up("youth")
    fit = [item for item in catalogue.warm_ups if setting.day.place.kind in item.place]
    return min(fit, key=lambda item: len(item.place))


def _build_up_run(setting: Setting) -> Exercise:
    return next(item for item in setting.plan.catalogue.exercises if item.ref == BUILD_UP)


def _build_ups(setting: Setting, found: WarmUp, minutes: Tag) -> Draft:
    ledger, runs = setting.ledger, found.build_ups
    if runs is None:
        raise ValueError(found.ref)
    exercise = _build_up_run(setting)
    cap = setting.cap("share_vmax", exercise)
    shares = [share for share in runs.shares if cap is None or share <= cap] or [cap or min(runs.shares)]
    room = longest(setting, literal(0), exercise=exercise)
    distance = ledger.compute("distance", "m", "least", value=literal(runs.distance_m), longest=room)
    effort = ledger.given("effort", max(shares), "share", literal(max(shares)))
    rest = ledger.given("rest", runs.rest_s, "s", literal(runs.rest_s))
    reps = ledger.given("repetitions", len(shares), "1", literal(len(shares)))
    fields = {
        "run": "submaximal",
        "reps": len(shares),
        "distance_m": distance.value,
        "effort": effort.value,
        "rest_reps_s": runs.rest_s,
        "cue": "–".join(f"{share:.0%}".rstrip("%") for share in shares) + " %, each a little faster",
    }
    basis = {"minutes": minutes, "distance_m": distance, "effort": effort, "rest_reps_s": rest, "reps": reps}
    return _fixed(
        setting,
        BUILD_UP,
        float(minutes.value),
        basis,
        purpose="build_up",
        method="unloaded_sprint",
        fields=fields,
    )


def _fixed(
    setting: Setting,
    exercise: str,
    minutes: float,
    basis: dict[str, Tag],
    *,
    purpose: str,
    method: str = "technique",
    fields: dict[str, Any] | None = None,
) -> Draft:
    one = setting.ledger.given("sets", 1, "1", literal(1))
    return Draft(
        key=f"{purpose}_{exercise}",
        method=method,
        exercise=setting.plan.catalogue.get(exercise),
        exercise_ref=exercise,
        counted="sets",
        other=basis.get("reps", one),
        proposed=one,
        fewest=1,
        most=1,
        cost=Cost(rank=9),
        timing=Timing(work=one),
        purpose=purpose,
        fields={"reps": 1} | (fields or {}),
        basis={"reps": one} | basis,
        minutes=minutes,
    )


def own_lines(setting: Setting, *, position: str) -> list[Draft]:
    """Draft the coach's own lines for this slot and week that the athlete's limits and the day allow."""
    return [
        _own(setting, line)
        for line in own_lines_here(setting)
        if line.position == position and _permitted(setting, line)
    ]


def own_lines_here(setting: Setting) -> list[OwnLine]:
    """Give the coach's own lines for this slot, week and athlete, permitted or not."""
    return [
        line
        for line in setting.plan.brief.own_lines
        if line.slot == setting.day.slot.ref
        and line.first_week <= setting.week.number <= (line.last_week or setting.week.number)
        and (not line.athletes or setting.plan.athlete.ref in line.athletes)
    ]


def _permitted(setting: Setting, line: OwnLine) -> bool:
    """Say whether limits and a near match leave an own line as it is; it is never changed, only left out."""
    exercise = setting.plan.catalogue.get(line.exercise)
    fast_or_heavy = line.method in NOT_BEFORE_A_MATCH
    near = setting.day.nearness == "primer" or (setting.day.nearness == "light" and fast_or_heavy)
    if (near and fast_or_heavy) or (exercise is not None and setting.forbidden(exercise)):
        return False
    tags = exercise.tags if exercise is not None else ()
    touching = [
        limit
        for limit in setting.limits
        if limit.method in {None, line.method}
        and limit.exercise in {None, line.exercise}
        and (limit.tag is None or limit.tag in tags)
    ]
    return all(_within(limit, line) for limit in touching)


def _within(limit: Limit, line: OwnLine) -> bool:
    """Say whether an own line keeps a limit; what share of top speed or 1RM it is, nobody knows."""
    values = {
        "distance_m": line.distance_m,
        "load_kg": line.load_kg,
        "contacts": line.contacts,
        "sets": line.sets,
        "minutes": line.minutes,
    }
    if limit.what == "share_vmax":
        return line.method not in {"unloaded_sprint", "resisted_sprint", "change_of_direction"}
    if limit.what == "share_1rm":
        return not line.load_kg
    value = values[limit.what]
    return value is None or value <= limit.at_most


_OWN_NUMBERS = ("reps", "distance_m", "hold_s", "load_kg", "contacts", "rest_reps_s", "rest_s", "minutes")
_UNITS = {"distance_m": "m", "hold_s": "s", "load_kg": "kg", "contacts": "contacts", "minutes": "min"}


def _own(setting: Setting, line: OwnLine) -> Draft:
    path = f"brief:own_lines.{line.ref}"
    basis = {}
    fields: dict[str, Any] = {"side": line.side, "cue": line.cue or line.title}
    for name in ("sets", *_OWN_NUMBERS):
        value = getattr(line, name)
        if value is not None:
            unit = _UNITS.get(name, "s" if name.endswith("_s") else "1")
            basis[name] = setting.ledger.given(name.rpartition("_")[0] or name, value, unit, f"{path}.{name}")
            fields[name] = value
    sets = basis.pop("sets")
    fields.pop("sets")
    each = _each(setting, line, basis)
    return Draft(
        key=f"own_{line.ref}",
        method=line.method,
        exercise=setting.plan.catalogue.get(line.exercise),
        exercise_ref=line.exercise,
        counted="sets",
        other=basis["reps"],
        proposed=sets,
        fewest=line.sets,
        most=line.sets,
        cost=Cost(rank=9),
        timing=Timing(work=sets),
        volume=None if each is None else line.method,
        each=each,
        per_unit=0.0 if each is None else float(each.value),
        # The coach wants what the line holds: the week's wish and what is planned rise alike.
        wanted=None
        if each is None
        else setting.ledger.compute("wanted", "1", "product", sets=sets, each=each),
        purpose=line.purpose,
        fields=fields,
        basis=basis,
        minutes=float(line.minutes),
    )


def _each(setting: Setting, line: OwnLine, basis: dict[str, Tag]) -> Tag | None:
    """Enter what one set of a coach's working line adds to its method's week, or None where none is kept."""
    ledger = setting.ledger
    if line.purpose != "work":
        return None
    if line.method in {"power", "maximal_strength", "general_strength", "hamstring_groin_calf"}:
        return ledger.given("a set", 1, "sets", literal(1))
    if line.method == "resisted_sprint" and "distance_m" in basis:
        return ledger.compute(
            "metres a set", "m", "product", reps=basis["reps"], distance=basis["distance_m"]
        )
    exercise = setting.plan.catalogue.get(line.exercise)
    if line.method != "plyometric" or exercise is None:
        return None
    return ledger.compute(
        "contacts a set",
        "contacts",
        "contacts.line",
        sets=literal(1),
        reps=basis["reps"],
        contacts_per_rep=literal(exercise.contacts_per_rep),
        sides=literal(line.side),
    )

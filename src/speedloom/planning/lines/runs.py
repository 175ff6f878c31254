"""Standing runs and top-speed runs."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from speedloom.planning.draft import Cost, Draft, Timing
from speedloom.planning.ledger import Input, Tag, literal
from speedloom.planning.lines.clock import with_expectation
from speedloom.planning.setting import Setting
from speedloom.training.exercise import Exercise
from speedloom.training.words import Method

SPRINT: Method = "unloaded_sprint"
SPRINT_REP = 5  # the rank of a dropped sprint repetition where the coach gives no order
HUNDRED_M = 100.0


def longest(setting: Setting, before: Input, *, exercise: Exercise) -> Tag:
    """Enter the longest run that the place, after its run-out, and the athlete's restrictions allow."""
    place = setting.day.place
    named = f"brief:places.{place.ref}.straight_m"
    straight: Input = named if place.straight_m else "rule:distance_grid.straight_m"
    run_out = _run_out(setting)
    cap = setting.cap("distance_m", exercise)
    if cap is not None:
        whole = _longest(setting, straight, run_out, literal(0))
        straight = setting.ledger.compute("longest run", "m", "least", value=whole, limit=literal(cap))
        run_out = literal(0)
    return _longest(setting, straight, run_out, before)


def _run_out(setting: Setting) -> Input:
    """Give what is kept free behind a run: the place's own, or an assumed one where a straight is named."""
    place = setting.day.place
    if place.run_out_m is not None:
        return f"brief:places.{place.ref}.run_out_m"
    return "rule:distance_grid.run_out_m" if place.straight_m else literal(0)


def _longest(setting: Setting, straight: Input, run_out: Input, before: Input) -> Tag:
    return setting.ledger.compute(
        "longest run", "m", "run.longest", straight_m=straight, run_out_m=run_out, before_m=before
    )


def has_room(setting: Setting, *, exercise: Exercise) -> bool:
    """Say whether the shortest run that a coach would write fits here."""
    return float(longest(setting, literal(0), exercise=exercise).value) >= setting.plan.number(
        "distance_grid", "fine_m"
    )


def gridded(setting: Setting, distance: Tag, *, at_most: Tag) -> Tag:
    """Enter a distance on the grid."""
    return setting.ledger.compute(
        "distance",
        "m",
        "round.distance",
        distance_m=distance,
        longest_m=at_most,
        fine_m="rule:distance_grid.fine_m",
        coarse_m="rule:distance_grid.coarse_m",
        border_m="rule:distance_grid.border_m",
    )


def run_effort(setting: Setting, exercise: Exercise, *, easy: tuple[str, str] | None) -> Tag | None:
    """Enter the effort of a run where it is not flat out: an easy dose, a restriction, few tests."""
    options: list[Tag] = []
    ledger = setting.ledger
    if easy is not None:
        options.append(ledger.rule("effort", *easy))
    cap = setting.cap("share_vmax", exercise)
    if cap is not None:
        options.append(ledger.given("effort", cap, "share", literal(cap)))
    if not options and not setting.plan.numbers.individual:
        options.append(ledger.given("effort", 1.0, "share", literal(1)))
    return min(options, key=lambda tag: float(tag.value), default=None)


def run_turns(setting: Setting) -> Tag:
    """Enter how many turns a run takes on the place's lanes."""
    return setting.turns(stations=1, lanes=setting.lanes())


def rest_of(setting: Setting, rule: str, floor: str, *, distance: Input, run_in: Input) -> Tag:
    """Enter the rest after a run."""
    return setting.ledger.compute(
        "rest",
        "s",
        "rest.run",
        distance_m=distance,
        run_in_m=run_in,
        floor_s=f"rule:{rule}.{floor}",
        per_10_m_s=f"rule:{rule}.rest_per_10_m_s",
    )


def acceleration(setting: Setting) -> Draft | None:
    """Draft the standing runs: the main runs on a heavier day, a few starts on a faster one."""
    level = setting.plan.level(SPRINT)
    exercise = next(iter(setting.choices("acceleration", level=level)), None)
    if exercise is None or not has_room(setting, exercise=exercise):
        return None
    share = setting.day.role if setting.day.role == "heavier" or setting.day.sole else "faster"
    distance = _standing_distance(setting, share, exercise)
    metres = setting.volume_dose("metres", "acceleration_dose", f"metres_{level}", at=setting.specificity)
    wanted = setting.wanted(SPRINT, metres, unit="m", share=f"rule:acceleration_dose.share_{share}")
    point = float(_share_point(setting).value)
    beyond = max(0.0, float(distance.value) - point)
    if share == "faster" and _is_lone(setting, wanted, distance):
        return None
    fewest, most = _reps(setting, share, beyond)
    easy = setting.cautious or setting.day.easy
    effort = run_effort(setting, exercise, easy=("acceleration_dose", "easy_effort") if easy else None)
    fields: dict[str, Any] = {"distance_m": distance.value, "run": "acceleration", "start": "standing"}
    basis = {"distance_m": distance}
    if effort is not None:
        fields["effort"], basis["effort"] = effort.value, effort
    floor = (
        "rest_floor_s"
        if float(distance.value) >= setting.plan.number("acceleration_dose", "rest_floor_from_m")
        else "rest_short_s"
    )
    rest = rest_of(setting, "acceleration_dose", floor, distance=distance, run_in=literal(0))
    draft = Draft(
        key=f"acceleration_{share}",
        method=SPRINT,
        exercise=exercise,
        exercise_ref=exercise.ref,
        counted="reps",
        other=setting.ledger.given("sets", 1, "1", literal(1)),
        proposed=setting.count(wanted, distance, fewest=fewest, most=most),
        fewest=fewest,
        most=most,
        optional=share != "heavier",
        cost=_cost(setting, share),
        timing=Timing(
            work=setting.seconds("work", "acceleration_dose", "work_s"),
            rest_reps=rest,
            change_over=setting.change_over(),
            turns=run_turns(setting),
        ),
        volume="acceleration",
        each=distance,
        per_unit=float(distance.value),
        wanted=wanted,
        beyond_m=beyond if effort is None else 0.0,
        fields=fields,
        basis=basis,
    )
    return with_expectation(setting, draft, stop="stop_drop")


def _is_lone(setting: Setting, wanted: Tag, distance: Tag) -> bool:
    """Say whether a lighter week's metres come nearest to one run, for which nobody sets up a line."""
    lighter = setting.week.kind != "loading" and setting.day.nearness == "free"
    return lighter and round(float(wanted.value) / float(distance.value)) < _starts(setting)


def _starts(setting: Setting) -> int:
    return int(setting.plan.number("acceleration_dose", "starts_fewest"))


def _reps(setting: Setting, share: str, beyond_m: float) -> tuple[int, int]:
    """Give the fewest and the most runs of the day."""
    full = share == "heavier" and setting.week.kind == "loading" and setting.is_full
    fewest = int(setting.plan.number("acceleration_dose", "reps_fewest")) if full else _starts(setting)
    most = int(setting.plan.number("acceleration_dose", f"reps_most_{setting.plan.level(SPRINT)}"))
    fewest, most = _reps_allowed(setting, fewest, most, share)
    return min(fewest, _fewest_beyond(setting, beyond_m)), most


def _fewest_beyond(setting: Setting, beyond_m: float) -> int:
    """Give how many runs of this length rule S2 leaves room for, one at least."""
    most = setting.plan.number("top_speed_runs", "session_high_m")
    return max(1, int(most // beyond_m)) if beyond_m else int(most)


def _cost(setting: Setting, share: str) -> Cost:
    """Main runs go last; a faster day's starts go early, and in a lighter week altogether."""
    if share == "heavier":
        return Cost(rank=9)
    return Cost(rank=SPRINT_REP, drop_rank=SPRINT_REP if setting.week.kind == "deload" else 7)


def _reps_allowed(setting: Setting, fewest: int, most: int, share: str) -> tuple[int, int]:
    """A primer and a day near a match hold only a few runs."""
    if setting.day.nearness == "primer":
        return 2, int(setting.plan.number("match_gap", "primer_runs"))
    if setting.day.nearness == "light" or share == "faster":
        return _starts(setting), min(most, 4)
    return fewest, most


def _standing_distance(setting: Setting, share: str, exercise: Exercise) -> Tag:
    at = setting.shifted(SPRINT) if share == "faster" else setting.specificity
    lengths = setting.dose("lengths", "acceleration_dose", _lengths(setting), at=at, geometric=True)
    raw = setting.ledger.compute(
        "distance", "m", "run.distance", lengths=lengths, length_m=setting.plan.numbers.length
    )
    longest_m = setting.plan.number("long_standing_run", "distance_low_m")
    if float(raw.value) > longest_m and setting.plan.level(SPRINT) != "advanced":
        raw = setting.ledger.compute(
            "distance", "m", "least", value=raw, level="rule:long_standing_run.distance_low_m"
        )
    if share != "heavier" or setting.day.nearness != "free":
        # Starts stay inside the acceleration part, so the day's fast metres are its top-speed runs.
        raw = setting.ledger.compute("distance", "m", "least", value=raw, point=_share_point(setting))
    if setting.in_season:
        raw = setting.ledger.compute(
            "distance", "m", "least", value=raw, season="rule:in_season.distance_most_m"
        )
    if setting.day.nearness == "primer":
        raw = setting.ledger.compute(
            "distance", "m", "least", value=raw, primer="rule:match_gap.primer_distance_m"
        )
    return gridded(setting, raw, at_most=longest(setting, literal(0), exercise=exercise))


def _lengths(setting: Setting) -> str:
    """Name the dose of distances: an advanced 100 m runner's ends a little longer."""
    level, goal = setting.plan.level(SPRINT), setting.plan.brief.goal
    hundred = goal.kind == "sprint_time" and (goal.distance_m or 0.0) >= HUNDRED_M
    return "lengths_hundred" if hundred and level == "advanced" else f"lengths_{level}"


def _share_point(setting: Setting) -> Tag:
    return setting.ledger.compute(
        "95 % point",
        "m",
        "run.share_point",
        length_m=setting.plan.numbers.length,
        share="rule:top_speed_dose.run_in_share",
    )


def top_speed(setting: Setting) -> Draft | None:
    """Draft the top-speed runs: a run-in to the athlete's 95 % point and a zone."""
    level = setting.plan.level(SPRINT)
    exercise = next(iter(setting.choices("top_speed", level=level)), None)
    if exercise is None or not _top_speed_allowed(setting, exercise):
        return None
    distances = _run_in_and_zone(setting, exercise)
    if distances is None:
        return None
    run_in, zone = distances
    metres = setting.volume_dose("zone metres", "top_speed_dose", f"metres_{level}", at=setting.specificity)
    wanted = setting.wanted(SPRINT, metres, unit="m")
    fewest, most = (int(setting.plan.number("top_speed_dose", f"reps_{end}")) for end in ("fewest", "most"))
    easy = float(setting.specificity.value) < setting.plan.number("top_speed_dose", "easy_below")
    fields: dict[str, Any] = {"run": "top_speed", "distance_m": zone.value, "run_in_m": run_in.value}
    basis = {"distance_m": zone, "run_in_m": run_in}
    effort = run_effort(setting, exercise, easy=("top_speed_dose", "easy_effort") if easy else None)
    if effort is not None:
        fields["effort"], basis["effort"] = effort.value, effort
    rest = rest_of(
        setting, "top_speed_dose", "rest_easy_s" if easy else "rest_floor_s", distance=zone, run_in=run_in
    )
    draft = Draft(
        key="top_speed",
        method=SPRINT,
        exercise=exercise,
        exercise_ref=exercise.ref,
        counted="reps",
        other=setting.ledger.given("sets", 1, "1", literal(1)),
        proposed=setting.count(wanted, zone, fewest=fewest, most=most),
        fewest=fewest,
        most=most,
        cost=Cost(rank=9),
        timing=Timing(
            work=setting.seconds("work", "acceleration_dose", "work_s"),
            rest_reps=rest,
            change_over=setting.change_over(),
            turns=run_turns(setting),
        ),
        volume="top_speed",
        each=zone,
        per_unit=float(zone.value),
        wanted=wanted,
        beyond_m=float(zone.value),
        fields=fields,
        basis=basis,
    )
    return with_expectation(setting, draft, stop="stop_drop_top_speed")


def _top_speed_allowed(setting: Setting, exercise: Exercise) -> bool:
    plan, day = setting.plan, setting.day
    cap = setting.cap("share_vmax", exercise)
    return (
        not setting.cautious
        and not day.easy
        and day.nearness != "primer"
        and (cap is None or cap >= plan.number("top_speed_exposure", "share"))
        and (day.days_to_peak is None or day.days_to_peak > _last_top_speed_day(setting))
    )


def _last_top_speed_day(setting: Setting) -> float:
    """Give how many days before a peak stay without top-speed runs: more on the track than before a match."""
    brief, day = setting.plan.brief, setting.day
    peak = day.date + timedelta(days=day.days_to_peak or 0)
    track = any(event.kind == "competition" and event.covers(peak) for event in brief.events)
    race_from = setting.plan.number("top_speed_dose", "race_from_m")
    sprints = brief.goal.kind == "sprint_time" and (brief.goal.distance_m or 0.0) >= race_from
    return setting.plan.number(
        "top_speed_dose", "free_days_track" if track and sprints else "free_days_match"
    )


def _run_in_and_zone(setting: Setting, exercise: Exercise) -> tuple[Tag, Tag] | None:
    """Fit run-in and zone into the straight; a shorter run-in first, then no run at all."""
    level = setting.plan.level(SPRINT)
    ledger = setting.ledger
    step: Input = "rule:distance_grid.fine_m"
    point = setting.stepped(_share_point(setting), step, unit="m", quantity="run-in")
    run_in = ledger.compute(
        "run-in",
        "m",
        "clamp",
        value=point,
        low="rule:top_speed_dose.run_in_low_m",
        high="rule:top_speed_dose.run_in_high_m",
    )
    least = setting.plan.number("top_speed_dose", "zone_least_m")
    room = longest(setting, run_in, exercise=exercise)
    if float(room.value) < least:
        run_in = ledger.compute(
            "run-in",
            "m",
            "run.longest",
            straight_m=longest(setting, literal(0), exercise=exercise),
            run_out_m=literal(0),
            before_m="rule:top_speed_dose.zone_least_m",
        )
        room = longest(setting, run_in, exercise=exercise)
    if float(run_in.value) < setting.plan.number("top_speed_dose", "run_in_low_m"):
        return None
    dose = setting.dose("zone", "top_speed_dose", f"zone_{level}", at=setting.specificity)
    zone = setting.stepped(dose, step, unit="m", quantity="zone")
    zone = ledger.compute("zone", "m", "least", value=zone, longest=room)
    if setting.day.nearness in {"light", "top_up"} or setting.in_season:
        zone = ledger.compute("zone", "m", "least", value=zone, light="rule:match_gap.primer_distance_m")
    return (run_in, zone) if float(zone.value) >= least else None

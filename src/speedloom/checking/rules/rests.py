"""S7: rests between maximal sprints, and rests against the default dose of method and level."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from speedloom.checking.finding import Finding
from speedloom.checking.line import Work
from speedloom.checking.scene import Scene
from speedloom.training.programme import Week
from speedloom.training.words import LEVELS, Level, LineMethod

_FIXED: Mapping[LineMethod, str] = {
    "plyometric": "plyometric_dose",
    "general_strength": "general_strength_dose",
    "hamstring_groin_calf": "hamstring_dose",
}
_MIDDLE = 0.5
_NEARLY = 1e-6


def sprint_rest(scene: Scene) -> Iterator[Finding]:
    """Find rests after maximal sprints below 1 min per 10 m."""
    per_10_m = scene.number("sprint_rest", "s_per_10_m")
    for visit, work in scene.lines:
        rest, wanted = work.line.rest_reps_s, per_10_m * work.run_m / 10
        if work.is_maximal and work.line.reps > 1 and rest is not None and rest < wanted - _NEARLY:
            yield scene.breach(
                "sprint_rest",
                "s_per_10_m",
                visit=visit,
                line=work.line,
                value=float(rest),
                limit=wanted,
                unit="s",
            )


def short_rest(scene: Scene) -> Iterator[Finding]:
    """Find rests shorter than the default dose for the method and level."""
    for visit, work in scene.lines:
        given = _given(work)
        if not given:
            continue
        wanted = scene.number("short_rest", "share") * default_rest_s(scene, work)
        if min(given) < wanted - _NEARLY:
            yield scene.breach(
                "short_rest",
                "share",
                visit=visit,
                line=work.line,
                value=float(min(given)),
                limit=wanted,
                unit="s",
            )


def _given(work: Work) -> list[int]:
    """Give the rests that are taken and named."""
    line = work.line
    between_reps = line.rest_reps_s if line.reps > 1 and (work.is_run or work.is_sled) else None
    between_sets = line.rest_s if line.sets > 1 else None
    return [rest for rest in (between_reps, between_sets) if rest is not None]


def default_rest_s(scene: Scene, work: Work) -> float:
    """Give the default rest (s); where the level is unknown, the shortest of the three."""
    if work.is_run:
        return _run_rest_s(scene, work)
    if work.line.method in _FIXED:
        return scene.number(_FIXED[work.line.method], "rest_s")
    level = _level(work)
    levels = LEVELS if level is None else (level,)
    return min((_by_level(scene, work, each) for each in levels), default=0.0)


def _run_rest_s(scene: Scene, work: Work) -> float:
    if work.line.run == "submaximal" or work.line.exercise == "assisted_sprint":
        return 0.0
    if work.line.run == "top_speed":
        easy = work.effort <= scene.number("top_speed_dose", "easy_effort")
        if easy:
            return scene.number("top_speed_dose", "rest_easy_s")
        by_distance = scene.number("top_speed_dose", "rest_per_10_m_s") * work.run_m / 10
        return max(scene.number("top_speed_dose", "rest_floor_s"), by_distance)
    far = work.run_m >= scene.number("acceleration_dose", "rest_floor_from_m")
    floor = scene.number("acceleration_dose", "rest_floor_s" if far else "rest_short_s")
    return max(floor, scene.number("acceleration_dose", "rest_per_10_m_s") * work.run_m / 10)


def _level(work: Work) -> Level | None:
    return work.person.level(work.line.method)


def _by_level(scene: Scene, work: Work, level: Level) -> float:
    if work.line.method == "power":
        return scene.number("power_dose", f"rest_{level}_s")
    if work.line.method == "resisted_sprint":
        return _dose(scene, "sled_dose", level, work.week.specificity)
    if work.line.method == "maximal_strength":
        # Repetitions stay inside a mesocycle, so its own point counts where it asks for less.
        points = (work.week.specificity, _mesocycle_point(scene, work))
        return min(_dose(scene, "main_lift_dose", level, point) for point in points)
    return 0.0


def _dose(scene: Scene, rule: str, level: Level, s: float) -> float:
    general, middle, specific = (
        scene.number(rule, f"rest_{level}_{point}") for point in ("general", "middle", "specific")
    )
    if s <= _MIDDLE:
        return general + (middle - general) * 2 * s
    return middle + (specific - middle) * (2 * s - 1)


def _mesocycle_point(scene: Scene, work: Work) -> float:
    """Give the mesocycle's own place from general to specific; each main peak starts the climb again."""
    if work.week.kind == "in_season":
        return scene.number("in_season", "point")
    restart = scene.number("weeks_ramp", "restart_specificity")
    if work.week.kind == "break":
        return restart
    stretch, earlier = _stretch(work)
    mesocycles = sorted({week.mesocycle or 0 for week in stretch if week.kind == "loading"})
    brief = work.person.brief
    first, last = brief.phases.specificity if brief else (0.0, 1.0)
    first = restart if earlier else first
    reached = [one for one in mesocycles if one <= (work.week.mesocycle or 0)]
    if len(mesocycles) <= 1:
        return min(first, (first + last) / 2)
    return first + (last - first) * max(0, len(reached) - 1) / (len(mesocycles) - 1)


def _stretch(work: Work) -> tuple[list[Week], bool]:
    """Give the weeks between the main peaks around a week, and whether a peak lies before them."""
    brief = work.person.brief
    peaks = sorted(peak.date for peak in brief.goal.peaks if peak.size == "main") if brief else []
    done = [peak for peak in peaks if peak < work.week.monday]
    ahead = [peak for peak in peaks if peak >= work.week.monday]
    inside = [
        week
        for week in work.person.programme.weeks
        if (not done or week.monday > done[-1]) and (not ahead or week.monday <= ahead[0])
    ]
    return inside, bool(done)

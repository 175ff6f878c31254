"""The weeks of one athlete: kinds, mesocycles, specificity and the week's factor."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta

from speedloom.training.brief import ResolvedBrief
from speedloom.training.calendar import monday_of
from speedloom.training.words import WeekKind

RAMP_LONGEST = 6
LAST_RAMP = 4
RESERVE_ROW = 4
SEASON_CYCLE = 4
OPEN_ENDED = (9, 3)  # loading weeks and mesocycles
BRIEF_FIRST = "brief:phases.specificity.0"
RESTART = "rule:weeks_ramp.restart_specificity"
_LIGHTER_FACTOR = {"introduction": "introduction", "deload": "deload", "break": "after_peak"}


@dataclass(frozen=True)
class WeekPlan:
    """One week before any session: where it stands and how much of a full week it holds."""

    number: int
    monday: date
    mesocycle: int
    kind: WeekKind
    place: int = 0
    places: int = 0
    of_mesocycle: int = 1
    mesocycles: int = 1
    loading: int = 1
    loading_before: int = 0
    factor_number: str = ""
    first_specificity: str = BRIEF_FIRST
    season_place: int | None = None

    @property
    def sunday(self) -> date:
        """The week's last day."""
        return self.monday + timedelta(days=6)


def main_peaks(brief: ResolvedBrief) -> tuple[date, ...]:
    """Give the dates of the main peaks, in order."""
    return tuple(sorted(peak.date for peak in brief.goal.peaks if peak.size == "main"))


def lay_out(
    brief: ResolvedBrief, *, in_training: bool, past: Mapping[int, WeekKind] | None = None
) -> tuple[WeekPlan, ...]:
    """Lay out the weeks of an athlete, from the start's Monday to the end.

    Each main peak ends a stretch; the next one starts again part of the way up, not at the general end.

    Args:
        brief: the brief.
        in_training: whether the athlete comes straight from training.
        past: kinds of weeks that are over, by number: they were what they were.
    """
    bare = _bare_weeks(brief)
    kinds = [_kind(brief, week, last, in_training=in_training) for week, last in bare]
    known = past or {}
    weeks = [
        replace(week, kind=known.get(week.number, kind))
        for (week, _), kind in zip(bare, _rested(kinds), strict=True)
    ]
    placed: list[WeekPlan] = []
    peaks = main_peaks(brief)
    for number, stretch in enumerate(_stretches(_in_cycle(weeks), peaks)):
        first = RESTART if number else BRIEF_FIRST
        # After the last peak the climb is as slow as towards a peak three mesocycles off.
        open_ended = number > 0 and not any(peak >= stretch[-1].monday for peak in peaks)
        found = _place_stretch(stretch, fewest=OPEN_ENDED if open_ended else (1, 1))
        placed += [replace(week, first_specificity=first) for week in found]
    return tuple(placed)


def _rested(kinds: list[WeekKind]) -> list[WeekKind]:
    """Turn a lighter week beside a week without training into a loading week: the rest is had already."""
    padded: list[WeekKind | None] = [None, *kinds, None]
    return [
        "loading" if kind == "deload" and "break" in (before, after) else kind
        for before, kind, after in zip(padded, kinds, padded[2:], strict=False)
    ]


def _in_cycle(weeks: list[WeekPlan]) -> list[WeekPlan]:
    """Count the weeks in season: three up, one easy, and again."""
    counted, place = [], 0
    for week in weeks:
        if week.kind == "in_season":
            counted.append(replace(week, season_place=place % SEASON_CYCLE))
            place += 1
        else:
            counted.append(week)
            place = 0
    return counted


def _stretches(weeks: list[WeekPlan], peaks: tuple[date, ...]) -> list[list[WeekPlan]]:
    stretches: list[list[WeekPlan]] = [[]]
    for week in weeks:
        stretches[-1].append(week)
        if any(monday_of(peak) == week.monday for peak in peaks):
            stretches.append([])
    return [stretch for stretch in stretches if stretch]


def _place_stretch(weeks: list[WeekPlan], *, fewest: tuple[int, int]) -> list[WeekPlan]:
    loading = Counter(week.mesocycle for week in weeks if week.kind == "loading")
    ranks = {mesocycle: rank for rank, mesocycle in enumerate(sorted(loading), start=1)}
    placed = [_placed(weeks, index, loading, ranks) for index in range(len(weeks))]
    least_loading, least_mesocycles = fewest
    return [
        replace(
            week,
            loading=max(week.loading, least_loading),
            mesocycles=max(week.mesocycles, least_mesocycles),
        )
        for week in placed
    ]


def _bare_weeks(brief: ResolvedBrief) -> list[tuple[WeekPlan, bool]]:
    """Give each week with its mesocycle; the flag says whether it stands where the lighter week goes."""
    lengths = list(brief.phases.mesocycle_weeks)
    first = monday_of(brief.start)
    count = (monday_of(brief.end) - first).days // 7 + 1
    while sum(lengths) < count:
        lengths.append(lengths[-1])
    owners = [
        (mesocycle, position, length)
        for mesocycle, length in enumerate(lengths, start=1)
        for position in range(1, length + 1)
    ][:count]
    return [
        (
            WeekPlan(number + 1, first + timedelta(weeks=number), mesocycle, "loading"),
            _is_lighter(brief, position, length),
        )
        for number, (mesocycle, position, length) in enumerate(owners)
    ]


def _is_lighter(brief: ResolvedBrief, position: int, length: int) -> bool:
    return position == {"first": 1, "last": length}.get(brief.phases.deload, 0)


def _kind(brief: ResolvedBrief, week: WeekPlan, lighter: bool, *, in_training: bool) -> WeekKind:  # noqa: FBT001
    peaks = main_peaks(brief)
    thursday = week.monday + timedelta(days=3)
    if _no_training(brief, week):
        return "break"
    if _in_taper(brief, week, peaks):
        return "taper"
    if _after_peak(week, peaks):
        return "break"
    if week.number == 1 and not in_training:
        return "introduction"
    if any(span.covers(thursday) for span in brief.phases.season):
        return "in_season"
    return "deload" if lighter else "loading"


def _no_training(brief: ResolvedBrief, week: WeekPlan) -> bool:
    """Say whether events that allow no training take every slot of the week."""
    days = [slot.on(week.monday) for slot in brief.slots if slot.holds(slot.on(week.monday))]
    closed = [event for event in brief.events if event.training == "none"]
    return bool(days) and all(any(event.covers(day) for event in closed) for day in days)


def _after_peak(week: WeekPlan, peaks: tuple[date, ...]) -> bool:
    return any(monday_of(peak) + timedelta(weeks=1) == week.monday for peak in peaks)


def _in_taper(brief: ResolvedBrief, week: WeekPlan, peaks: tuple[date, ...]) -> bool:
    if not brief.phases.taper_days:
        return False
    thursday = week.monday + timedelta(days=3)
    window = timedelta(days=brief.phases.taper_days)
    return any(peak - window <= thursday <= peak or monday_of(peak) == week.monday for peak in peaks)


def _placed(weeks: list[WeekPlan], index: int, loading: Counter[int], ranks: dict[int, int]) -> WeekPlan:
    week, mesocycles = weeks[index], max(len(ranks), 1)
    before = [other for other in weeks[:index] if other.kind == "loading"]
    inside = sum(1 for other in before if other.mesocycle == week.mesocycle)
    places = loading[week.mesocycle]
    rank = ranks.get(week.mesocycle) or max((ranks[other.mesocycle] for other in before), default=1)
    placed = replace(week, loading=max(loading.total(), 1), mesocycles=mesocycles, of_mesocycle=rank)
    if week.kind == "loading":
        factor = _ramp_number(inside + 1, places, last=rank == mesocycles > 1)
        return replace(placed, place=inside, places=places, loading_before=len(before), factor_number=factor)
    placed = replace(placed, factor_number=_LIGHTER_FACTOR.get(week.kind, ""))
    if inside == 0 and places:
        # It opens a mesocycle: the distances and exercises of the loading week to come.
        # Before a single one it stands one even step below it, so that distances do not leap.
        return replace(placed, places=places, loading_before=len(before) - (places == 1 and len(before) > 0))
    # It ends a mesocycle, or tapers: what the last loading week reached stays.
    final = inside or max((loading[other.mesocycle] for other in before), default=1)
    return replace(placed, place=final - 1, places=places or final, loading_before=max(len(before) - 1, 0))


def _ramp_number(position: int, count: int, *, last: bool) -> str:
    if not last:
        count, position = min(count, RAMP_LONGEST), min(position, RAMP_LONGEST)
        return f"of_{count}_week_{position}"
    if count <= LAST_RAMP:
        return f"last_week_{LAST_RAMP - count + position}"
    from_end = count - position
    return {0: "last_week_4", 1: "last_week_3"}.get(
        from_end, "last_week_1" if position == 1 else "last_week_2"
    )


def reserve_week(week: WeekPlan) -> int:
    """Give the place (1 to 4) in the row of repetitions in reserve.

    Three loading weeks use the first, the second and the last place, so the load rises each week; fewer use
    the row's last ones, more repeat the middle.
    """
    if week.season_place is not None:
        return week.season_place + 1
    position, count = week.place + 1, max(week.places, 1)
    if position == count:
        return RESERVE_ROW
    if count < RESERVE_ROW - 1:
        return RESERVE_ROW - count + position
    return min(position, 2) if count != RESERVE_ROW else position

"""One athlete from the first week to the last: settings, models, finished lines."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace

from speedloom.planning.calendar_week import Day, days_of_week
from speedloom.planning.clash import Overfull, overfull
from speedloom.planning.ledger import Input, Tag
from speedloom.planning.prescribe import Line, finish
from speedloom.planning.problem import Band, Filled, week_model
from speedloom.planning.returning import limits_on, returning_week
from speedloom.planning.sessions import fill
from speedloom.planning.setting import Plan, Setting
from speedloom.planning.solver import solve
from speedloom.planning.unmet import lost_slots, short_of
from speedloom.planning.week_numbers import week_factor, week_point, week_specificity
from speedloom.planning.weeks import WeekPlan, lay_out
from speedloom.training.calendar import Slot
from speedloom.training.programme import Unmet

LOOK_BACK = 4  # loading weeks a lighter week is measured against


@dataclass(frozen=True)
class PlannedSession:
    """A session with its finished lines."""

    setting: Setting
    lines: tuple[Line, ...]


@dataclass(frozen=True)
class PlannedWeek:
    """A week with its sessions, its specificity, each method's volume, and what could not be had."""

    week: WeekPlan
    specificity: Tag
    sessions: tuple[PlannedSession, ...]
    wanted: dict[str, Tag] = field(default_factory=dict)
    planned: dict[str, Tag] = field(default_factory=dict)
    short: tuple[Unmet, ...] = ()

    def amounts(self) -> dict[str, float]:
        """Give the week's metres run and sets lifted."""
        found: dict[str, float] = {}
        for session in self.sessions:
            for line in session.lines:
                if line.draft.volume is not None:
                    kind, amount = line.draft.amount_for(int(line.count.value))
                    found[kind] = found.get(kind, 0.0) + amount
        return found


@dataclass(frozen=True)
class PlannedAthlete:
    """All weeks of an athlete, and what could not be had."""

    plan: Plan
    weeks: tuple[PlannedWeek, ...]
    unmet: tuple[Unmet, ...]

    @property
    def has_days(self) -> bool:
        """Whether any slot met the dates, be it that limits or events took it away again."""
        taken = any(item.wish == "session" for item in self.unmet)
        return taken or any(week.sessions for week in self.weeks)


@dataclass(frozen=True)
class DraftedWeek:
    """A week with its sessions' lines before any count is chosen, and the slots it lost."""

    week: WeekPlan
    specificity: Tag
    sessions: tuple[Filled, ...]
    lost: tuple[Slot, ...]
    gym: bool


def draft_weeks(plan: Plan) -> Iterator[DraftedWeek]:
    """Draft an athlete's weeks one by one; nothing is solved, so what does not fit is seen at once."""
    before: tuple[Day, ...] = ()
    returning: int | None = None
    last_loading: Tag | None = None
    for week in lay_out(plan.brief, in_training=plan.athlete.in_training):
        days, lost = days_of_week(plan.brief, plan.athlete, week, rulebook=plan.rulebook, before=before)
        back = returning_week(plan, week, last=before[-1] if before else None, before=returning)
        drafted = _draft_week(plan, week, days, before=before, last_loading=last_loading, returning=back)
        yield replace(drafted, lost=(*lost, *drafted.lost))
        if drafted.sessions:
            # A week whose every session a restriction took away is no week of training.
            returning = back
            before += tuple(session.setting.day for session in drafted.sessions)
        if week.kind in {"loading", "break"}:
            # What a lighter week is measured against: the loading weeks since the last break.
            last_loading = drafted.specificity if week.kind == "loading" else None


def _draft_week(
    plan: Plan,
    week: WeekPlan,
    days: tuple[Day, ...],
    *,
    before: tuple[Day, ...],
    last_loading: Tag | None,
    returning: int | None,
) -> DraftedWeek:
    specificity, point = week_specificity(plan, week), week_point(plan, week)
    gym = any(day.gym for day in days)
    kept: list[Filled] = []
    shut: list[Slot] = []
    for day in days:
        done = (*before, *(session.setting.day for session in kept))
        setting = Setting(
            plan,
            week,
            day,
            specificity,
            point,
            week_factor(plan, week, day, returning=returning),
            limits=limits_on(plan, day.date, field_days=tuple(one.date for one in done if not one.gym)),
            returning=returning,
            last_loading=last_loading,
        )
        filled = fill(setting, gym_in_week=gym)
        if _shut(filled):
            shut.append(day.slot)
        else:
            kept.append(filled)
    return DraftedWeek(week, specificity, tuple(kept), tuple(shut), gym)


def plan_athlete(plan: Plan, *, progress: Callable[[str], None]) -> PlannedAthlete | list[Overfull]:
    """Plan an athlete week by week, or give every session that cannot be done."""
    drafted = list(draft_weeks(plan))
    too_full = [found for one in drafted for found in map(overfull, one.sessions) if found is not None]
    if too_full:
        return too_full
    weeks: list[PlannedWeek] = []
    for one in drafted:
        if one.week.kind == "break":
            plan.carried.clear()
        weeks.append(_plan_week(plan, one, before=_loaded_since_break(weeks)))
        progress(plan.athlete.title)
    return PlannedAthlete(plan, tuple(weeks), tuple(unmet for week in weeks for unmet in week.short))


def _loaded_since_break(weeks: list[PlannedWeek]) -> list[PlannedWeek]:
    """Give the loading weeks since the last break: what a lighter week is measured against."""
    breaks = [place for place, done in enumerate(weeks, start=1) if done.week.kind == "break"]
    return [done for done in weeks[max(breaks, default=0) :] if done.week.kind == "loading"]


def _plan_week(plan: Plan, drafted: DraftedWeek, *, before: list[PlannedWeek]) -> PlannedWeek:
    week = drafted.week
    filled = tuple(_with_carried(plan, session, gym=drafted.gym) for session in drafted.sessions)
    counts = _solved(plan, week, filled, bands=_bands(plan, week, before, filled))
    sessions = tuple(
        PlannedSession(
            session.setting,
            tuple(
                finish(session.setting, draft, counts[at, line])
                for line, draft in enumerate(session.drafts)
                if counts[at, line] > 0
            ),
        )
        for at, session in enumerate(filled)
    )
    _carry(plan, week, sessions)
    full = _with_volumes(plan, PlannedWeek(week, drafted.specificity, sessions), filled)
    return replace(full, short=(*full.short, *lost_slots(plan, week, drafted.lost)))


def _with_carried(plan: Plan, session: Filled, *, gym: bool) -> Filled:
    """Draft a sled session again once the last sled's load is known."""
    pulls = any(draft.key == "resisted" for draft in session.drafts)
    return fill(session.setting, gym_in_week=gym) if pulls and plan.carried else session


def _shut(session: Filled) -> bool:
    """Say whether nothing but a warm-up is left, or a restriction leaves too few minutes for any training."""
    if not any(draft.purpose == "work" for draft in session.drafts):
        return True
    restricted = session.available_min < session.setting.day.slot.minutes
    return restricted and overfull(session) is not None


def _carry(plan: Plan, week: WeekPlan, sessions: tuple[PlannedSession, ...]) -> None:
    """Remember each sled's last load; an introduction week's light ones are no measure."""
    if week.kind == "introduction":
        return
    for session in sessions:
        if any(limit.what == "load_kg" for limit in session.setting.limits):
            continue  # A restriction's load says nothing about the weeks after it.
        for line in session.lines:
            if line.draft.key == "resisted" and "load_kg" in line.basis:
                plan.carried[line.fields["kit"]] = line.basis["load_kg"]


def _bands(
    plan: Plan, week: WeekPlan, before: list[PlannedWeek], filled: tuple[Filled, ...]
) -> tuple[Band, ...]:
    """Give what a lighter week should hold: rule D1's cut of the fullest of the last loading weeks."""
    plain = plan.number("weeks_ramp", "deload")
    if (
        week.kind != "deload"
        or not before
        or any(session.setting.factor.value != plain for session in filled)
    ):
        # Exams, a minor peak or a return cut further than a lighter week alone.
        return ()
    low, high = (1 - plan.number("deload_cut", end) for end in ("cut_high", "cut_low"))
    amounts = [done.amounts() for done in before[-LOOK_BACK:]]
    usual = {kind: max(one.get(kind, 0.0) for one in amounts) for kind in ("m", "sets")}
    return tuple(Band(kind, most, low * most, high * most) for kind, most in usual.items() if most)


def _solved(
    plan: Plan, week: WeekPlan, filled: tuple[Filled, ...], *, bands: tuple[Band, ...]
) -> dict[tuple[int, int], int]:
    if not filled:
        return {}
    model = week_model(
        filled,
        seed=f"{plan.brief.seed}/{week.number}",
        beyond_most_m=plan.number("top_speed_runs", "session_high_m"),
        bands=bands,
    )
    solution = solve(model.problem)
    if solution is None:
        message = f"{plan.athlete.ref}, week {week.number}: no counts fit although every session has room"
        raise AssertionError(message)
    return model.counts(solution.values)


def _with_volumes(plan: Plan, week: PlannedWeek, filled: tuple[Filled, ...]) -> PlannedWeek:
    wishes: dict[str, list[Tag]] = {}
    for session in filled:
        for draft in session.drafts:
            if draft.volume is not None and draft.wanted is not None:
                wishes.setdefault(draft.volume, []).append(draft.wanted)
    done: dict[str, list[Line]] = {volume: [] for volume in wishes}
    for planned in week.sessions:
        for line in planned.lines:
            if line.draft.volume is not None:
                done[line.draft.volume].append(line)
    wanted = {
        volume: plan.ledger.compute(
            f"wanted {volume}", _unit(volume), "total", **{f"line_{n}": tag for n, tag in enumerate(tags, 1)}
        )
        for volume, tags in sorted(wishes.items())
    }
    reached = {volume: _planned(plan, volume, lines) for volume, lines in sorted(done.items())}
    full = replace(week, wanted=wanted, planned=reached)
    return replace(full, short=tuple(short_of(plan, week.week, filled, wanted=wanted, planned=reached)))


def _planned(plan: Plan, volume: str, lines: list[Line]) -> Tag:
    inputs: dict[str, Input] = {}
    for place, line in enumerate(lines, 1):
        inputs[f"{line.draft.counted}_{place}"] = line.count
        if line.draft.each is not None:
            inputs[f"each_{place}"] = line.draft.each
    total = sum(line.draft.units_for(int(line.count.value)) for line in lines)
    return plan.ledger.put(f"planned {volume}", total, _unit(volume), by="volume.planned", inputs=inputs)


def _unit(volume: str) -> str:
    if volume in {"acceleration", "top_speed", "submaximal", "resisted_sprint"}:
        return "m"
    return "contacts" if volume == "plyometric" else "sets"

"""One athlete from the first week to the last: settings, models, finished lines."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from speedloom.planning import past as earlier
from speedloom.planning.clash import Overfull, overfull
from speedloom.planning.drafted import DraftedWeek, draft_weeks
from speedloom.planning.holding import held
from speedloom.planning.keeping import Kept, counts_before, keep, matched
from speedloom.planning.ledger import Tag
from speedloom.planning.past import Past
from speedloom.planning.prescribe import Line, finish
from speedloom.planning.problem import NOTHING_BEFORE, Band, Before, Filled, week_model
from speedloom.planning.returning import limits_on
from speedloom.planning.sessions import fill
from speedloom.planning.setting import Plan, Setting
from speedloom.planning.solver import solve
from speedloom.planning.unmet import lost_slots, short_of
from speedloom.planning.week_volumes import week_volumes
from speedloom.planning.weeks import WeekPlan
from speedloom.training.programme import Session, Unmet, Week
from speedloom.training.words import WeekKind


@dataclass(frozen=True)
class PlannedSession:
    """A session with its finished lines."""

    setting: Setting
    lines: tuple[Line, ...]


@dataclass(frozen=True)
class PlannedWeek:
    """A week with its sessions, its specificity, each method's volume, and what could not be had.

    `standing` is the week of an earlier revision where nothing of it changes; `frozen` are its sessions that
    are over, or locked as a whole, where the rest does.
    """

    week: WeekPlan
    specificity: Tag
    sessions: tuple[PlannedSession, ...]
    wanted: dict[str, Tag] = field(default_factory=dict)
    planned: dict[str, Tag] = field(default_factory=dict)
    short: tuple[Unmet, ...] = ()
    standing: Week | None = None
    frozen: tuple[Session, ...] = ()

    def amounts(self) -> dict[str, float]:
        """Give the week's metres run and sets lifted."""
        found = earlier.amounts(self.standing.sessions if self.standing else self.frozen)
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
        return taken or any(week.sessions or week.standing for week in self.weeks)


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
    old = plan.past.weeks.get(week.number) if plan.past else None
    if plan.past and old and drafted.over:
        return _standing(plan, drafted, old)
    filled = tuple(_with_carried(plan, session, gym=drafted.gym) for session in drafted.sessions)
    frozen = (*plan.past.frozen(week.number), *drafted.locked) if plan.past else ()
    bands = _bands(plan, week, before, filled, frozen=frozen)
    chosen = NOTHING_BEFORE
    if plan.past:
        ahead = _open(plan.past, drafted)
        olds = matched([session.setting.day for session in filled], ahead)
        filled = tuple(
            held(session, was, ledger=plan.ledger) for session, was in zip(filled, olds, strict=True)
        )
        kept = tuple(keep(session, was) for session, was in zip(filled, olds, strict=True))
        if old and _nothing_new(plan, drafted, old, kept):
            return _standing(plan, drafted, old)
        chosen = counts_before(kept)
    counts = _solved(plan, week, filled, bands=bands, before=chosen)
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
    _carry_frozen(plan, week.kind, frozen)
    _carry(plan, week, sessions)
    lines = [line for session in sessions for line in session.lines]
    drafts = [draft for session in filled for draft in session.drafts]
    wanted, planned = week_volumes(plan, drafts, lines, frozen=frozen)
    short = short_of(plan, week, filled, wanted=wanted, planned=planned)
    lost = lost_slots(plan, week, drafted.lost)
    return PlannedWeek(
        week,
        drafted.specificity,
        sessions,
        wanted,
        planned,
        short=(*short, *lost),
        frozen=frozen,
    )


def _standing(plan: Plan, drafted: DraftedWeek, old: Week) -> PlannedWeek:
    """Take a week of the earlier revision as it is."""
    _carry_frozen(plan, old.kind, old.sessions)
    unmet = plan.past.unmet if plan.past else ()
    short = tuple(item for item in unmet if item.week == old.number)
    return PlannedWeek(drafted.week, drafted.specificity, (), short=short, standing=old)


def _usual(plan: Plan, week: PlannedWeek) -> dict[str, float]:
    """Give what a week holds, or what it was to hold: lost days make no lighter week lighter still."""
    old = plan.past.weeks.get(week.week.number) if plan.past else None
    held, was = week.amounts(), earlier.amounts(old.sessions if old else ())
    return {kind: max(held.get(kind, 0.0), was.get(kind, 0.0)) for kind in {*held, *was}}


def _open(past: Past, drafted: DraftedWeek) -> tuple[Session, ...]:
    """Give the earlier sessions of a week that may change."""
    return tuple(one for one in past.ahead(drafted.week.number) if one not in drafted.locked)


def _nothing_new(plan: Plan, drafted: DraftedWeek, old: Week, kept: tuple[Kept, ...]) -> bool:
    """Say whether a week comes out as it stood, in every number and every derivation."""
    named = plan.ledger.name_of(drafted.specificity)
    as_it_was = (drafted.week.kind, drafted.week.mesocycle, named)
    ahead = _open(plan.past, drafted) if plan.past else ()
    return (
        as_it_was == (old.kind, old.mesocycle, old.basis.get("specificity"))
        and len(ahead) == len(kept)
        and all(one.same for one in kept)
    )


def _with_carried(plan: Plan, session: Filled, *, gym: bool) -> Filled:
    """Draft a sled session again once the last sled's load is known."""
    pulls = any(draft.key == "resisted" for draft in session.drafts)
    return fill(session.setting, gym_in_week=gym) if pulls and plan.carried else session


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


def _carry_frozen(plan: Plan, kind: WeekKind, sessions: tuple[Session, ...]) -> None:
    """Remember each sled's last load of sessions as they stood; a lost one's too, so that none grows."""
    past = plan.past
    if past is None or kind == "introduction":
        return
    for session in sessions:
        if any(limit.what == "load_kg" for limit in limits_on(plan, session.date, field_days=())):
            continue
        for line in session.prescriptions:
            load = earlier.load_of(session, line, past=past, ledger=plan.ledger)
            if load is not None and line.kit is not None:
                plan.carried[line.kit] = load


def _bands(
    plan: Plan,
    week: WeekPlan,
    before: list[PlannedWeek],
    filled: tuple[Filled, ...],
    *,
    frozen: tuple[Session, ...],
) -> tuple[Band, ...]:
    """Give what a lighter week should hold: rule D1's cut of the fullest of the last loading weeks.

    What its days that are over held, lost ones too, leaves that much less for the others.
    """
    plain = plan.number("weeks_ramp", "deload")
    if (
        week.kind != "deload"
        or not before
        or any(session.setting.factor.value != plain for session in filled)
    ):
        # Exams, a minor peak or a return cut further than a lighter week alone.
        return ()
    low, high = (1 - plan.number("deload_cut", end) for end in ("cut_high", "cut_low"))
    look_back = int(plan.number("deload_cut", "look_back_weeks"))
    amounts = [_usual(plan, done) for done in before[-look_back:]]
    usual = {kind: max(one.get(kind, 0.0) for one in amounts) for kind in ("m", "sets")}
    held = earlier.amounts(frozen)
    return tuple(
        Band(kind, most, *(max(0.0, share * most - held.get(kind, 0.0)) for share in (low, high)))
        for kind, most in usual.items()
        if most
    )


def _solved(
    plan: Plan,
    week: WeekPlan,
    filled: tuple[Filled, ...],
    *,
    bands: tuple[Band, ...],
    before: Before,
) -> dict[tuple[int, int], int]:
    if not filled:
        return {}
    # What stood may not fit any more after a rule has changed: then everything of the week is chosen anew.
    for kept in (before, NOTHING_BEFORE):
        model = week_model(
            filled,
            seed=f"{plan.brief.seed}/{week.number}",
            beyond_most_m=plan.number("top_speed_runs", "session_high_m"),
            bands=bands,
            before=kept,
        )
        solution = solve(model.problem)
        if solution is not None:
            return model.counts(solution.values)
    message = f"{plan.athlete.ref}, week {week.number}: no counts fit although every session has room"
    raise AssertionError(message)

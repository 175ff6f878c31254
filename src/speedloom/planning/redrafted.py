"""The drafts behind the sessions of a week that stands: what the formulas would write on those days now."""

from __future__ import annotations

from collections.abc import Iterator

from speedloom.planning.drafted import draft_weeks
from speedloom.planning.keeping import matched
from speedloom.planning.ledger import Tag
from speedloom.planning.problem import Filled
from speedloom.planning.sessions import fill
from speedloom.planning.setting import Plan
from speedloom.training.programme import Session


def drafts_behind(plan: Plan, *, week: int) -> dict[str, Filled]:
    """Give the drafts behind the sessions of a week that may still change, by the sessions' refs.

    Args:
        plan: the athlete's plan with the earlier revision in it, whole locks looked through.
        week: number of the week.
    """
    past = plan.past
    if past is None:
        return {}
    drafted = next((one for one in draft_weeks(plan) if one.week.number == week), None)
    if drafted is None:
        return {}
    _carry(plan, week)
    sessions = matched([one.setting.day for one in drafted.sessions], past.ahead(week))
    return {
        old.ref: fill(filled.setting, gym_in_week=drafted.gym)
        for filled, old in zip(drafted.sessions, sessions, strict=True)
        if old is not None
    }


def _carry(plan: Plan, week: int) -> None:
    """Remember each sled's last load before a week, so that none grows."""
    past = plan.past
    for number in sorted(past.weeks) if past else ():
        if past is None or number >= week:
            break
        if past.weeks[number].kind == "break":
            plan.carried.clear()
        elif past.weeks[number].kind != "introduction":
            plan.carried.update(_loads(plan, past.sessions(number)))


def _loads(plan: Plan, sessions: tuple[Session, ...]) -> Iterator[tuple[str, Tag]]:
    for session in sessions:
        for line in session.prescriptions:
            if line.method == "resisted_sprint" and line.kit and "load_kg" in line.basis:
                yield line.kit, plan.ledger.named(line.basis["load_kg"])

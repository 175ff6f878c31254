"""Reviews of a whole squad's logs: what was done as planned reads as planned, in whatever order it came."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from functools import cache
from random import Random

from briefs import EXAMPLES, planned
from simulated_athletes import EXACT, Truth, estimated
from simulated_logs import PERFECT, Absence, Habits, simulate_log
from speedloom.report.charts.weave_programme import weave_from_programme
from speedloom.training.exercise import load_catalogue
from speedloom.training.log import Log
from speedloom.training.programme import Programme
from speedloom.training.rule import load_rulebook
from speedloom.workflows.review_week import review
from speedloom.workflows.reviewed import Amounts, Review


@cache
def squad() -> Programme:
    return planned(EXAMPLES / "spring_build.toml")


def strong(programme: Programme) -> Truth:
    """Make athletes who can do every repetition written for them."""
    truth = replace(estimated(programme), spread=EXACT)
    people = {
        ref: replace(one, lifts={name: 3.0 * kg for name, kg in one.lifts.items()})
        for ref, one in truth.people.items()
    }
    return replace(truth, people=people)


def reviewed(log: Log, *, week: int | None = None) -> Review:
    return review(squad(), log, week=week, rulebook=load_rulebook(), catalogue=load_catalogue())


def as_printed(amounts: Amounts) -> tuple[object, ...]:
    # Loads of a log are to the plate, so that tonnage may differ by a little; minutes are as they came.
    lifts = {name: (lift.sets, lift.hard_sets) for name, lift in amounts.lifts.items()}
    metres = (amounts.sprint_m, amounts.from_90_m, amounts.from_95_m, amounts.resisted_m)
    return (*(round(far, 6) for far in metres), amounts.contacts, lifts, amounts.volumes)


def test_a_squad_that_did_as_planned_differs_nowhere() -> None:
    log = simulate_log(squad(), weeks=range(1, 5), seed=1, truth=strong(squad()), habits=PERFECT)
    found = reviewed(log)
    written = {entry.athlete for entry in log.entries}
    assert len(written) >= 10
    weeks = [one for week in found.weeks for one in week.athletes if one.athlete in written]
    assert len(found.weeks) == 4
    for one in weeks:
        assert as_printed(one.amounts.done) == as_printed(one.amounts.planned)
        assert as_printed(one.amounts.unwritten) == as_printed(Amounts())
        assert one.differences == ()
        assert one.sessions.done == one.sessions.planned
        assert one.load.count.without_effort == 0


def test_the_order_of_a_log_means_nothing() -> None:
    ill = Absence("mila", squad().programmes[0].weeks[1].monday, squad().programmes[0].weeks[2].monday)
    habits = Habits(mistyped=0.3, unusual=0.1, forgotten=0.1, silent=0.2)
    log = simulate_log(
        squad(), weeks=range(1, 5), seed=2, truth=estimated(squad()), absences=[ill], habits=habits
    )
    entries = list(log.entries)
    Random(7).shuffle(entries)
    again = log.model_copy(update={"entries": (*entries, *entries[:20])})
    assert reviewed(again).to_json() == reviewed(log).to_json()


def test_squad_sums_are_their_athletes_and_days_make_the_line() -> None:
    log = simulate_log(squad(), weeks=range(1, 4), seed=3, truth=estimated(squad()))
    found = reviewed(log)
    for week in found.weeks:
        metres = sum(one.amounts.done.from_90_m for one in week.athletes)
        assert abs(week.squad.done.from_90_m - metres) < 1e-9
    for line in found.lines:
        own = [one for week in found.weeks for one in week.athletes if one.athlete == line.athlete]
        assert abs(sum(line.loads) - sum(one.load.total for one in own)) < 1e-6
        assert line.first + timedelta(days=len(line.loads) - 1) == found.until


def test_the_weave_takes_what_was_done() -> None:
    log = simulate_log(squad(), weeks=range(1, 4), seed=1, truth=strong(squad()), habits=PERFECT)
    done = reviewed(log).done_volumes("mila")
    weave = weave_from_programme(squad(), "mila", catalogue=load_catalogue(), done=done)
    for thread in weave.threads:
        assert len(thread.done) == len(weave.weeks)
        for planned_share, done_share in zip(thread.thickness[:3], thread.done[:3], strict=True):
            assert done_share is None or abs(done_share - planned_share) < 1e-6
        assert set(thread.done[3:]) == {None}

"""Briefs, athletes, restrictions and measurements: documents in, the same documents out."""

from __future__ import annotations

from datetime import date

import pytest

from invented_squads import Squads, brief, limit, sprint
from speedloom.store import athletes, briefs, measurements, restrictions
from speedloom.store import squads as all_squads
from speedloom.store.refusals import ConflictError, NotAllowedError, NotThereError, RefusedError
from speedloom.training.athlete import Athlete, Screening
from speedloom.training.exercise import load_catalogue
from speedloom.training.measurement import Measurements
from speedloom.training.rule import load_rulebook
from speedloom.workflows.resolve_brief import resolve_brief


def test_a_brief_comes_out_as_it_went_in_and_older_ones_stay(squads: Squads) -> None:
    coach = squads.by_role["coach"]
    saved = briefs.save_brief(coach, squads.ours, brief("Summer"), after=1, reason="The hall is closed")
    assert (saved.number, saved.by, saved.reason) == (2, "coach", "The hall is closed")
    assert briefs.brief(coach, squads.ours).brief == brief("Summer")
    assert briefs.brief(coach, squads.ours, number=1).brief == brief()
    assert [one.number for one in briefs.brief_revisions(coach, squads.ours)] == [2, 1]


def test_the_same_brief_again_saves_nothing(squads: Squads) -> None:
    coach = squads.by_role["coach"]
    assert briefs.save_brief(coach, squads.ours, brief(), after=1).number == 1


def test_who_was_slower_is_told_and_writes_nothing_over(squads: Squads) -> None:
    coach, owner = squads.by_role["coach"], squads.by_role["owner"]
    briefs.save_brief(coach, squads.ours, brief("Summer"), after=1)
    with pytest.raises(ConflictError, match="coach changed this meanwhile"):
        briefs.save_brief(owner, squads.ours, brief("Autumn"), after=1)
    assert briefs.brief(owner, squads.ours).brief.name == "Summer"


def test_a_whole_brief_can_be_planned_from(squads: Squads) -> None:
    coach, clinician = squads.by_role["coach"], squads.by_role["clinician"]
    restrictions.set_restriction(clinician, squads.ours, "mila", limit(set_as="clinician"))
    asked = Screening(on=date(2026, 1, 9), pain=False, cleared=True)
    athletes.record_screening(coach, squads.ours, "mila", asked)
    whole, measured = briefs.brief_to_plan(coach, squads.ours)
    mila, noa = resolve_brief(whole, measured, rulebook=load_rulebook(), catalogue=load_catalogue()).athletes
    assert (mila.screening, mila.restrictions) == (asked, (limit(set_as="clinician"),))
    assert (noa.screening, noa.restrictions) == (None, ())
    assert [trial.athlete for trial in measured.trials] == ["mila", "noa"]


def test_an_archived_athlete_is_not_planned_and_comes_back(squads: Squads) -> None:
    coach = squads.by_role["coach"]
    athletes.archive_athlete(coach, squads.ours, "noa")
    assert [one.ref for one in athletes.athletes(coach, squads.ours)] == ["mila"]
    assert [one.ref for one in briefs.brief_to_plan(coach, squads.ours)[0].athletes] == ["mila"]
    athletes.archive_athlete(coach, squads.ours, "noa", back=True)
    assert [one.ref for one in athletes.athletes(coach, squads.ours)] == ["mila", "noa"]


def test_changing_an_athlete_leaves_health_alone(squads: Squads) -> None:
    coach = squads.by_role["coach"]
    restrictions.set_restriction(coach, squads.ours, "mila", limit())
    changed = Athlete(ref="mila", name="Mila V.", mass_kg=62.0)
    card = athletes.change_athlete(coach, squads.ours, changed)
    assert (card.name, card.athlete.mass_kg, card.athlete.restrictions) == ("Mila V.", 62.0, ())
    assert [one.restriction for one in restrictions.restrictions(coach, squads.ours)] == [limit()]


def test_a_ref_is_taken_once_in_a_squad(squads: Squads) -> None:
    with pytest.raises(RefusedError, match="mila already"):
        athletes.add_athlete(squads.by_role["coach"], squads.ours, Athlete(ref="mila"))


def test_an_athlete_sees_themselves_and_nobody_else(squads: Squads) -> None:
    mila = squads.by_role["athlete"]
    assert [one.ref for one in athletes.athletes(mila, squads.ours)] == ["mila"]
    assert {one.athlete for one in measurements.measurements(mila, squads.ours).trials} == {"mila"}
    restrictions.set_restriction(squads.by_role["coach"], squads.ours, "noa", limit())
    assert restrictions.restrictions(mila, squads.ours) == ()
    with pytest.raises(NotAllowedError):
        athletes.athlete(mila, squads.ours, "noa")


def test_nothing_of_another_squad_is_there(squads: Squads) -> None:
    owner = squads.by_role["owner"]
    for ask in (
        lambda: athletes.athletes(owner, squads.theirs),
        lambda: athletes.athlete(owner, squads.theirs, "mila"),
        lambda: briefs.brief(owner, squads.theirs),
        lambda: measurements.measurements(owner, squads.theirs),
        lambda: all_squads.squad_card(owner, squads.theirs),
        lambda: all_squads.squad_card(owner, "no-such-one"),
    ):
        with pytest.raises(NotThereError):
            ask()
    assert restrictions.restrictions(owner, squads.theirs, lifted=True) == ()


def test_a_restriction_is_lifted_by_whom_it_may_with_a_reason_and_stays_in_the_history(
    squads: Squads,
) -> None:
    coach, clinician = squads.by_role["coach"], squads.by_role["clinician"]
    card = restrictions.set_restriction(clinician, squads.ours, "mila", limit(set_as="clinician"))
    with pytest.raises(NotAllowedError, match="Only a clinician"):
        restrictions.lift_restriction(coach, squads.ours, "mila", card.id, reason="Feels fine")
    with pytest.raises(RefusedError, match="a reason"):
        restrictions.lift_restriction(clinician, squads.ours, "mila", card.id, reason=" ")
    lifted = restrictions.lift_restriction(
        clinician, squads.ours, "mila", card.id, reason="Cleared on 2 March"
    )
    assert (lifted.lifted_by, lifted.lifted_reason) == ("The clinician", "Cleared on 2 March")
    assert restrictions.restrictions(coach, squads.ours) == ()
    assert restrictions.restrictions(coach, squads.ours, lifted=True) == (lifted,)
    assert briefs.brief_to_plan(coach, squads.ours)[0].athletes[0].restrictions == ()


def test_the_assistant_limits_at_once_and_any_coach_lifts_it(squads: Squads) -> None:
    assistant, owner = squads.by_role["assistant"], squads.by_role["owner"]
    card = restrictions.set_restriction(assistant, squads.ours, "mila", limit())
    with pytest.raises(NotAllowedError):
        restrictions.lift_restriction(assistant, squads.ours, "mila", card.id, reason="Fine again")
    restrictions.lift_restriction(owner, squads.ours, "mila", card.id, reason="Looked at; only a blister")
    with pytest.raises(RefusedError, match="as coach by assistant"):
        restrictions.set_restriction(assistant, squads.ours, "noa", limit(set_as="clinician"))


def test_a_paste_sent_twice_is_stored_once(squads: Squads) -> None:
    coach = squads.by_role["coach"]
    new = sprint("mila", day="2026-02-01")
    assert measurements.compare_measurements(coach, squads.ours, new).new == new
    assert measurements.add_measurements(coach, squads.ours, new) == 1
    assert measurements.add_measurements(coach, squads.ours, new) == 0
    assert measurements.compare_measurements(coach, squads.ours, new).known == new


def test_another_time_for_the_same_trial_is_noticed(squads: Squads) -> None:
    coach = squads.by_role["coach"]
    other = sprint("mila", last=4.39)
    found = measurements.compare_measurements(coach, squads.ours, other)
    assert (found.new, found.differing) == (other, other)


def test_a_wrong_test_is_struck_out_with_a_reason_and_never_gone(squads: Squads) -> None:
    coach = squads.by_role["coach"]
    row = measurements.measurement_rows(coach, squads.ours, athlete="mila")[0]
    with pytest.raises(RefusedError, match="a reason"):
        measurements.strike_measurement(coach, squads.ours, row.id, reason="")
    struck = measurements.strike_measurement(coach, squads.ours, row.id, reason="Gate 2 fell over")
    assert (struck.struck_by, struck.struck_reason) == ("coach", "Gate 2 fell over")
    assert measurements.measurements(coach, squads.ours, athlete="mila") == Measurements()
    assert measurements.measurement_rows(coach, squads.ours, athlete="mila") == (struck,)
    again = measurements.compare_measurements(coach, squads.ours, sprint("mila"))
    assert (again.struck, again.new) == (sprint("mila"), Measurements())
    measurements.bring_back_measurement(coach, squads.ours, row.id)
    assert measurements.measurements(coach, squads.ours, athlete="mila") == sprint("mila")
    deeds = [one.detail for one in all_squads.audit(coach, squads.ours) if one.action == "strike_test"]
    assert deeds == ["brought back; struck out before: Gate 2 fell over", "Gate 2 fell over"]


def test_tests_of_somebody_unknown_are_refused_whole(squads: Squads) -> None:
    coach = squads.by_role["coach"]
    both = Measurements(trials=(*sprint("mila", day="2026-02-02").trials, *sprint("zoe").trials))
    with pytest.raises(RefusedError, match="zoe"):
        measurements.add_measurements(coach, squads.ours, both)
    assert len(measurements.measurement_rows(coach, squads.ours)) == 2

"""A brief that is read again: what the programme has learned since stays beside it."""

from __future__ import annotations

import json
from datetime import date

from briefs import EXAMPLES, planned
from speedloom.training.athlete import Restriction
from speedloom.training.brief import ResolvedBrief
from speedloom.training.calendar import Away
from speedloom.training.kit import Friction
from speedloom.training.measurement import Lift
from speedloom.workflows.learned import with_clinicians_limits, with_documents_limits, with_learned

SINCE = date(2026, 2, 18)
LIFT = Lift(athlete="ines", date=date(2026, 2, 3), exercise="back_squat", load_kg=90.0, reps=1, se_kg=3.0)


def file_brief() -> ResolvedBrief:
    content = planned(EXAMPLES / "spring_build.toml").brief.content
    assert content is not None
    return content


def with_ines(brief: ResolvedBrief, **news: object) -> ResolvedBrief:
    athletes = tuple(one.model_copy(update=news) if one.ref == "ines" else one for one in brief.athletes)
    return brief.model_copy(update={"athletes": athletes})


def ines(brief: ResolvedBrief):  # noqa: ANN201 - an athlete of the document
    return next(one for one in brief.athletes if one.ref == "ines")


def test_the_same_brief_again_is_the_same() -> None:
    brief = file_brief()
    assert with_learned(brief, brief, since=SINCE) == brief


def test_a_logged_lift_stays_at_the_end() -> None:
    brief = file_brief()
    known = with_ines(brief, lifts=(*ines(brief).lifts, LIFT))
    assert ines(with_learned(brief, known, since=SINCE)).lifts == (*ines(brief).lifts, LIFT)


def test_a_trial_made_of_runs_stays_and_a_test_that_the_file_lost_goes() -> None:
    brief = file_brief()
    test = brief.measurements.trials[0]
    run = test.model_copy(update={"date": date(2026, 2, 5)})
    more = brief.measurements.model_copy(update={"trials": (*brief.measurements.trials, run)})
    typed = brief.model_copy(update={"measurements": more})
    assert with_learned(brief, typed, since=SINCE) == brief
    made = typed.model_copy(update={"learned": (run.ref,)})
    kept = with_learned(brief, made, since=SINCE)
    assert (kept.learned, set(kept.measurements.trials)) == ((run.ref,), set(more.trials))
    assert with_learned(brief, kept, since=SINCE) == kept


def test_a_lifted_set_that_the_file_lost_goes() -> None:
    brief = file_brief()
    typed = LIFT.model_copy(update={"reps": 3, "se_kg": None})
    known = with_ines(brief, lifts=(*ines(brief).lifts, typed))
    assert with_learned(brief, known, since=SINCE) == brief


def test_days_that_were_lost_stay_and_an_absence_ahead_is_the_files_to_say() -> None:
    brief = file_brief()
    lost = Away(date=date(2026, 2, 9), until=date(2026, 2, 20))
    found = ines(with_learned(brief, with_ines(brief, away=(lost,)), since=SINCE)).away
    assert found == (Away(date=date(2026, 2, 9), until=date(2026, 2, 17)),)


def test_friction_from_runs_stays_until_the_file_says_another() -> None:
    brief = file_brief()
    before = next(one for one in brief.kit if one.ref == "sled_hall").friction
    assert before is not None
    assert before.value is not None
    assert before.se is not None
    learned = Friction(
        value=0.35, se=0.008, low=before.value - 1.645 * before.se, high=before.value + 1.645 * before.se
    )

    def friction(of: ResolvedBrief, set_to: Friction | None = None) -> ResolvedBrief:
        kit = tuple(
            one.model_copy(update={"friction": set_to or one.friction}) if one.ref == "sled_hall" else one
            for one in of.kit
        )
        return of.model_copy(update={"kit": kit})

    known = friction(brief, learned)
    other = friction(brief, Friction(value=0.45, se=0.02))
    kept, changed = (with_learned(one, known, since=SINCE) for one in (brief, other))
    assert next(one for one in kept.kit if one.ref == "sled_hall").friction == learned
    assert next(one for one in changed.kit if one.ref == "sled_hall").friction == Friction(
        value=0.45, se=0.02
    )


def test_a_newer_friction_is_not_put_back_by_the_one_learned_before() -> None:
    brief = file_brief()
    first, second = (Friction(value=value, se=0.01, low=0.30, high=0.45) for value in (0.38, 0.36))

    def knows(friction: Friction) -> ResolvedBrief:
        kit = tuple(
            one.model_copy(update={"friction": friction}) if one.ref == "sled_hall" else one
            for one in brief.kit
        )
        return brief.model_copy(update={"kit": kit})

    found = with_learned(knows(second), knows(first), since=SINCE)
    assert next(one for one in found.kit if one.ref == "sled_hall").friction == second


def test_a_run_that_the_file_corrects_does_not_stay_beside_its_correction() -> None:
    brief = file_brief()
    trial, *others = brief.measurements.trials
    slower = tuple(
        split.model_copy(update={"time_s": round(split.time_s + 0.2, 3)}) for split in trial.splits
    )
    right = (trial.model_copy(update={"splits": slower}), *others)
    now = brief.model_copy(update={"measurements": brief.measurements.model_copy(update={"trials": right})})
    assert with_learned(now, brief, since=SINCE).measurements.trials == right


def test_a_lift_that_the_file_corrects_does_not_stay_and_a_maximum_from_the_log_does() -> None:
    brief = file_brief()
    tested = ines(brief).lifts[0]
    logged = LIFT.model_copy(update={"date": tested.date})
    right = tested.model_copy(update={"load_kg": tested.load_kg - 10})
    now = with_ines(brief, lifts=(right, *ines(brief).lifts[1:]))
    known = with_ines(brief, lifts=(*ines(brief).lifts, logged))
    assert ines(with_learned(now, known, since=SINCE)).lifts == (*ines(now).lifts, logged)


def test_a_clinicians_restriction_left_out_of_the_file_stays_and_a_coachs_goes() -> None:
    brief = file_brief()

    def restriction(ref: str, set_as: str, until: str | None = None) -> Restriction:
        limits = [{"what": "share_vmax", "at_most": 0.8}]
        more = {"set_by": "somebody", "set_as": set_as, "until": until}
        return Restriction.model_validate_json(
            json.dumps({"ref": ref, "limits": limits, "from": "2026-02-01", **more})
        )

    was = with_ines(
        brief,
        restrictions=(
            restriction("calf", "clinician"),
            restriction("hip", "coach"),
            restriction("old", "clinician", "2026-02-10"),
        ),
    )
    found, kept = with_clinicians_limits(brief, was, since=SINCE)
    assert kept == ("calf",)
    assert [one.ref for one in ines(found).restrictions] == ["calf"]
    ended = with_ines(brief, restrictions=(restriction("calf", "clinician", "2026-02-17"),))
    assert with_clinicians_limits(ended, was, since=SINCE) == (ended, ())


def test_a_limit_nobody_lifted_stays_whoever_set_it_and_whatever_else_has_its_name() -> None:
    brief = file_brief()

    def restriction(set_as: str, said: str = "somebody", until: str | None = None) -> Restriction:
        limits = [{"what": "share_vmax", "at_most": 0.8}]
        more = {"set_by": said, "set_as": set_as, "until": until}
        return Restriction.model_validate_json(
            json.dumps({"ref": "calf", "limits": limits, "from": "2026-02-01", **more})
        )

    lifted, left, over = (
        restriction("coach"),
        restriction("clinician"),
        restriction("coach", "b", "2026-02-10"),
    )
    was = with_ines(brief, restrictions=(lifted, left, over))
    known = {ines(brief).ref: frozenset({lifted})}
    found = with_documents_limits(brief, was, since=SINCE, known=known)
    assert ines(found).restrictions == (left,)
    both = with_documents_limits(brief, was, since=SINCE, known={})
    assert ines(both).restrictions == (lifted, left)

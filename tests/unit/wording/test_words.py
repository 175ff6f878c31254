"""Dates, numbers, findings, clashes, differences, profiles, cautions and summaries in words."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time

import pytest

from small_programme import document, small_programme
from speedloom.checking.finding import Finding, Findings
from speedloom.planning.clash import Clash, Repair
from speedloom.training.brief import ResolvedBrief
from speedloom.training.exercise import load_catalogue
from speedloom.training.profile import Profile
from speedloom.training.programme import Prescription
from speedloom.training.rule import load_rulebook
from speedloom.wording.cautions import ALWAYS, BAR, DROP, NO_CLINICIAN, SLED, session_cautions
from speedloom.wording.clashes import clash_text
from speedloom.wording.dates import clock, day_month, full_date, listing, runs, span
from speedloom.wording.differences import differences_text
from speedloom.wording.findings import FindingsBook, counted, finding_sentence, finding_words, findings_text
from speedloom.wording.names import exercise_name, short_name
from speedloom.wording.profiles import profiles_text
from speedloom.wording.summaries import plan_summary
from speedloom.wording.units import Units, length, mass, number, quantity, rest, seconds, share
from speedloom.workflows.compare import compare

CATALOGUE, RULEBOOK = load_catalogue(), load_rulebook()

BRIEF = """{
  "schema": "speedloom.brief/1", "name": "Small", "timezone": "Europe/Amsterdam",
  "start": "2026-01-12", "end": "2026-02-08", "goal": {}, "phases": {"mesocycle_weeks": [4]},
  "places": [{"ref": "hall", "kind": "hall"}],
  "slots": [{"ref": "mon_hall", "day": "monday", "start": "18:00", "minutes": 40, "place": "hall"}],
  "athletes": [{"ref": "mila", "name": "Mila Example"}, {"ref": "noa", "name": "Noa Example"}],
  "assumed": ["mila.height_m", "noa.height_m", "noa.level.power"]
}"""


def brief() -> ResolvedBrief:
    return ResolvedBrief.model_validate_json(BRIEF)


def test_dates() -> None:
    day = date(2026, 3, 2)
    assert (day_month(day), full_date(day), clock(time(9, 5))) == ("Mon 2 Mar", "2 March 2026", "09:05")
    assert span(day, day) == "Mon 2 Mar"
    assert span(day, date(2026, 3, 8)) == "Mon 2 Mar to Sun 8 Mar"
    assert runs([7, 1, 2, 3, 5, 6]) == "1–3, 5–7"
    assert [listing([]), listing(["a"]), listing(["a", "b", "c"])] == ["", "a", "a, b and c"]


def test_numbers_and_units() -> None:
    assert [number(-0.0), number(-1.5), number(12.0)] == ["0", "−1.5", "12"]
    assert [mass(82.5), length(10.0), share(0.055), seconds(3.481)] == ["82.5 kg", "10 m", "5.5 %", "3.48 s"]
    assert [rest(45), rest(119), rest(120), rest(195)] == ["45 s", "119 s", "2 min", "3:15 min"]
    assert quantity(-0.1234, "s") == "−0.123 s"
    assert quantity(0.51234, "1") == "0.5123"
    assert quantity(150, "s") == "2.5 min"


def test_pounds_and_yards() -> None:
    american = Units(mass="lb", length="yd")
    assert mass(100.0, units=american) == "220.5 lb"
    assert length(91.44, units=american) == "100 yd"


def finding(**changes: object) -> Finding:
    plain = {
        "rule": "sled_session",
        "weight": "warning",
        "number": "distance_high_m",
        "athlete": "mila",
        "week": 2,
        "session": "mila-200",
        "line": "mila-203",
        "value": 40.0,
        "limit": 30.0,
        "unit": "m",
    }
    return Finding(**{**plain, **changes})  # type: ignore[arg-type]


def findings_book() -> FindingsBook:
    return FindingsBook(rulebook=RULEBOOK, catalogue=CATALOGUE, programme=small_programme())


def test_a_finding_says_where_how_much_source_mark_and_what_to_do() -> None:
    text = finding_sentence(finding(), book=findings_book())
    for part in (
        "mila, week 2, Mon 19 Jan, Sled (mila-203)",
        "distance 40 m, the rule says at most 30 m",
        "Haugen and others 2019, read",
        "sled_session",
        "Shorten the runs or take one away.",
    ):
        assert part in text


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        # 108.8 % is what the sled weighs, never how much it slows.
        (
            {"rule": "sled_pull_bands", "number": "decrement_75_low", "value": 1.0881, "limit": 1.07},
            "sled 109 % of body mass, the published range is 107–160 %",
        ),
        # Early in a programme 85 % is the most, although the same number is the least later on.
        (
            {"rule": "strength_zone", "number": "share", "value": 0.87, "limit": 0.85},
            "load 87 %, the rule says at most 85 % of 1RM",
        ),
        (
            {"rule": "fast_metres_rise", "number": "rise", "value": 126.93, "limit": 95.1, "unit": "m"},
            "127 m at 90 % and faster in the week, at most 95.1 m after the four weeks before",
        ),
        (
            {
                "rule": "youth_lifting",
                "number": "sessions_low",
                "value": 1.0,
                "limit": 2.0,
                "unit": "sessions",
            },
            "1 session, the rule says at least 2 sessions",
        ),
        (
            {
                "rule": "deload_cut",
                "number": "cut_low",
                "value": 0.2999,
                "limit": 0.3,
                "detail": (("of", "m"),),
            },
            "cut 29.99 %, the rule says at least 30 %; of metres",
        ),
    ],
)
def test_an_amount_says_what_it_is_of_and_which_end_is_passed(changes: dict[str, object], said: str) -> None:
    words = finding_words(finding(**{"unit": "share", "line": None} | changes), book=findings_book())
    assert words.amount == said


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        (
            {"rule": "fast_metres_rise", "number": "rise", "value": 126.93, "limit": 95.1, "unit": "m"},
            "139 yd at 90 % and faster in the week, at most 104 yd after the four weeks before",
        ),
        (
            {"rule": "restriction_kept", "number": "", "value": 80.0, "limit": 60.0, "unit": "kg"},
            "176 lb, the limit is 132 lb",
        ),
        (
            {"rule": "restriction_kept", "number": "", "value": 55.0, "limit": 40.0, "unit": "min"},
            "55 min, the limit is 40 min",
        ),
    ],
)
def test_an_amount_stands_in_the_units_of_whoever_reads_it(changes: dict[str, object], said: str) -> None:
    book = replace(findings_book(), units=Units(mass="lb", length="yd"))
    assert finding_words(finding(**{"line": None} | changes), book=book).amount == said


def test_findings_are_grouped_by_weight_and_rule() -> None:
    items = [finding(week=week, value=30.0 + week, session=None, line=None) for week in range(1, 7)]
    hard = finding(rule="slot_minutes", number="", weight="hard", value=80.0, limit=60.0, unit="min")
    text = findings_text(Findings((hard, *items)), book=findings_book())
    assert text.startswith("1 hard and 6 to look at\n")
    assert text.index("Hard: must be changed") < text.index("Warnings")
    assert text.count("Resisted sprints are 10–30 m long") == 1
    assert "and mila in weeks 1–3" in text


def test_no_finding_is_said_too() -> None:
    assert "Every rule of the book holds" in findings_text(Findings(), book=findings_book())
    assert counted(Findings((finding(), finding(weight="advice")))) == "1 to look at and 1 word of advice"


def clash(**changes: object) -> Clash:
    plain = {
        "athletes": ("mila",),
        "weeks": (2, 3),
        "dates": (date(2026, 1, 19), date(2026, 1, 26)),
        "slot": "mon_hall",
        "place": "hall",
        "tags": ("slot_minutes", "top_speed", "warm_up_indoor"),
        "facts": (("minutes_needed", 47.5), ("minutes_available", 40.0)),
        "repair": Repair("lengthen_slot", (("slot", "mon_hall"), ("minutes", 10))),
    }
    return Clash(**{**plain, **changes})  # type: ignore[arg-type]


def test_a_clash_is_two_sentences_with_dates_and_the_repair() -> None:
    text = clash_text(clash(), brief=brief())
    assert text == (
        "Monday 18:00 (hall) needs at least 48 minutes for Mila Example "
        "(weeks 2–3, Mon 19 Jan 2026 to Mon 26 Jan 2026), and has 40: "
        "the weekly top-speed runs and the warm-up, rests kept, do not fit. "
        "Cheapest repair: lengthen the slot of mon_hall by 10 minutes."
    )


@pytest.mark.parametrize(
    ("tag", "kind", "said"),
    [
        ("screening", "clear_athlete", "not cleared"),
        ("no_slot", "add_slot", "from 19 January 2026 to 26 January 2026"),
        ("kit", "leave_out_method", "do not go together"),
    ],
)
def test_other_clashes(tag: str, kind: str, said: str) -> None:
    text = clash_text(clash(tags=(tag,), facts=(), repair=Repair(kind)), brief=brief())
    assert said in text
    assert "Cheapest repair: " in text
    assert text.count(". ") <= 1


def test_differences_merge_what_is_the_same() -> None:
    content = document()
    for week in content["programmes"][0]["weeks"][1:]:
        week["sessions"][0]["prescriptions"][1]["reps"] = 9
    moved = content["programmes"][0]["weeks"][1]["sessions"][1]
    moved["date"], moved["start"] = "2026-01-22", "18:00"
    old, new = small_programme(), small_programme(content)
    text = differences_text(compare(old, new), programme=new, catalogue=CATALOGUE)
    assert "Session moved from Wed 21 Jan 19:30 to Thu 22 Jan 18:00, gym: mila." in text
    assert "mila, Mon 19 Jan: Standing run repetitions 6 → 9." in text
    assert len(text.splitlines()) == 4


def test_an_athlete_s_lines_of_a_day_stand_together_with_units() -> None:
    content = document()
    lines = content["programmes"][0]["weeks"][1]["sessions"][0]["prescriptions"]
    lines[1]["reps"] = 9
    gone = lines.pop(2)
    old, new = small_programme(), small_programme(content)
    text = differences_text(compare(old, new), programme=new, catalogue=CATALOGUE)
    assert gone["exercise"] == "sled_sprint"
    assert text == ("mila, Mon 19 Jan: Standing run repetitions 6 → 9; Sled removed (4 × 10 m, 37.5 kg).\n")
    back = differences_text(compare(new, old), programme=old, catalogue=CATALOGUE)
    assert "Sled added (4 × 10 m, 37.5 kg)" in back
    rows = differences_text(compare(old, new), programme=new, catalogue=CATALOGUE, width=60).splitlines()
    assert max(map(len, rows)) <= 60
    assert " ".join(row.strip() for row in rows) == text.strip()


def test_repetitions_of_an_added_lift_are_called_so() -> None:
    content = document()
    lines = content["programmes"][0]["weeks"][1]["sessions"][1]["prescriptions"]
    squat = next(line for line in lines if line["exercise"] == "back_squat")
    lines.remove(squat)
    old, new = small_programme(content), small_programme()
    text = differences_text(compare(old, new), programme=new, catalogue=CATALOGUE)
    assert f"Back squat added ({squat['sets']} × {squat['reps']} repetitions, {squat['load_kg']:g} kg" in text


def test_the_top_speed_run_has_one_name() -> None:
    """Its short name is the first part of its full name, on every screen and sheet."""
    assert short_name("top_speed_run", catalogue=CATALOGUE) == "Top-speed run"
    assert exercise_name("top_speed_run", catalogue=CATALOGUE).startswith("Top-speed run")


def test_no_difference_is_said_too() -> None:
    same = small_programme()
    assert differences_text(compare(same, same), programme=same, catalogue=CATALOGUE) == "Nothing changed.\n"


PROFILE = """{
  "ref": "noa/2026-01-08/gates", "athlete": "noa", "date": "2026-01-08", "timing": "gates",
  "clock": "unknown", "behind_m": null, "surface": "sprung_wood", "mass_kg": 61.5, "height_m": 1.69,
  "timing_sd_s": 0.01,
  "trials": {"used": [2], "rule": "best", "refused": [{"trial": 3, "why": "splits_not_increasing"}]},
  "air": {"density_kgpm3": 1.204, "assumed": true},
  "vmax_mps": {"value": 8.12, "low": 8.01, "high": 8.24}, "tau_s": {"value": 1.14, "low": 1.06, "high": 1.22},
  "f0_npkg": null, "v0_mps": null, "pmax_wpkg": null,
  "offset_s": {"value": 0.21, "low": 0.15, "high": 0.27, "prior_driven": true},
  "splits": [{"distance_m": 10, "time_s": 1.902, "fitted_s": 1.906}],
  "warnings": [{"id": "too_few_gates_for_f0", "message": "Three gates: force is not shown.",
                "field": "f0_npkg"}]
}"""


def test_profiles_show_bands_refusals_and_warnings() -> None:
    text = profiles_text([Profile.model_validate_json(PROFILE)])
    for part in (
        "8.12 (8.01 to 8.24)",
        "0.21° (0.15 to 0.27)",
        "trial 3 left out: splits not increasing",
        "0.004 s at 10 m",
        "Three gates: force is not shown.",
        "best trial 2",
    ):
        assert part in text


def line_of(exercise: str) -> Prescription:
    first = small_programme().programmes[0].weeks[0].sessions[0].prescriptions[0]
    return first.model_copy(update={"exercise": exercise})


def test_cautions_follow_the_work() -> None:
    field = session_cautions(
        [line_of("sled_sprint")], catalogue=CATALOGUE, place_kind="hall", minors=False, clinician=False
    )
    gym = session_cautions(
        [line_of("back_squat"), line_of("drop_jump")],
        catalogue=CATALOGUE,
        place_kind="gym",
        minors=True,
        clinician=True,
    )
    assert {*ALWAYS, SLED, NO_CLINICIAN} <= set(field)
    assert {BAR, DROP} <= set(gym)
    assert SLED not in gym
    assert not any("prevent" in text for text in (*field, *gym))


def test_the_summary_counts_assumes_and_says_what_could_not_be_had() -> None:
    content = document()
    content["unmet"] = [
        {"athlete": "mila", "week": week, "wish": "frequency", "method": "plyometric", "wanted": 2, "got": 1}
        for week in (2, 3)
    ]
    programme = small_programme(content)
    programme = programme.model_copy(
        update={"brief": programme.brief.model_copy(update={"content": brief()})}
    )
    text = plan_summary(programme, findings=Findings((finding(),)))
    assert text.startswith("Small: 4 weeks (Mon 12 Jan to Sun 8 Feb), 1 athlete, 8 sessions.\n")
    assert "Assumed: height of Mila Example and Noa Example." in text
    assert "Assumed: level in power of Noa Example." in text
    assert "Not had in full:\n  Sessions of plyometric in weeks 2–3.\n  To do: " in text
    assert text.endswith("Check: 1 to look at.\n")

"""The rulebook's numbers are the published ones, one case a row: citation and mark beside it."""

import pytest

from speedloom.training.rule import load_rulebook

HAUGEN = "haugen_2019"  # Haugen et al. 2019 Sports Med Open 5:44, table 2

# rule, numbers as printed (per cent as fractions, minutes as seconds), source, mark
ROWS = [
    # Haugen 2019 table 2: read
    ("acceleration_runs", {"distance_low_m": 10, "distance_high_m": 50}, HAUGEN, "read"),
    ("acceleration_runs", {"session_low_m": 100, "session_high_m": 300}, HAUGEN, "read"),
    ("acceleration_runs", {"rest_low_s": 2 * 60, "rest_high_s": 7 * 60}, HAUGEN, "read"),
    ("acceleration_runs", {"effort_low": 0.98}, HAUGEN, "read"),
    ("top_speed_runs", {"zone_low_m": 10, "zone_high_m": 30}, HAUGEN, "read"),
    ("top_speed_runs", {"session_low_m": 50, "session_high_m": 150}, HAUGEN, "read"),
    ("top_speed_runs", {"run_in_low_m": 20, "run_in_high_m": 40}, HAUGEN, "read"),
    ("top_speed_runs", {"rest_low_s": 4 * 60, "rest_high_s": 15 * 60}, HAUGEN, "read"),
    ("sprint_endurance", {"distance_low_m": 80, "distance_high_m": 150}, HAUGEN, "read"),
    ("sprint_endurance", {"session_low_m": 300, "session_high_m": 900}, HAUGEN, "read"),
    ("sprint_endurance", {"rest_low_s": 8 * 60, "rest_high_s": 30 * 60, "effort_low": 0.95}, HAUGEN, "read"),
    ("speed_endurance", {"distance_low_m": 60, "distance_high_m": 80}, HAUGEN, "read"),
    ("speed_endurance", {"session_low_m": 600, "session_high_m": 2000}, HAUGEN, "read"),
    ("speed_endurance", {"rest_low_s": 120, "rest_high_s": 240}, HAUGEN, "read"),
    ("speed_endurance", {"set_rest_low_s": 480, "set_rest_high_s": 900}, HAUGEN, "read"),
    ("speed_endurance", {"effort_low": 0.90, "effort_high": 0.95}, HAUGEN, "read"),
    ("tempo_runs", {"distance_low_m": 100, "distance_high_m": 300, "gap_h": 24}, HAUGEN, "read"),
    ("tempo_runs", {"session_low_m": 1000, "session_high_m": 2000}, HAUGEN, "read"),
    ("tempo_runs", {"rest_low_s": 60, "rest_high_s": 180}, HAUGEN, "read"),
    ("tempo_runs", {"effort_low": 0.60, "effort_high": 0.70}, HAUGEN, "read"),
    ("assisted_sprint", {"speed_share": 1.05, "session_high_m": 100}, HAUGEN, "read"),
    ("assisted_sprint", {"rest_low_s": 300, "rest_high_s": 900}, HAUGEN, "read"),
    ("sled_session", {"distance_low_m": 10, "distance_high_m": 30}, HAUGEN, "read"),
    ("sled_session", {"session_low_m": 50, "session_high_m": 200}, HAUGEN, "read"),
    ("sled_session", {"rest_low_s": 180, "rest_high_s": 360}, HAUGEN, "read"),
    ("sprint_gap", {"gap_h": 48}, HAUGEN, "read"),
    # Thomas 2018 Med Sci Sports Exerc 50:2526: jumps 48 h, sprints 72 h; read
    ("sprint_gap", {"top_speed_gap_h": 72}, "thomas_2018", "read"),
    ("plyometric_gap", {"gap_h": 48}, "thomas_2018", "read"),
    # one minute per ten metres: common practice, read second-hand
    ("sprint_rest", {"s_per_10_m": 60}, "common_practice", "second-hand"),
    # Malone 2017 J Sci Med Sport 20:250: runs above 95 % of top speed; read
    ("top_speed_exposure", {"share": 0.95}, "malone_2017", "read"),
    # Cahill 2019 Sports 7(5):119, 95 % ranges of pulled load; read
    ("sled_pull_bands", {"decrement_10_low": 0.14, "decrement_10_high": 0.21}, "cahill_2019", "read"),
    ("sled_pull_bands", {"decrement_25_low": 0.36, "decrement_25_high": 0.53}, "cahill_2019", "read"),
    ("sled_pull_bands", {"decrement_50_low": 0.71, "decrement_50_high": 1.07}, "cahill_2019", "read"),
    ("sled_pull_bands", {"decrement_75_low": 1.07, "decrement_75_high": 1.60}, "cahill_2019", "read"),
    # Cahill 2021 J Strength Cond Res 35:3084, pushed load; read
    ("sled_push_bands", {"decrement_25_low": 0.23, "decrement_25_high": 0.42}, "cahill_2021", "read"),
    ("sled_push_bands", {"decrement_50_low": 0.45, "decrement_50_high": 0.85}, "cahill_2021", "read"),
    ("sled_push_bands", {"decrement_75_low": 0.69, "decrement_75_high": 1.31}, "cahill_2021", "read"),
    # Haff & Triplett 2016, plyometric chapter: memory, so never hard
    ("contacts_session", {"novice_low": 80, "novice": 100}, "nsca_2016", "memory"),
    ("contacts_session", {"intermediate_low": 100, "intermediate": 120}, "nsca_2016", "memory"),
    ("contacts_session", {"advanced_low": 120, "advanced": 140}, "nsca_2016", "memory"),
    ("depth_jump_mass", {"mass_kg": 100, "height_m": 0.46}, "nsca_2016", "memory"),
    ("depth_jump_strength", {"share_body_mass": 1.5}, "nsca_2016", "memory"),
    # Allerheiligen & Rogers 1995: read
    ("shock_under_16", {"age_years": 16}, "allerheiligen_1995", "read"),
    # Sáez de Villarreal 2012 J Strength Cond Res 26:575: read
    ("weighted_plyometrics", {"added_kg": 0}, "saez_de_villarreal_2012", "read"),
    ("plyometric_block", {"weeks_high": 10, "sessions_low": 15, "contacts_low": 80},
     "saez_de_villarreal_2012", "read"),
    # Soriano 2015 Sports Med 45:1191: jump squat up to 30 % of 1RM; read
    ("jump_squat_load", {"share_low": 0.0, "share": 0.30}, "soriano_2015", "read"),
    # Velocity-loss meta-analysis 2024: read
    ("velocity_loss", {"sprint": 0.10, "other": 0.20}, "velocity_loss_meta_2024", "read"),
    # Haff & Triplett 2016, goals by load: second-hand
    ("strength_zone", {"share": 0.85, "reps": 6, "sets_low": 2, "sets_high": 6}, "nsca_2016", "second-hand"),
    ("strength_zone", {"rest_low_s": 120, "rest_high_s": 300, "low_share": 0.67}, "nsca_2016", "second-hand"),
    # Baechle & Earle: two for two, 2.5-10 %; second-hand
    ("two_for_two", {"extra_reps": 2, "sessions": 2, "rise_low": 0.025, "rise_high": 0.10},
     "baechle_earle", "second-hand"),
    # Petersen 2011 (read through a letter): 10, 24, 54-72, 72-90, 90 Nordics a week
    ("nordic_ramp", {"week_1": 10, "week_2": 24, "week_3": (54 + 72) / 2, "week_4": (72 + 90) / 2,
                     "week_5": 90}, "petersen_2011", "read"),
    # Van der Horst 2015: 2x5, 2x6 twice, 3x6 twice, 6+7+8 twice, 8+9+10 twice; read
    ("nordic_ramp", {"low_week_1": 2 * 5, "low_week_2": 2 * 6 * 2, "low_week_3": 3 * 6 * 2,
                     "low_week_4": (6 + 7 + 8) * 2, "low_week_5": (8 + 9 + 10) * 2},
     "van_der_horst_2015", "read"),
    # Harøy 2019 Br J Sports Med 53:150: read
    ("copenhagen", {"pre_season": 3, "in_season": 1}, "haroy_2019", "read"),
    # Deload survey, preprint 2023, n 246: 6.4 days every 5.8 weeks; read
    ("deload_cut", {"survey_every_weeks": 5.8, "survey_days": 6.4}, "deload_survey_2023", "read"),
    # Volume cut of a deload: no consensus, common practice
    ("deload_cut", {"cut_low": 0.30, "cut_high": 0.50}, "common_practice", "common practice"),
    # Bosquet 2007 Med Sci Sports Exerc 39:1358: read
    ("taper", {"days_low": 8, "days_high": 14, "cut_low": 0.41, "cut_high": 0.60}, "bosquet_2007", "read"),
    # Caterisano 2019 Strength Cond J 41(3):1: scope read, how the percentages apply from memory
    ("return_after_break", {"weeks_off": 2}, "caterisano_2019", "read"),
    ("return_after_break", {"cut_1": 0.5, "cut_2": 0.3, "cut_3": 0.2, "cut_4": 0.1},
     "caterisano_2019", "memory"),
    # Foster 1998 Med Sci Sports Exerc 30:1164: above 2.0 is high; second-hand
    ("monotony", {"monotony": 2.0}, "foster_1998", "second-hand"),
    # Williams 2017 Br J Sports Med 51:209: 7 and 28 days; read
    ("ewma", {"acute_days": 7, "chronic_days": 28}, "williams_2017", "read"),
    # Chances of benefit and harm: common practice
    ("change_call", {"benefit": 0.75, "harm": 0.05}, "common_practice", "common practice"),
    # Lloyd 2014 Br J Sports Med 48:498: two or three days second-hand, 80 % from memory
    ("youth_lifting", {"sessions_low": 2, "sessions_high": 3, "consecutive": 0}, "lloyd_2014", "second-hand"),
    ("youth_load", {"share": 0.80}, "lloyd_2014", "memory"),
    # ACSM position stand on heat, WBGT in °C: read
    ("heat_cancel", {"wbgt_c": 32.2}, "acsm_heat_2007", "read"),
    ("heat_unacclimated", {"wbgt_c": 30.1}, "acsm_heat_2007", "read"),
    # Lightning guideline of NFHS and NCAA: read
    ("lightning", {"minutes": 30, "flash_to_bang_s": 30}, "nfhs_lightning", "read"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("rule", "printed", "source", "mark"), ROWS, ids=[f"{r[0]}-{'-'.join(r[1])}" for r in ROWS]
)
def test_numbers_are_as_printed(rule: str, printed: dict[str, float], source: str, mark: str) -> None:
    book = load_rulebook()
    assert {name: book.number(rule, name) for name in printed} == printed
    assert {book.mark_of(rule, name) for name in printed} == {(source, mark)}


def test_nordic_ramp_adds_up_to_the_published_total() -> None:
    # Petersen 2011, 10 weeks: published total 718 repetitions; read
    weeks = [load_rulebook().number("nordic_ramp", f"week_{week}") for week in (1, 2, 3, 4, *[5] * 6)]
    assert sum(weeks) == 718


def test_low_nordic_ramp_adds_up_to_the_published_total() -> None:
    # Van der Horst 2015, 13 weeks, 6-13 at 10+9+8 twice: published total 598 repetitions; read
    weeks = [load_rulebook().number("nordic_ramp", f"low_week_{week}") for week in (1, 2, 3, 4, *[5] * 9)]
    assert sum(weeks) == 598


def test_fallback_line_reproduces_the_pulled_loads() -> None:
    # Cahill 2020 J Strength Cond Res 34:2751: 44, 89, 133 % of body mass for 25, 50, 75 %; slope computed
    slope = load_rulebook().number("sled_by_decrement", "body_mass_per_decrement")
    assert [slope * decrement for decrement in (0.25, 0.50, 0.75)] == pytest.approx(
        [0.44, 0.89, 1.33], rel=0.02
    )

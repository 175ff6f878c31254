"""The packaged catalogue of exercises and warm-ups, read as plain TOML: complete, consistent, safe."""

from __future__ import annotations

import math
import re
import tomllib
from importlib.resources import files
from typing import Any

import pytest

LEVELS = ("novice", "intermediate", "advanced")
METHODS = {
    "unloaded_sprint",
    "resisted_sprint",
    "plyometric",
    "power",
    "maximal_strength",
    "general_strength",
    "hamstring_groin_calf",
    "change_of_direction",
    "isometric",
    "technique",
    "other",
}
COACH_METHODS = {"change_of_direction", "isometric"}
SLOTS = {
    "acceleration",
    "top_speed",
    "submaximal",
    "sled",
    "hill",
    "plyo_horizontal",
    "plyo_vertical",
    "jump_squat",
    "throw",
    "clean",
    "main_lift",
    "knee_one_leg",
    "hip_one_leg",
    "pull",
    "push",
    "trunk",
    "nordic",
    "hinge",
    "groin",
    "calf",
    "warm_up",
    "other",
}
KIT = {
    "sled",
    "barbell",
    "trap_bar",
    "dumbbell",
    "kettlebell",
    "rack",
    "bench",
    "box",
    "hurdle",
    "medicine_ball",
    "band",
    "vest",
    "pull_up_bar",
    "nordic_anchor",
    "parachute",
    "other",
}
PLACES = {"hall", "turf", "grass", "track", "gym"}
STAGES = ("general", "middle", "specific")
CUE_LENGTH = 60


def _read(name: str) -> dict[str, Any]:
    return tomllib.loads(files("speedloom.training").joinpath("data", name).read_text(encoding="utf-8"))


FILE = _read("exercises.toml")
EXERCISES = {ref: body for ref, body in FILE.items() if not ref.startswith("_")}
WARM_UPS = _read("warm_ups.toml")
WARM_UP_LEVELS = [(ref, level) for ref, body in WARM_UPS.items() for level in body["minutes"]]


def _fits(body: dict[str, Any], *, level: str) -> bool:
    return not body.get("coach_only", False) and LEVELS.index(body["level"]) <= LEVELS.index(level)


def test_catalogue_has_at_least_a_hundred_exercises_over_every_method_and_slot() -> None:
    assert len(EXERCISES) >= 100
    assert {body["method"] for body in EXERCISES.values()} == METHODS
    assert {body["slot"] for body in EXERCISES.values()} == SLOTS


@pytest.mark.parametrize("ref", EXERCISES)
def test_exercise_uses_only_known_words(ref: str) -> None:
    body = EXERCISES[ref]
    assert re.fullmatch(r"[a-z0-9_]{1,40}", ref)
    assert set(body["kit"]) <= KIT
    assert set(body["place"]) <= PLACES
    assert body["place"], f"{ref} can be done nowhere"
    assert body["level"] in LEVELS
    assert body.get("stage", "general") in STAGES


@pytest.mark.parametrize("ref", EXERCISES)
def test_substitutes_exist_and_serve_the_same_method_or_slot(ref: str) -> None:
    body = EXERCISES[ref]
    assert body["substitutes"], f"{ref} has no substitute"
    assert len(set(body["substitutes"])) == len(body["substitutes"])
    for substitute in body["substitutes"]:
        assert substitute != ref
        other = EXERCISES[substitute]
        assert body["method"] == other["method"] or body["slot"] == other["slot"], substitute


@pytest.mark.parametrize("key", ["tags", "cautions", "prerequisites"])
def test_every_id_has_one_sentence_and_every_sentence_is_used(key: str) -> None:
    used = {word for body in EXERCISES.values() for word in body.get(key, [])}
    sentences = FILE[f"_{key}"]
    assert used == set(sentences)
    assert all(sentence.endswith(".") and len(sentence) <= 120 for sentence in sentences.values())


def test_no_sentence_promises_to_prevent_injury() -> None:
    sentences = [*FILE["_cautions"].values(), *(body["cue"] for body in EXERCISES.values())]
    assert not [
        sentence
        for sentence in sentences
        if re.search(r"prevent|protects|guarantee", sentence, re.IGNORECASE)
    ]


@pytest.mark.parametrize("ref", EXERCISES)
def test_contacts_are_counted_exactly_where_somebody_lands(ref: str) -> None:
    body = EXERCISES[ref]
    lands = "landing" in body.get("tags", [])
    assert lands == (body.get("contacts_per_rep", 0) > 0)
    if body["method"] == "plyometric":
        assert lands


@pytest.mark.parametrize("ref", EXERCISES)
def test_class_and_stage_belong_to_plyometrics_and_power(ref: str) -> None:
    body = EXERCISES[ref]
    assert ("contact_class" in body) == (body["method"] == "plyometric")
    assert ("stage" in body) == (body["method"] in {"plyometric", "power"})
    assert body.get("contact_class", "long") in {"long", "medium", "short", "shock"}


def test_shock_plyometrics_are_only_added_by_the_coach_and_never_under_sixteen() -> None:
    # Allerheiligen & Rogers 1995, read: no shock-intensity plyometrics under 16.
    shock = {
        ref: body
        for ref, body in EXERCISES.items()
        if body.get("contact_class") == "shock" or "shock" in body.get("tags", [])
    }
    assert set(shock) == {"drop_jump", "depth_jump", "drop_to_long_jump"}
    assert all(body["coach_only"] and body["minimum_age_years"] >= 16 for body in shock.values())
    assert all("drop_height_measured" in body["cautions"] for body in shock.values())


@pytest.mark.parametrize("ref", EXERCISES)
def test_hops_and_single_leg_landings_are_tagged_so_that_a_restriction_finds_them(ref: str) -> None:
    body = EXERCISES[ref]
    tags = set(body.get("tags", []))
    words = set(ref.split("_"))
    if tags & {"hop", "bound"}:
        assert "landing" in tags
    if words & {"bound", "bounds"} and "double" not in words:
        assert "bound" in tags
    if words & {"hop"} and not words & {"hurdle", "ankle"}:
        assert {"hop", "single_leg"} <= tags
        assert body["sides"] == "each"


@pytest.mark.parametrize("ref", EXERCISES)
def test_cue_is_one_short_line_of_a_coach(ref: str) -> None:
    cue = EXERCISES[ref]["cue"]
    assert 0 < len(cue) <= CUE_LENGTH
    assert not re.search(r"\b(F0|decrement|specificity|RIR|eccentric|triple extension)\b", cue, re.IGNORECASE)


def test_names_are_unique() -> None:
    names = [body["name"].casefold() for body in EXERCISES.values()]
    assert len(names) == len(set(names))


@pytest.mark.parametrize("slot", sorted(SLOTS))
def test_every_slot_can_be_filled_for_a_novice_without_kit(slot: str) -> None:
    without = [
        ref
        for ref, body in EXERCISES.items()
        if body["slot"] == slot and not body["kit"] and _fits(body, level="novice")
    ]
    assert without


@pytest.mark.parametrize("level", LEVELS)
@pytest.mark.parametrize("stage", STAGES)
@pytest.mark.parametrize("slot", ["plyo_horizontal", "plyo_vertical"])
def test_each_stage_and_level_has_its_own_horizontal_and_vertical_plyometric(
    slot: str, stage: str, level: str
) -> None:
    own = [
        ref
        for ref, body in EXERCISES.items()
        if (body["slot"], body.get("stage"), body["level"]) == (slot, stage, level)
        and _fits(body, level=level)
    ]
    assert own
    assert any(not EXERCISES[ref]["kit"] for ref in own)


@pytest.mark.parametrize("level", LEVELS)
@pytest.mark.parametrize("contact_class", ["long", "medium", "short"])
@pytest.mark.parametrize("slot", ["plyo_horizontal", "plyo_vertical"])
def test_each_contact_class_and_level_has_its_own_horizontal_and_vertical_plyometric(
    slot: str, contact_class: str, level: str
) -> None:
    assert [
        ref
        for ref, body in EXERCISES.items()
        if (body["slot"], body.get("contact_class"), body["level"]) == (slot, contact_class, level)
        and _fits(body, level=level)
    ]


@pytest.mark.parametrize("stage", STAGES)
@pytest.mark.parametrize("slot", ["jump_squat", "throw"])
def test_power_has_a_novice_exercise_for_each_stage(slot: str, stage: str) -> None:
    assert [
        ref
        for ref, body in EXERCISES.items()
        if (body["slot"], body.get("stage")) == (slot, stage) and _fits(body, level="novice")
    ]


def test_shares_of_a_maximum_refer_to_a_lift_on_the_same_kind_of_bar() -> None:
    # Swinton 2011, Lake 2017, read: a straight-bar maximum is never converted to the trap bar.
    for ref, body in EXERCISES.items():
        other = body.get("one_rep_max_of", "")
        if other:
            assert other != ref
            assert EXERCISES[other]["load_kind"] != "trap_bar" or body["load_kind"] == "trap_bar"
            assert body["load_kind"] != "trap_bar" or EXERCISES[other]["load_kind"] == "trap_bar"
    assert EXERCISES["jump_squat"]["one_rep_max_of"] == "back_squat"
    assert "one_rep_max_of" not in EXERCISES["trap_bar_deadlift_low"]


@pytest.mark.parametrize("ref", EXERCISES)
def test_a_load_needs_the_kit_that_carries_it(ref: str) -> None:
    body = EXERCISES[ref]
    kind = body.get("load_kind", "none")
    needed = {"dumbbells": "dumbbell", "machine": "other"}.get(kind, kind)
    if kind not in {"none", "body"}:
        assert needed in body["kit"]
    if "barbell" in body["kit"]:
        assert body["place"] == ["gym"]


@pytest.mark.parametrize("ref", [ref for ref, body in EXERCISES.items() if body["method"] in COACH_METHODS])
def test_lines_without_rules_are_left_to_the_coach(ref: str) -> None:
    assert EXERCISES[ref]["coach_only"]
    assert EXERCISES[ref]["slot"] == "other"


@pytest.mark.parametrize("ref", [ref for ref, body in EXERCISES.items() if "sprint" in body.get("tags", [])])
def test_everything_run_fast_carries_a_caution(ref: str) -> None:
    assert EXERCISES[ref]["cautions"]


@pytest.mark.parametrize("ref", [ref for ref, body in EXERCISES.items() if body["slot"] == "nordic"])
def test_nordics_say_may_reduce(ref: str) -> None:
    # van Dyk 2019 against Impellizzeri 2021, both read: the evidence conflicts.
    assert "may_reduce_hamstring" in EXERCISES[ref]["cautions"]


def test_exercises_named_by_the_brief_and_programme_examples_exist() -> None:
    assert {"sled_sprint", "back_squat", "trap_bar_deadlift", "depth_jump"} <= set(EXERCISES)


@pytest.mark.parametrize(("ref", "level"), WARM_UP_LEVELS)
def test_steps_and_build_ups_add_up_to_the_minutes(ref: str, level: str) -> None:
    body = WARM_UPS[ref]
    steps = sum(step["minutes"] for step in body["steps"] if level in step.get("levels", LEVELS))
    assert steps + body.get("build_ups", {}).get("minutes", 0) == body["minutes"][level]


@pytest.mark.parametrize("ref", WARM_UPS)
def test_build_ups_rise_to_ninety_percent_and_cost_their_rests(ref: str) -> None:
    body = WARM_UPS[ref]
    assert body["mark"] == "common practice"
    assert set(body["minutes"]) == set(LEVELS)
    assert all(step["method"] in METHODS and 0 < len(step["cue"]) <= CUE_LENGTH for step in body["steps"])
    if body["place"] == ["gym"]:
        assert "build_ups" not in body
        return
    build_ups = body["build_ups"]
    assert build_ups["shares"] == [0.6, 0.7, 0.8, 0.9]
    assert 20 <= build_ups["distance_m"] <= 40
    minutes = len(build_ups["shares"]) * (0.15 + build_ups["rest_s"] / 60)
    assert build_ups["minutes"] == math.ceil(minutes * 2) / 2


def test_warm_ups_keep_the_default_minutes() -> None:
    # Common practice: field 20, advanced 22; gym 10, novice 12; mixed 15.
    assert WARM_UPS["outdoor"]["minutes"] == {"novice": 20, "intermediate": 20, "advanced": 22}
    assert WARM_UPS["indoor"]["minutes"] == WARM_UPS["outdoor"]["minutes"]
    assert WARM_UPS["gym"]["minutes"] == {"novice": 12, "intermediate": 10, "advanced": 10}
    assert set(WARM_UPS["mixed"]["minutes"].values()) == {15}
    assert {"outdoor", "indoor", "cold", "gym", "youth"} <= set(WARM_UPS)

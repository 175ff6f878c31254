"""The trade's closed lists of words, one spelling each, used by every document."""

from __future__ import annotations

from typing import Literal, get_args

Method = Literal[
    "unloaded_sprint",
    "resisted_sprint",
    "plyometric",
    "power",
    "maximal_strength",
    "general_strength",
]
LineMethod = Literal[
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
]
Level = Literal["novice", "intermediate", "advanced"]
Weight = Literal["hard", "warning", "advice"]
Mark = Literal["read", "second-hand", "memory", "common practice", "computed"]
PlaceKind = Literal["hall", "turf", "grass", "track", "gym"]
KitKind = Literal[
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
]
Weekday = Literal["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"]
EventKind = Literal["match", "competition", "test", "exam", "travel", "holiday", "other"]
Timing = Literal["gates", "hand", "radar", "laser", "video", "encoder"]
Clock = Literal["movement", "unknown", "behind", "gun"]
Start = Literal["standing", "three_point", "block", "flying"]
WeekKind = Literal["introduction", "loading", "deload", "taper", "in_season", "break"]
Role = Literal["heavier", "faster", "neutral"]
Run = Literal["acceleration", "top_speed", "submaximal"]
Purpose = Literal["warm_up", "build_up", "work"]
Sides = Literal["both", "each", "left", "right"]
LimitOf = Literal["share_vmax", "distance_m", "load_kg", "share_1rm", "contacts", "minutes", "sets"]
GoalKind = Literal["sprint_time", "flying_speed", "general"]

METHODS: tuple[Method, ...] = get_args(Method)
LEVELS: tuple[Level, ...] = get_args(Level)
WEEKDAYS: tuple[Weekday, ...] = get_args(Weekday)
SPRINTS: tuple[LineMethod, ...] = ("unloaded_sprint", "resisted_sprint")
"""Methods counted in metres, one run at a time."""
LIFTS: tuple[LineMethod, ...] = ("power", "maximal_strength", "general_strength")
"""Methods of strength and power, counted in sets."""
IN_SETS: tuple[LineMethod, ...] = (*LIFTS, "hamstring_groin_calf")
"""All methods counted in sets."""
COACH_METHODS = ("change_of_direction", "isometric", "technique", "other")

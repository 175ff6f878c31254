"""Changes of a programme as plain JSON: a number, a line, a volume. Nothing of the package is imported."""

from __future__ import annotations

import copy
from typing import Any

Json = dict[str, Any]

NUMBERS = (
    "sets", "reps", "reps_to", "distance_m", "run_in_m", "load_kg", "added_kg", "share_1rm", "rir",
    "decrement",
    "contacts", "effort", "hold_s", "height_m", "grade", "rest_reps_s", "rest_s", "minutes",
)  # fmt: skip
SETS = ("power", "maximal_strength", "general_strength", "hamstring_groin_calf")


def coach_node(value: float, quantity: str) -> Json:
    """A number of the coach's own."""
    return {
        "quantity": quantity, "value": value, "unit": "1", "low": None, "high": None, "by": "coach",
        "inputs": {},
        "source": None, "mark": "common practice", "reason": "written by hand",
    }  # fmt: skip


def new_node(document: Json, node: Json) -> str:
    """Store a node and give its id."""
    ref = f"b{len(document['basis']) + 1}"
    document["basis"][ref] = node
    return ref


def put(document: Json, owner: Json, field: str, value: object) -> None:
    """Change a number and make it the coach's own."""
    part, dot, name = field.partition(".")
    if dot:
        owner[part][name] = value
    else:
        owner[field] = value
    if isinstance(value, int | float) and not isinstance(value, bool):
        owner["basis"][field] = new_node(document, coach_node(value, field))
    else:
        owner["basis"].pop(field, None)


def athlete_of(document: Json, ref: str) -> Json:
    """One athlete's weeks."""
    return next(one for one in document["programmes"] if one["athlete"] == ref)


def session_of(document: Json, athlete: str, week: int, day: str) -> Json:
    """One session: its athlete, week, and day mon, tue or thu."""
    sessions = athlete_of(document, athlete)["weeks"][week - 1]["sessions"]
    return sessions[("mon", "tue", "thu").index(day)]


def line_of(session: Json, exercise: str) -> Json:
    """One line of a session by its exercise."""
    return next(line for line in session["prescriptions"] if line["exercise"] == exercise)


def entry_of(document: Json, ref: str) -> Json:
    """An athlete's entry in the brief."""
    return next(one for one in document["brief"]["content"]["athletes"] if one["ref"] == ref)


def add_line(document: Json, athlete: str, session: Json, like: Json, at: int = 2, **changes: object) -> Json:
    """Put a new line into a session, after the warm-up unless said; return it."""
    programme = athlete_of(document, athlete)
    line = copy.deepcopy(like) | changes | {"ref": f"{athlete}-{programme['next_ref']}"}
    programme["next_ref"] += 1
    line["basis"] = {}
    for field in NUMBERS:
        if line[field] is not None:
            put(document, line, field, line[field])
    session["prescriptions"].insert(at, line)
    recount(document)
    return line


def recount(document: Json) -> None:
    """Count every week's volumes again."""
    for programme in document["programmes"]:
        for week in programme["weeks"]:
            counted: dict[str, float] = {}
            for session in week["sessions"]:
                for line in session["prescriptions"]:
                    key, amount = _amount(line)
                    if line["purpose"] == "work" and key:
                        counted[key] = counted.get(key, 0.0) + amount
            _store(document, week, counted)


def _amount(line: Json) -> tuple[str, float]:
    if line["method"] in {"unloaded_sprint", "resisted_sprint"}:
        key = line["run"] or line["method"]
        return key, float(line["sets"] * line["reps"] * (line["distance_m"] or 0))
    if line["method"] == "plyometric":
        return "plyometric", float(line["contacts"] or 0)
    return (line["method"], float(line["sets"])) if line["method"] in SETS else ("", 0.0)


def _store(document: Json, week: Json, counted: dict[str, float]) -> None:
    for key, amount in counted.items():
        unit = "contacts" if key == "plyometric" else "sets" if key in SETS else "m"
        known = week["volumes"].get(key)
        if known is None or known["planned"] != amount:
            week["volumes"][key] = {"wanted": amount, "planned": amount, "unit": unit}
            for name in (f"volumes.{key}", f"volumes.{key}.wanted"):
                week["basis"][name] = new_node(document, coach_node(amount, "volume"))

"""The page docs/reference/brief.md: every key of a brief, with type, default, meaning and an example."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel

from speedloom.training.athlete import Athlete, Limit, Restriction, Screening
from speedloom.training.brief import Brief, ExerciseChoice, Goal, OwnLine, Phases, Span
from speedloom.training.calendar import Away, Event, Peak, Slot
from speedloom.training.exercise import Catalogue
from speedloom.training.kit import Friction, Kit, Place
from speedloom.training.measurement import Lift
from speedloom.training.rule import RuleChange

HEAD = """\
# The brief

A brief is one TOML file, written by hand. A key that stands in no table below is a fault that names the
nearest one. Dates are `2026-01-12`, times `18:00:00`, shares fractions from 0 to 1, masses kilograms, lengths
metres. The examples of this page, put one below the other, are a brief that can be read.
"""


@dataclass(frozen=True)
class Part:
    """A table of the brief: its heading in the file, its keys, an example, and what else is to know."""

    title: str
    model: type[BaseModel]
    example: str = ""
    more: str = ""


PARTS = (
    Part(
        "The file itself",
        Brief,
        'schema = "speedloom.brief/1"\nname = "Spring block"\ntimezone = "Europe/Vienna"\nstart = '
        "2026-01-12\n"
        'end = 2026-04-05\nresponsible_adult = "A. Parent"',
    ),
    Part("`[goal]`", Goal, '[goal]\nkind = "sprint_time"\ndistance_m = 30\npeaks = [{ date = 2026-04-04 }]'),
    Part("Each of `goal.peaks`", Peak),
    Part(
        "`[phases]`",
        Phases,
        '[phases]\nmesocycle_weeks = [4, 4, 4]\ndeload = "last"\ntaper_days = 10\n'
        "emphasis = { maximal_strength = 1.2 }",
    ),
    Part("Each of `phases.season`", Span),
    Part(
        "`[[places]]`",
        Place,
        '[[places]]\nref = "hall"\nkind = "hall"\nstraight_m = 45\nrun_out_m = 10\nlanes = 4\n\n'
        '[[places]]\nref = "gym"\nkind = "gym"',
        "A run and its run-out have to fit the straight. A gym is taken to have a pull-up bar and an "
        "anchor for the "
        "Nordic exercises, and for its barbells a rack and a bench each; none of them is listed as kit.",
    ),
    Part(
        "`[[kit]]`",
        Kit,
        '[[kit]]\nref = "sled"\nkind = "sled"\nplace = "hall"\ncount = 2\nempty_kg = 8.0\n'
        "plates_kg = [[20.0, 2], [10.0, 4], [2.5, 2]]\nfriction = { low = 0.33, high = 0.42 }\n\n"
        '[[kit]]\nref = "bar"\nkind = "barbell"\nplace = "gym"\ncount = 3\nempty_kg = 20.0\n'
        "plates_kg = [[20.0, 4], [10.0, 2], [2.5, 2]]",
        "Plates count for each one: `count = 3` with `[20.0, 4]` is three bars with four 20 kg "
        "plates each, twelve in "
        "the room. Write what one bar can hold when all are in use. Bars take plates in pairs, sleds "
        "one by one. "
        "Dumbbells and kettlebells have `weights_kg` instead. `speedloom profile` gives the friction "
        "of a timed sled.",
    ),
    Part("`kit.friction`", Friction, more="Either `value` and `se`, or `low` and `high`."),
    Part(
        "`[[slots]]`",
        Slot,
        '[[slots]]\nref = "mon_hall"\nday = "monday"\nstart = 18:00:00\nminutes = 75\nplace = "hall"\n\n'
        '[[slots]]\nref = "wed_gym"\nday = "wednesday"\nstart = 18:00:00\nminutes = 60\nplace = "gym"',
    ),
    Part(
        "`[[events]]`",
        Event,
        '[[events]]\nkind = "match"\ntitle = "League, home"\ndate = 2026-02-14\nstart = 15:00:00\n\n'
        '[[events]]\nkind = "holiday"\ntitle = "Half-term"\ndate = 2026-02-21\nuntil = 2026-03-01\n'
        'training = "none"',
        "What the kinds do. `match` and `competition`: no training on the day, and the work before "
        "it keeps its "
        "distance; a competition on a main peak keeps top-speed runs further away than a match does. "
        "`travel`: no "
        'training, unless `training = "possible"`, and then nothing flat out. `exam`: less volume on '
        "its days. "
        '`holiday`, `test` and `other`: training as usual, unless `training = "none"`. An event '
        "holds for everybody; "
        "one athlete's days off are `away`.",
    ),
    Part(
        "`[[athletes]]`",
        Athlete,
        '[[athletes]]\nref = "mila"\nname = "Mila Example"\nborn = 2004-05-02\nsex = "female"\n'
        "mass_kg = 61.5\n"
        "height_m = 1.69\ntraining_years = 3\n"
        "screening = { on = 2026-01-09, pain = false, cleared = true }\n"
        'level = { unloaded_sprint = "advanced" }\n'
        'lifts = [{ date = 2026-01-08, exercise = "back_squat", load_kg = 80.0, reps = 5, rir = 1 }]\n'
        "away = [{ date = 2026-03-09, until = 2026-03-11 }]",
    ),
    Part("`athletes.screening`", Screening),
    Part("Each of `athletes.lifts`", Lift),
    Part("Each of `athletes.away`", Away),
    Part(
        "`[[athletes.restrictions]]`",
        Restriction,
        '[[athletes.restrictions]]\nref = "mila_knee"\nfrom = 2026-01-12\nuntil = 2026-02-28\n'
        'set_by = "Team physiotherapist"\nset_as = "clinician"\n'
        'limits = [{ what = "share_vmax", at_most = 0.80 }, { what = "contacts", at_most = 0, tag = '
        '"hop" }]',
    ),
    Part(
        "Each of `athletes.restrictions.limits`",
        Limit,
        more="A tag takes in every exercise that carries it. A limit of contacts also takes the "
        "small jumps out of the "
        "warm-up. The tags:",
    ),
    Part(
        "`[exercises]`",
        ExerciseChoice,
        '[exercises]\nleave_out = ["depth_jump"]\nprefer = ["trap_bar_deadlift"]',
        "The refs stand in [exercises](exercises.md).",
    ),
    Part(
        "`[[own_lines]]`",
        OwnLine,
        '[[own_lines]]\nref = "cuts"\nslot = "mon_hall"\nposition = "last"\nmethod = '
        '"change_of_direction"\n'
        'exercise = "cut_45"\ntitle = "Cuts 45"\nsets = 2\nreps = 3\ndistance_m = 10\nminutes = 8',
        "The line stands in every session of its slot between its weeks, for the athletes named. It "
        "takes its minutes "
        "of the slot and is never changed; limits of an athlete hold for it too. With a title, "
        "`exercise` may be a "
        "name of your own. Its distance has to fit the straight of the place.",
    ),
    Part(
        "`[[rules]]`",
        RuleChange,
        '[[rules]]\nrule = "sprint_gap"\nnumber = "gap_h"\nvalue = 72\nreason = "Young squad on a '
        'hard floor"',
        "`speedloom rules --toml` writes a block for every number.",
    ),
)


def brief_page(catalogue: Catalogue) -> str:
    """Write the page."""
    parts = [HEAD]
    for part in PARTS:
        parts += [f"## {part.title}\n", f"{(part.model.__doc__ or '').strip()}\n", *_table(part.model), ""]
        if part.example:
            parts.append(f"```toml\n{part.example}\n```\n")
        if part.more:
            parts.append(f"{part.more}\n")
        if part.model is Limit:
            parts += [*(f"- `{tag}`: {text}" for tag, text in sorted(catalogue.tags.items())), ""]
    return "\n".join(parts).rstrip() + "\n"


def _table(model: type[BaseModel]) -> Iterator[str]:
    yield "| key | type | default | meaning |\n|---|---|---|---|"
    schema = model.model_json_schema(by_alias=True)
    needed = schema.get("required", [])
    tables = schema.get("$defs", {})
    for name, field in schema["properties"].items():
        default = "needed" if name in needed else _default(field.get("default"))
        kind = _type(field, tables)
        yield f"| `{name}` | {kind} | {default} | {field.get('description', '')} |"


def _default(value: object) -> str:
    if value is None or value in ([], {}, ""):
        return "none"
    if isinstance(value, bool):
        return f"`{str(value).lower()}`"
    if isinstance(value, list):
        return ", ".join(f"`{one}`" for one in value)
    return "none" if isinstance(value, dict) else f"`{value}`"


def _type(field: Mapping[str, Any], tables: Mapping[str, Any]) -> str:
    """Say what a key takes, from its JSON Schema."""
    if "anyOf" in field:
        return " or ".join(_type(one, tables) for one in field["anyOf"] if one.get("type") != "null")
    if "$ref" in field:
        return _type(tables[field["$ref"].rpartition("/")[2]], tables)
    if "enum" in field or "const" in field:
        return ", ".join(f"`{one}`" for one in field.get("enum", [field.get("const")]))
    if field.get("type") == "array":
        items = field.get("items") or {"type": "number"}
        return f"list of {_type(items, tables)}" if "prefixItems" not in field else "list of fixed length"
    return _plain(field)


def _plain(field: Mapping[str, Any]) -> str:
    words = {"integer": "whole number", "string": "text", "object": "table", "boolean": "true or false"}
    kind = field.get("format") or words.get(field.get("type", ""), field.get("type", ""))
    ends = (
        f"{name} {field[key]:g}"
        for key, name in (
            ("minimum", "from"),
            ("exclusiveMinimum", "above"),
            ("maximum", "to"),
        )
        if key in field
    )
    return " ".join((str(kind), *ends))

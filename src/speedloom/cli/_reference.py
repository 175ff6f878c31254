"""The pages of docs/reference: the brief, commands, file columns and exercises, read off the code.

`python -m speedloom.cli._reference docs/reference` writes them; a test compares them with the code.
"""

from __future__ import annotations

import inspect
import sys
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from enum import EnumType, StrEnum
from pathlib import Path
from typing import Any, get_args, get_type_hints

from pydantic import BaseModel
from typer.models import ArgumentInfo, OptionInfo

from speedloom.cli._brief_page import brief_page
from speedloom.exchange.line_columns import LINE_COLUMNS
from speedloom.exchange.line_rows import NEEDED
from speedloom.exchange.log_csv import LOG_COLUMNS
from speedloom.exchange.tests_file import COLUMNS
from speedloom.training.exercise import Catalogue, Exercise, load_catalogue
from speedloom.training.programme import Prescription, Session
from speedloom.wording.names import METHOD_NAMES, word

MADE = "<!-- made by `python -m speedloom.cli._reference`, do not edit -->\n"
TESTS_MEANINGS: Mapping[str, str] = {
    "athlete": "the athlete's ref, as in the brief",
    "date": "day of the test, YYYY-MM-DD",
    "trial": "number of the trial on that day; counted when absent",
    "timing": "gates, hand, radar, laser, video or encoder; times by different methods are never compared",
    "clock": "what starts the clock: movement, unknown, behind or gun; it is never guessed",
    "behind_m": "for clock behind: how far behind the first beam the athlete stood [m]",
    "start": "standing, three_point, block or flying",
    "surface": "what was run on",
    "place": "where",
    "sex": "female or male, or f or m; for reference bands and priors",
    "born": "birth date, YYYY-MM-DD",
    "mass_kg": "body mass [kg]",
    "height_m": "body height [m]",
    "reaction_s": "for clock gun: reaction time [s]",
    "wind_mps": "wind along the run, from behind positive [m/s]",
    "altitude_m": "height above the sea [m]",
    "temperature_c": "air temperature [°C]",
    "sled_kg": "sled and plates of a timed sled run [kg]",
    "exercise": "the lift, by its name or ref in the catalogue",
    "load_kg": "bar and plates [kg]",
    "reps": "repetitions done",
    "rir": "repetitions left in reserve",
    "flight_s": "flight time of a jump [s]",
    "contact_s": "ground contact of a jump [s]",
    "added_kg": "mass added to a jump [kg]",
    "time_s": "for a speed trace: time of the point [s]",
    "speed_mps": "for a speed trace: speed at the point [m/s]",
}
LOG_MEANINGS: Mapping[str, str] = {
    "programme": "id of the programme; may be left out",
    "id": "36 signs, made where the entry is typed; left empty it is made from the row",
    "at": "the moment it was written down, with offset; empty: the session's day and start, or `--at`",
    "by": "who wrote it down; empty: `--by`",
    "revision": "revision of the programme it was trained by; empty: the one given",
    "athlete": "the athlete's ref; empty: as the line or session says",
    "session": "ref of the session; empty for an extra",
    "line": "ref of the line; empty: about the whole session",
    "date": "the day it was done, YYYY-MM-DD; empty: the session's",
    "exercise": "ref of the exercise; empty: the line's",
    "replaces": "id of the entry this one corrects",
    "status": "done, modified, skipped, stopped, absent or extra; empty: done where there is a result",
    "reason": "pain, illness, kit, weather, time or other",
    "timing": "gates, hand, radar, laser, video or encoder; empty: as in the athlete's own test",
    "clock": "what starts the clock: movement, unknown, behind or gun; empty between two beams",
    "behind_m": "for clock behind: metres from the athlete to the first beam [m]",
    "surface": "what was run on",
    "set": "number of the set; empty: counted",
    "rep": "number of the repetition in its set, for runs",
    "load_kg": "all that is moved from outside: bar or sled with plates [kg]; empty: as written",
    "distance_m": "distance of the repetition, of a zone without its run-in [m]; empty: as written",
    "time_s": "time [s]",
    "reps": "repetitions done of the set",
    "rir": "repetitions left in reserve",
    "contacts": "foot contacts of the set",
    "mark": "unusual, for a value that was asked about and kept; it changes no estimate",
    "effort": "of the whole session, 0 to 10",
    "minutes": "of the whole session [min]",
    "entry.mark": "unusual, where effort or minutes were asked about",
    "note": "anything; a line break is written as \\n",
}


LOG_HEAD = (
    "\n## Log\n\nOne row a result; rows of one entry share its id, or what they are about. With a line or "
    "a session named, most cells may stay empty: they are then taken from the programme.\n"
)


def commands_page() -> str:
    """Write every command with its arguments, options and exit codes."""
    from speedloom.cli import EXIT_CODES, SUMMARY, app

    parts = [MADE, "# Commands\n", f"{SUMMARY}\n", f"{EXIT_CODES}\n"]
    groups = [("", app), *((f"{group.name} ", group.typer_instance) for group in app.registered_groups)]
    for before, group in groups:
        for info in group.registered_commands if group else ():
            if info.name and info.callback:
                parts += _command(f"{before}{info.name}", info.callback)
    return "\n".join(parts)


@dataclass(frozen=True)
class _Parameter:
    """An argument or option as the signature of a command says it."""

    name: str
    kind: Any
    info: ArgumentInfo | OptionInfo
    needed: bool

    @property
    def words(self) -> tuple[str, ...]:
        """What is typed: an argument's placeholder, or an option's names."""
        if isinstance(self.info, ArgumentInfo):
            return (str(self.info.metavar or self.name.upper()),)
        # Inside Annotated, Typer keeps the first declared name where a default would stand.
        declared = (self.info.default, *(self.info.param_decls or ()))
        return tuple(name for name in declared if isinstance(name, str)) or (f"--{self.name}",)

    def row(self) -> str:
        """Write the row of a table."""
        kinds = [kind for kind in (self.kind, *get_args(self.kind)) if isinstance(kind, EnumType)]
        values = [str(value) for kind in kinds for value in list[StrEnum](kind)]
        choices = f" ({', '.join(values)})" if values else ""
        needed = " Needed." if self.needed and isinstance(self.info, OptionInfo) else ""
        return (
            f"| {', '.join(f'`{name}`' for name in self.words)}{choices} | {self.info.help or ''}{needed} |"
        )


def _parameters(callback: Callable[..., Any]) -> Iterator[_Parameter]:
    signature = inspect.signature(callback)
    for name, hint in get_type_hints(callback, include_extras=True).items():
        if name in signature.parameters:
            kind, info = get_args(hint)
            needed = signature.parameters[name].default is inspect.Parameter.empty
            yield _Parameter(name=name, kind=kind, info=info, needed=needed)


def _command(name: str, callback: Callable[..., Any]) -> Iterator[str]:
    parameters = list(_parameters(callback))
    arguments = [part for part in parameters if isinstance(part.info, ArgumentInfo)]
    needed = [f"{part.words[-1]} FILE" for part in parameters if part.needed and part not in arguments]
    usage = " ".join(["speedloom", name, *(part.words[0] for part in arguments), *needed])
    more = " [OPTIONS]" if len(parameters) > len(arguments) + len(needed) else ""
    yield f"## {name}\n\n```\n{usage}{more}\n```\n\n{inspect.getdoc(callback)}\n"
    if parameters:
        yield "| argument or option | means |\n|---|---|"
        yield "\n".join(part.row() for part in parameters) + "\n"


def columns_page() -> str:
    """Write the columns of a tests file, and the fields of a line and a session."""
    tests = [f"| `{column}` | {TESTS_MEANINGS[column]} |" for column in COLUMNS]
    head = "| column | means |\n|---|---|"
    fields = "| field | type |\n|---|---|"
    parts = [
        MADE,
        "# File columns\n",
        "## Tests\n\nOne row a trial. A header that reads as a distance (`10 m`) is a split column.\n",
        head,
        *tests,
        *_line_table(),
        LOG_HEAD,
        head,
        *(f"| `{column}` | {LOG_MEANINGS[column]} |" for column in LOG_COLUMNS),
        "\n## Lines of a programme\n\nShares are fractions from 0 to 1; units stand in the names.\n",
        fields,
        *_fields(Prescription),
        "\n## Sessions of a programme\n",
        fields,
        *_fields(Session),
    ]
    return "\n".join(parts) + "\n"


def _line_table() -> Iterator[str]:
    """Write the columns of a table of lines: whose field each is, and whether a person has to fill it in."""
    yield (
        "\n## A table of lines\n\nOne row a line (CSV, or the sheet `lines` of a workbook). What a column "
        "holds stands below under its field; a session's fields that lines have too are written `session.…`. "
        "Masses and distances may stand in pounds and yards instead.\n"
    )
    yield "| column | field of | needed | or |\n|---|---|---|---|"
    for column in LINE_COLUMNS:
        needed = "yes" if column.name in NEEDED else ""
        foreign = f"`{column.foreign}`" if column.foreign else ""
        yield f"| `{column.name}` | {column.owner.replace('_', ' ')} | {needed} | {foreign} |"


def _fields(model: type[BaseModel]) -> Iterator[str]:
    for name, field in model.model_json_schema(by_alias=True)["properties"].items():
        yield f"| `{name}` | {_schema_words(field)} |"


def _schema_words(field: Mapping[str, Any]) -> str:
    """Say what a field holds, from its JSON Schema."""
    if "anyOf" in field:
        return " or ".join(_schema_words(one) for one in field["anyOf"])
    if "enum" in field:
        return f"one of {', '.join(field['enum'])}"
    if "$ref" in field:
        return f"a table: {field['$ref'].rpartition('/')[2]}"
    kind = {"null": "null", "integer": "whole number", "string": "text", "array": "list", "object": "table"}
    said = field.get("format") or kind.get(field["type"], field["type"])
    bounds = (
        f"{name} {field[key]:g}"
        for key, name in (("minimum", "at least"), ("maximum", "at most"))
        if key in field
    )
    return ", ".join((str(said), *bounds))


def exercises_page(catalogue: Catalogue) -> str:
    """Write the catalogue: exercises by method, then warm-ups, tags, cautions and prerequisites."""
    methods = dict.fromkeys(exercise.method for exercise in catalogue.exercises)
    parts = [
        MADE,
        "# Exercises\n",
        f"{len(catalogue.exercises)} exercises and {len(catalogue.warm_ups)} warm-ups.\n",
    ]
    for method in methods:
        parts += [
            f"## {METHOD_NAMES[method]}\n",
            "| ref | name | level | kit | place | cue |\n|---|---|---|---|---|---|",
        ]
        parts += [_exercise(exercise) for exercise in catalogue.exercises if exercise.method == method]
        parts.append("")
    parts += ["## Warm-ups\n", "| ref | name | place | minutes |\n|---|---|---|---|"]
    parts += [
        f"| `{one.ref}` | {one.name} | {', '.join(one.place)} | "
        f"{', '.join(f'{level} {minutes:g}' for level, minutes in one.minutes.items())} |"
        for one in catalogue.warm_ups
    ]
    for title, entries in (
        ("Tags", catalogue.tags),
        ("Cautions", catalogue.cautions),
        ("Prerequisites", catalogue.prerequisites),
    ):
        parts += [f"\n## {title}\n", *(f"- `{name}`: {text}" for name, text in sorted(entries.items()))]
    return "\n".join(parts) + "\n"


def _exercise(exercise: Exercise) -> str:
    kit = ", ".join(word(kind) for kind in exercise.kit) or "none"
    own = " (only the coach adds it)" if exercise.coach_only else ""
    cells = (
        f"`{exercise.ref}`",
        f"{exercise.name}{own}",
        exercise.level,
        kit,
        ", ".join(exercise.place),
        exercise.cue,
    )
    return f"| {' | '.join(cells)} |"


def pages() -> dict[str, str]:
    """Make every page by its file name."""
    return {
        "brief.md": f"{MADE}\n{brief_page(load_catalogue())}",
        "commands.md": commands_page(),
        "columns.md": columns_page(),
        "exercises.md": exercises_page(load_catalogue()),
    }


def main(folder: Path) -> None:
    """Write the pages into a folder."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in pages().items():
        (folder / name).write_text(text, encoding="utf-8")


if __name__ == "__main__":
    if len(sys.argv) != 2 or sys.argv[1].startswith("-"):  # noqa: PLR2004 - the folder alone
        sys.exit("Expected one folder: python -m speedloom.cli._reference docs/reference")
    main(Path(sys.argv[1]))

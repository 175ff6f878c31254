"""`speedloom swap`, `add`, `remove`: lines and sessions put in and taken out by hand, each a new revision."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from typer import Argument, Option

from speedloom.cli._answer import faults_in_words, message, refuse
from speedloom.cli._files import refuse_folder
from speedloom.cli.edit import Of, Out, Unlock, Why, write_revision

if TYPE_CHECKING:
    from collections.abc import Callable

    from speedloom.planning.acts import Act

Group = Annotated[
    bool, Option("--group", help="The same for everybody who does that line, or has that session, that day.")
]
Numbers = Annotated[
    list[str] | None, Option("--number", help="A number of your own on top: reps=3, load_kg=80.")
]
Minutes = Annotated[
    float | None, Option("--minutes", help="Minutes of the whole line, where no formula writes it.")
]


def swap_command(
    programme: Of,
    line: Annotated[str, Argument(help="The line (mila-2).")],
    exercise: Annotated[str, Argument(help="What is done instead, by its ref in the catalogue.")],
    *,
    reason: Why,
    output: Out,
    number: Numbers = None,
    minutes: Minutes = None,
    group: Group = False,
    unlock: Unlock = False,
) -> None:
    """Put another exercise in the place of a line's; the formulas write its numbers for that athlete."""

    def act() -> Act:
        from speedloom.planning.acts import Swap

        return Swap(line, exercise, _numbers(number), minutes=minutes)

    _revise(programme, output, act, reason=reason, group=group, unlock=unlock)


def add_command(
    programme: Of,
    session: Annotated[str, Argument(help="The session (mila-1).")],
    exercise: Annotated[str, Argument(help="What is added, by its ref; own_line for a line of your own.")],
    *,
    reason: Why,
    output: Out,
    number: Numbers = None,
    minutes: Minutes = None,
    cue: Annotated[str, Option("--cue", help="A few words for the athlete.")] = "",
    method: Annotated[
        str | None,
        Option(
            "--method", help="Kind of work of an own line: technique, isometric, change_of_direction, other."
        ),
    ] = None,
    group: Group = False,
    unlock: Unlock = False,
) -> None:
    """Add a line to a session: the formulas' numbers where they have any, yours on top."""

    def act() -> Act:
        from speedloom.planning.acts import Add
        from speedloom.training.words import COACH_METHODS, LineMethod

        own: dict[str, LineMethod] = {
            "technique": "technique",
            "isometric": "isometric",
            "change_of_direction": "change_of_direction",
            "other": "other",
        }
        if method is not None and method not in own:
            message = f"--method: expected one of {', '.join(COACH_METHODS)}, got {method}."
            raise ValueError(message)
        kind = None if method is None else own[method]
        return Add(session, exercise, kind, _numbers(number), minutes=minutes, cue=cue)

    _revise(programme, output, act, reason=reason, group=group, unlock=unlock)


def remove_command(
    programme: Of,
    ref: Annotated[str, Argument(help="The line (mila-2) or the whole session (mila-1).")],
    *,
    reason: Why,
    output: Out,
    group: Group = False,
    unlock: Unlock = False,
) -> None:
    """Take a line or a whole session out; planning again does not bring it back, `undo` does."""

    def act() -> Act:
        from speedloom.planning.acts import Remove

        return Remove(ref)

    _revise(programme, output, act, reason=reason, group=group, unlock=unlock)


def _numbers(typed: list[str] | None) -> dict[str, float]:
    from speedloom.exchange.amount import amount
    from speedloom.planning.holding import LINE_NUMBERS

    found: dict[str, float] = {}
    for one in typed or []:
        name, equals, value = one.partition("=")
        if not equals or name.strip() not in LINE_NUMBERS:
            message = f"--number: expected NAME=VALUE with one of {', '.join(LINE_NUMBERS)}, got {one}."
            raise ValueError(message)
        found[name.strip()] = amount(value, unit=LINE_NUMBERS[name.strip()])
    return found


def _revise(
    path: Path, output: Path, act: Callable[[], Act], *, reason: str, group: bool, unlock: bool
) -> None:
    refuse_folder(output, read=[path], made="programme")
    with faults_in_words():
        from speedloom.exchange.documents import read_programme
        from speedloom.training.exercise import load_catalogue
        from speedloom.training.rule import load_rulebook
        from speedloom.workflows.lines import rework, rework_group

        before = read_programme(path)
        try:
            meant = act()
            rulebook, catalogue = load_rulebook(), load_catalogue()
            if group:
                made, left = rework_group(
                    before, meant, reason=reason, rulebook=rulebook, catalogue=catalogue, unlock=unlock
                )
                message(*(f"Not for {one}: it cannot be done there by this athlete." for one in left))
            else:
                made = rework(
                    before, (meant,), reason=reason, rulebook=rulebook, catalogue=catalogue, unlock=unlock
                )
        except ValueError as error:
            refuse(str(error).splitlines())
        write_revision(before, made, output)

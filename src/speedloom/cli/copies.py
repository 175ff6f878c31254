"""`speedloom copy`: a week's work into another week, or one athlete's programme to another athlete."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NoReturn

from typer import Argument, Option

from speedloom.cli._answer import INFEASIBLE, faults_in_words, message, refuse
from speedloom.cli._files import refuse_folder
from speedloom.cli.edit import Of, Out, Unlock, Why, write_revision

if TYPE_CHECKING:
    from speedloom.planning.clash import Clash
    from speedloom.training.brief import ResolvedBrief
    from speedloom.training.programme import Programme


def copy_command(
    programme: Of,
    athlete: Annotated[str, Argument(help="Whose week or programme is copied.")],
    *,
    reason: Why,
    output: Out,
    week: Annotated[int | None, Option("--week", help="The week that is copied …")] = None,
    into: Annotated[
        int | None, Option("--into", help="… and the week of the same athlete that is changed.")
    ] = None,
    to: Annotated[str | None, Option("--to", help="The athlete who takes the programme over …")] = None,
    since: Annotated[str | None, Option("--from", help="… and the first day (2026-02-16).")] = None,
    brief: Annotated[
        Path | None,
        Option("--brief", help="A brief with the other athlete, who is not in the programme yet."),
    ] = None,
    unlock: Unlock = False,
) -> None:
    """Copy a week into another week, or give a programme to another athlete, with own numbers."""
    refuse_folder(output, read=[programme, *([brief] if brief else [])], made="programme")
    with faults_in_words():
        from speedloom.exchange.documents import read_programme

        before = read_programme(programme)
        try:
            if to is not None and since is not None:
                made = _given(before, athlete, to, since=_day(since), reason=reason, brief=brief)
            elif week is not None and into is not None:
                made = _week(before, athlete, week=week, into=into, reason=reason, unlock=unlock)
            else:
                refuse(["Expected --week and --into, or --to and --from."])
        except ValueError as error:
            refuse(str(error).splitlines())
        write_revision(before, made, output)


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        message_ = f"--from: expected a date such as 2026-02-16, got {text}."
        raise ValueError(message_) from None


def _week(before: Programme, athlete: str, *, week: int, into: int, reason: str, unlock: bool) -> Programme:
    from speedloom.training.exercise import load_catalogue
    from speedloom.training.rule import load_rulebook
    from speedloom.workflows.copy_week import copy_week

    copied = copy_week(
        before,
        athlete,
        source=week,
        target=into,
        reason=reason,
        rulebook=load_rulebook(),
        catalogue=load_catalogue(),
        unlock=unlock,
    )
    message(*(f"Not copied, no such day in week {into}: {one.date}." for one in copied.left))
    message(*(f"Stands as it was: {one.date}." for one in copied.kept))
    return copied.programme


def _given(
    before: Programme, athlete: str, to: str, *, since: date, reason: str, brief: Path | None
) -> Programme:
    from speedloom.planning.clash import Clash
    from speedloom.training.exercise import load_catalogue
    from speedloom.training.rule import load_rulebook
    from speedloom.workflows.copy_programme import copy_programme

    copied = copy_programme(
        before,
        athlete,
        to,
        since=since,
        brief=_joined(before, to, brief),
        reason=reason,
        rulebook=load_rulebook(),
        catalogue=load_catalogue(),
    )
    if isinstance(copied, Clash):
        _clash(copied, before)
    message(*(f"Left out on {one.date}: {one.exercise}." for one in copied.left_out))
    return copied.programme


def _joined(before: Programme, to: str, path: Path | None) -> ResolvedBrief | None:
    from speedloom.cli._read import read_resolved
    from speedloom.training.exercise import load_catalogue
    from speedloom.training.rule import load_rulebook
    from speedloom.workflows.copy_programme import with_athlete

    was = before.brief.content
    if path is None or was is None:
        return None
    found = read_resolved(path).brief
    person = next((one for one in found.athletes if one.ref == to), None)
    if person is None:
        refuse([f"{path}: expected an athlete {to} in it."])
    return with_athlete(was, person, found.measurements, rulebook=load_rulebook(), catalogue=load_catalogue())


def _clash(clash: Clash, before: Programme) -> NoReturn:
    from speedloom.wording.clashes import clash_text

    brief = before.brief.content
    refuse([clash_text(clash, brief=brief) if brief else "", "Nothing was written."], code=INFEASIBLE)

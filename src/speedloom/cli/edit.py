"""`speedloom edit`, `lock`, `unlock`, `undo`: the coach's own hand on a programme, each a new revision."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from typer import Argument, Option

from speedloom.cli._answer import HARD_FINDINGS, faults_in_words, message, refuse, result
from speedloom.cli._files import refuse_folder, write_all

if TYPE_CHECKING:
    from collections.abc import Callable

    from speedloom.checking.finding import Finding, Findings
    from speedloom.planning.edited import Change
    from speedloom.training.programme import Programme

Of = Annotated[Path, Argument(help="The programme (JSON).")]
Ref = Annotated[str, Argument(help="What is meant: a line's number (mila-2.load_kg) or a session (mila-1).")]
Why = Annotated[str, Option("--reason", help="Why, in a few words; they are kept with the number.")]
Out = Annotated[Path, Option("--output", "-o", help="Where the new revision (JSON) is written.")]
Unlock = Annotated[bool, Option("--unlock", help="Change what is locked, too.")]


def edit_command(
    programme: Of,
    ref: Annotated[
        str, Argument(help="What is changed: mila-2.load_kg, mila-2.cue, mila-1.date, mila-1.start.")
    ],
    value: Annotated[str, Argument(help="The new value, with or without its unit: 32.5, 70 lb, 85 %.")],
    *,
    reason: Why,
    output: Out,
    also: Annotated[
        list[str] | None, Option("--also", help="One more change of the same revision: mila-2.reps=3.")
    ] = None,
    unlock: Unlock = False,
) -> None:
    """Change a number, a day or a start by hand. What follows from it is computed again, nothing else."""
    typed = [f"{ref}={value}", *(also or [])]
    _revise(programme, output, reason=reason, changes=[_change(one) for one in typed], unlock=unlock)


def lock_command(programme: Of, ref: Ref, *, reason: Why, output: Out) -> None:
    """Lock a number or a whole session: planning again leaves it as it is."""
    _revise(programme, output, reason=reason, changes=[_lock(ref, lock=True)])


def unlock_command(programme: Of, ref: Ref, *, reason: Why, output: Out) -> None:
    """Take a lock away; the number changes only when the programme is planned again."""
    _revise(programme, output, reason=reason, changes=[_lock(ref, lock=False)])


def undo_command(
    programme: Annotated[Path, Argument(help="The newest revision (JSON).")],
    earlier: Annotated[Path, Argument(help="The revision (JSON) that comes back.")],
    *,
    reason: Why,
    output: Out,
) -> None:
    """Bring an earlier revision back, as a new one. Days that are over stay as they were."""
    refuse_folder(output, read=[programme, earlier], made="programme")
    with faults_in_words():
        from speedloom.exchange.documents import read_programme
        from speedloom.training.rule import load_rulebook
        from speedloom.workflows.restore import restore

        latest, back = read_programme(programme), read_programme(earlier)
        made = restore(latest, back, reason=reason, rulebook=load_rulebook())
        write_revision(latest, made, output)


def _change(typed: str) -> Callable[[], Change]:
    from speedloom.planning.edited import Change
    from speedloom.planning.holding import LINE_NUMBERS

    where, found, value = typed.partition("=")
    ref, _, field = where.strip().partition(".")
    if not found:
        refuse([f"--also: expected REF.FIELD=VALUE, such as mila-2.reps=3, got {typed}."])

    def read() -> Change:
        from speedloom.exchange.amount import amount

        if field not in LINE_NUMBERS:
            return Change(ref, field, value.strip())
        try:
            return Change(ref, field, amount(value, unit=LINE_NUMBERS[field]))
        except ValueError as error:
            message = f"{where}: {error}"
            raise ValueError(message) from error

    return read


def _lock(where: str, *, lock: bool) -> Callable[[], Change]:
    from speedloom.planning.edited import Change

    ref, _, field = where.partition(".")
    return lambda: Change(ref, field, lock=lock)


def _revise(
    path: Path, output: Path, *, reason: str, changes: list[Callable[[], Change]], unlock: bool = False
) -> None:
    refuse_folder(output, read=[path], made="programme")
    with faults_in_words():
        from speedloom.exchange.documents import read_programme
        from speedloom.training.rule import load_rulebook
        from speedloom.workflows.edit import edit

        before = read_programme(path)
        read, faults = _read(changes)
        try:
            made = edit(before, read, reason=reason, rulebook=load_rulebook(), unlock=unlock)
        except ValueError as error:
            faults.append(str(error))
        if faults:
            refuse(faults)
        write_revision(before, made, output, said=_locks(read))


def _read(changes: list[Callable[[], Change]]) -> tuple[list[Change], list[str]]:
    """Read what was typed; what cannot be read is told beside all other faults."""
    read: list[Change] = []
    faults: list[str] = []
    for one in changes:
        try:
            read.append(one())
        except ValueError as error:
            faults.append(str(error))
    return read, faults


def _locks(changes: list[Change]) -> str:
    """Say which locks are set or taken away: no number differs by them."""
    return "\n".join(
        f"{'Locked' if one.lock else 'Unlocked'}: {'.'.join(filter(None, (one.ref, one.field)))}"
        for one in changes
        if one.lock is not None
    )


def write_revision(before: Programme, made: Programme, output: Path, *, said: str = "") -> None:
    """Say what changed (or `said`) and what the check finds otherwise; a new hard finding is not written."""
    from speedloom.exchange.documents import canonical
    from speedloom.wording.books import books_of
    from speedloom.wording.differences import differences_text
    from speedloom.workflows.check_news import check_news
    from speedloom.workflows.compare import compare

    _book, catalogue = books_of(made)
    news = check_news(_checked(before), _checked(made))
    told = differences_text(compare(before, made), programme=made, catalogue=catalogue)
    result(said if said and made is not before else told)
    loud = tuple(one for one in news.new if one.weight != "advice")
    if loud:
        message(_words(made, loud))
    if news.gone:
        message(f"No longer found:\n{_words(before, news.gone)}")
    if news.hard:
        refuse(["A hard rule does not allow this; nothing was written."], code=HARD_FINDINGS)
    write_all({output: canonical(made).encode()})
    message(f"Written: {output} (revision {made.revision.number})")


def _words(programme: Programme, found: tuple[Finding, ...]) -> str:
    from speedloom.checking.finding import Findings
    from speedloom.wording.books import books_of
    from speedloom.wording.findings import FindingsBook, findings_text

    book, catalogue = books_of(programme)
    words = FindingsBook(rulebook=book, catalogue=catalogue, programme=programme)
    return findings_text(Findings(found), book=words).rstrip()


def _checked(programme: Programme) -> Findings:
    from speedloom.wording.books import books_of
    from speedloom.workflows.check_programme import check_programme

    book, catalogue = books_of(programme)
    return check_programme(programme, brief=None, rulebook=book, catalogue=catalogue)

"""`speedloom sharpen`: what was logged may move a number; the coach says which, as a new revision."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from typer import Argument, Option

from speedloom.cli._answer import INFEASIBLE, faults_in_words, message, refuse, result, result_json
from speedloom.cli._files import refuse_folder

if TYPE_CHECKING:
    from collections.abc import Sequence

    from speedloom.training.programme import Programme
    from speedloom.wording.proposals import ProposalBook
    from speedloom.workflows.sharpen_proposal import Proposal

ALL = "all"


def sharpen_command(
    programme: Annotated[Path, Argument(help="The programme (JSON).")],
    *,
    log: Annotated[Path, Option(help="The log (JSON) of what was done.")],
    on: Annotated[
        datetime, Option(formats=["%Y-%m-%d"], help="Entries up to this day count; later days may change.")
    ],
    accept: Annotated[
        list[str] | None, Option(help="Accept this proposal by its id, or all; may be given again.")
    ] = None,
    output: Annotated[
        Path | None, Option("--output", "-o", help="Where the new revision (JSON) is written.")
    ] = None,
    as_json: Annotated[bool, Option("--json", help="One JSON value instead of sentences.")] = False,
) -> None:
    """Propose sharper numbers from a log: 1RM, friction, profile, next loads. Nothing moves by itself."""
    if output is not None:
        refuse_folder(output, read=[programme, log], made="programme")
    if bool(accept) != (output is not None):
        refuse(["Expected --accept and -o together: what is accepted becomes a new revision in a file."])
    with faults_in_words():
        desk = _read(programme, log, on.date())
        chosen = _chosen(desk.found, accept or [])
        if as_json:
            result_json([one.to_json() for one in desk.found])
        else:
            result(desk.text(chosen, accepted=True) if accept else desk.text(desk.found))
        if output is not None:
            desk.write(chosen, output)


@dataclass(frozen=True)
class _Desk:
    """The proposals of a day, with what is needed to say and to accept them."""

    found: tuple[Proposal, ...]
    on: date
    words: ProposalBook

    def text(self, those: Sequence[Proposal], *, accepted: bool = False) -> str:
        from speedloom.wording.proposals import proposals_text

        return proposals_text(those, book=self.words, accepted=accepted)

    def write(self, chosen: Sequence[Proposal], output: Path) -> None:
        from speedloom.cli.edit import write_revision

        if any(one.acceptable for one in chosen):
            before = self.words.programme
            write_revision(before, _revised(before, chosen, on=self.on, words=self.words), output)
        else:
            message("Nothing of this can be accepted; nothing was written.")


def _read(programme: Path, log: Path, on: date) -> _Desk:
    from speedloom.exchange.documents import read_log, read_programme
    from speedloom.training.rule import load_rulebook
    from speedloom.wording.books import books_of
    from speedloom.wording.proposals import ProposalBook
    from speedloom.workflows.sharpen import proposals

    before, known = read_programme(programme), read_log(log)
    book, catalogue = books_of(before)
    found = proposals(before, known, on=on, rulebook=load_rulebook(), catalogue=catalogue)
    return _Desk(found, on, ProposalBook(before, catalogue, book))


def _chosen(found: Sequence[Proposal], wanted: Sequence[str]) -> tuple[Proposal, ...]:
    if ALL in wanted:
        return tuple(found)
    known = {one.id: one for one in found}
    unknown = [name for name in wanted if name not in known]
    if unknown:
        names = ", ".join(known) or "none"
        refuse([f"--accept: expected all or one of {names}, got {', '.join(unknown)}."])
    return tuple(known[name] for name in dict.fromkeys(wanted))


def _revised(before: Programme, chosen: Sequence[Proposal], *, on: date, words: ProposalBook) -> Programme:
    """Write accepted numbers into one new revision, or end with the clash in words."""
    from speedloom.training.programme import Programme
    from speedloom.training.rule import load_rulebook
    from speedloom.wording.proposals import why_text
    from speedloom.workflows.accept_proposals import accept_proposals

    made = accept_proposals(
        before, chosen, on=on, why=why_text, rulebook=load_rulebook(), catalogue=words.catalogue
    )
    if not isinstance(made, Programme):
        from speedloom.wording.clashes import clash_text

        brief = before.brief.content
        refuse([clash_text(made, brief=brief) if brief else ""], code=INFEASIBLE)
    return made

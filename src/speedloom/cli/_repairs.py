"""A clash on the command line: in words, with its repairs by number, and one of them tried."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from speedloom.cli._answer import INFEASIBLE, UNUSABLE, message, refuse

if TYPE_CHECKING:
    from speedloom.cli._read import Read
    from speedloom.planning.clash import Clash


def clash_lines(clash: Clash, *, read: Read) -> list[str]:
    """Write a clash, and below it what may be tried by number."""
    from speedloom.wording.clashes import clash_text, repairs_text
    from speedloom.workflows.repair import repairs

    return [
        clash_text(clash, brief=read.brief),
        "Nothing was written.",
        "Repairs, cheapest first; --repair N tries one:",
        repairs_text(repairs(clash)),
    ]


def repaired(clash: Clash, *, read: Read, number: int) -> Read:
    """Give the brief with a clash's repair done, and say so; the brief's file is not touched."""
    from speedloom.wording.clashes import repair_text
    from speedloom.workflows.repair import apply, needs_people, repairs

    known = repairs(clash)
    if number > len(known):
        wanted = f"Expected --repair from 1 to {len(known)}, got {number}."
        refuse([wanted, *clash_lines(clash, read=read)], code=UNUSABLE)
    chosen = known[number - 1]
    if needs_people(chosen):
        said = f"Repair {number} is not for a program to try: {repair_text(chosen)}."
        refuse([said, *clash_lines(clash, read=read)], code=INFEASIBLE)
    message(
        f"Repair {number} is tried: {repair_text(chosen)}.",
        "The brief's file stays as it is; write the change there to keep it.",
    )
    return replace(read, brief=apply(read.brief, chosen))

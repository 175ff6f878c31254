"""Proposals in words: before and after, how sure, from which entries, by which formula and source."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Programme
from speedloom.training.rule import Rulebook
from speedloom.wording.dates import day_month, listing
from speedloom.wording.names import athlete_name, short_name, word
from speedloom.wording.proposal_reasons import REASONS
from speedloom.wording.units import length, mass, number, seconds, share
from speedloom.wording.why_inputs import citation
from speedloom.workflows.sharpen_printed import Figure
from speedloom.workflows.sharpen_proposal import Proposal

NOTHING = "Nothing to propose: no number that is printed would move by more than rounding."
HEAD = "Nothing moves until you accept it: --accept all, or --accept and an id."
ACCEPTED = "You accept this; every line that changes stands below it."
COUNTED = (
    "Lines counted are those that move by more than rounding; more may follow by a plate or a hundredth."
)
ADVICE = "Only a word of advice; there is nothing to accept."
MANY = 4
"""More entries than this are counted, not named."""


@dataclass(frozen=True)
class ProposalBook:
    """What the words need beside the proposals."""

    programme: Programme
    catalogue: Catalogue
    rulebook: Rulebook


def proposals_text(found: Iterable[Proposal], *, book: ProposalBook, accepted: bool = False) -> str:
    """Write all proposals, one paragraph each; or those that a coach accepts."""
    those = tuple(found)
    if not those:
        return NOTHING
    rules = sorted({one.steps[-1].node.by for one in those})
    told = [_rule(rule, book=book) for rule in rules]
    head = ACCEPTED if accepted and any(one.acceptable for one in those) else HEAD
    if any("lines" in one.values for one in those):
        told.append(COUNTED)
    return "\n\n".join([head, *(proposal_text(one, book=book) for one in those), "\n".join(told)])


def proposal_text(one: Proposal, *, book: ProposalBook) -> str:
    """Write one proposal: the change, why, from what, and by which rule."""
    lines = [
        f"{one.id}",
        f"  {title(one, book=book)}: {change_text(one)}",
        f"  {why_text(one)}",
        f"  {basis_text(one, book=book)}",
    ]
    return "\n".join(lines if one.acceptable else [*lines, f"  {ADVICE}"])


def title(one: Proposal, *, book: ProposalBook) -> str:
    """Name what a proposal is about, and whose it is."""
    who = athlete_name(book.programme, one.athlete) if one.athlete else "Everybody who ran"
    if one.kind == "friction":
        return f"{word(one.what)}, friction on {word(str(one.values['surface']))}"
    if one.kind == "profile":
        return f"{who}, {length(float(one.values['distance_m']))} from standing"
    name = short_name(one.what, catalogue=book.catalogue)
    return f"{who}, {name}, {'1RM' if one.kind == 'one_rep_max' else 'next load'}"


def change_text(one: Proposal) -> str:
    """Write before and after with their 90 % bands."""
    before = figure_text(one.before) if one.before else "not known"
    return f"{before} → {figure_text(one.after)}"


def figure_text(figure: Figure) -> str:
    """Write a number with its 90 % band.

    >>> figure_text(Figure(101.7, 91.6, 112.9, "kg"))
    '101.5 kg (90 % band 91.5 to 113)'
    """
    parts = (figure.value, figure.low, figure.high)
    if figure.low is None or figure.high is None:
        return _amount(figure.value, figure.unit)
    value, low, high = (_amount(_roughly(part, figure.unit), figure.unit) for part in parts)
    unit = f" {figure.unit}" if figure.unit in {"kg", "s"} else ""
    return f"{value} (90 % band {low.removesuffix(unit)} to {high.removesuffix(unit)})"


def _roughly(value: float | None, unit: str) -> float | None:
    """Give an estimate as exactly as it can be used: kilograms by halves."""
    return round(2 * value) / 2 if unit == "kg" and value is not None else value


def _amount(value: float | None, unit: str) -> str:
    if value is None:
        return ""
    if unit == "kg":
        return mass(value)
    return seconds(value) if unit == "s" else number(value, decimals=3)


def why_text(one: Proposal) -> str:
    """Say why, in one or two sentences."""
    return REASONS[one.reason].format(**_words(one.values), **_loads(one))


def _words(values: Mapping[str, Any]) -> dict[str, str]:
    """Write the values a sentence may name."""
    said = {name: str(value) for name, value in values.items()}
    if "weight" in values:
        said["weight"] = share(round(float(values["weight"]), 2))
    if "days" in values:
        days = (date.fromisoformat(day) for day in values["days"])
        told = zip(days, values["times_s"], values["distances_m"], strict=True)
        said["days"] = listing(
            f"{day_month(day)} ({seconds(time)} over {length(at)})" for day, time, at in told
        )
        said["side"] = "slower" if values["slower"] else "faster"
    if "date" in values:
        said["day"] = day_month(date.fromisoformat(values["date"]))
    if "athletes" in values:
        people = values["athletes"]
        said["people"] = "one athlete" if len(people) == 1 else f"{len(people)} athletes"
    for name, one, many in (("sets", "set", "sets"), ("runs", "run", "runs"), ("lines", "line", "lines")):
        if name in values:
            said[name] = f"{values[name]} {one if values[name] == 1 else many}"
    return said


def _loads(one: Proposal) -> dict[str, str]:
    after = one.values.get("load_after_kg")
    if after is None:
        return {}
    before = one.values.get("load_before_kg")
    day = day_month(date.fromisoformat(one.values["date"]))
    said = (f"{mass(before)} → " if before else "") + mass(after)
    return {"first": f"{day} ({one.values['line']}): {said}"}


def basis_text(one: Proposal, *, book: ProposalBook) -> str:
    """Say from which entries of the log, and by which rule."""
    entries = [_entry(entry) for entry in one.entries[:MANY]]
    more = len(one.entries) - len(entries)
    named = listing([*entries, f"{more} more"] if more > 0 else entries)
    entry = "entry" if len(one.entries) == 1 else "entries"
    return f"From {entry} {named}, by rule {book.rulebook.rule(one.steps[-1].node.by).row}."


def _rule(ref: str, *, book: ProposalBook) -> str:
    rule = book.rulebook.rule(ref)
    cited = citation(rule.source, rule.mark, rulebook=book.rulebook)
    return f"{rule.row} {ref} ({cited}): {rule.statement}"


def _entry(entry: str) -> str:
    return entry.partition("-")[0]

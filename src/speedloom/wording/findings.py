"""Findings in sentences: where, how much, by which rule and source, and what to do."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from speedloom.checking.finding import Finding, Findings
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Prescription, Programme, Session
from speedloom.training.rule import Rulebook
from speedloom.training.words import Weight
from speedloom.wording import finding_amounts
from speedloom.wording.dates import day_month, listing, runs
from speedloom.wording.finding_sentences import todo
from speedloom.wording.names import athlete_name, line_name
from speedloom.wording.units import METRIC, Units
from speedloom.wording.why_inputs import citation

TITLES: Mapping[Weight, str] = {
    "hard": "Hard: must be changed",
    "warning": "Warnings: change, or keep with a word",
    "advice": "Advice",
}
WEIGHTS: tuple[Weight, ...] = ("hard", "warning", "advice")
SHOWN_PLACES = 3


@dataclass(frozen=True)
class FindingsBook:
    """What the sentences are made from beside the findings."""

    rulebook: Rulebook
    catalogue: Catalogue
    programme: Programme | None = None
    units: Units = METRIC

    @cached_property
    def sessions(self) -> Mapping[str, Session]:
        """Every session by its reference."""
        owners = self.programme.programmes if self.programme else ()
        return {session.ref: session for own in owners for week in own.weeks for session in week.sessions}

    @cached_property
    def lines(self) -> Mapping[str, Prescription]:
        """Every line by its reference."""
        return {line.ref: line for session in self.sessions.values() for line in session.prescriptions}

    def name(self, athlete: str) -> str:
        """Name an athlete."""
        return athlete_name(self.programme, athlete) if self.programme else athlete


@dataclass(frozen=True)
class FindingWords:
    """One finding in words."""

    where: str
    amount: str
    rule: str
    source: str
    todo: str

    def __str__(self) -> str:
        amount = f": {self.amount}" if self.amount else ""
        return f"{self.where}{amount}. {self.rule} ({self.source}) {self.todo}".rstrip()


def finding_words(finding: Finding, *, book: FindingsBook) -> FindingWords:
    """Put one finding into words."""
    rule = book.rulebook.rule(finding.rule)
    known = finding.number in rule.numbers
    source, mark = book.rulebook.mark_of(finding.rule, finding.number) if known else (rule.source, rule.mark)
    changed = f"{finding.rule}.{finding.number}" in book.rulebook.changed
    cited = citation(source, mark, rulebook=book.rulebook)
    return FindingWords(
        where=where(finding, book=book),
        amount=amount(finding, book=book),
        rule=rule.statement,
        source=f"{rule.id}: {cited}{', number changed by the coach' if changed else ''}",
        todo=todo(finding, rule.todo),
    )


def finding_sentence(finding: Finding, *, book: FindingsBook) -> str:
    """Write one finding in one line."""
    return str(finding_words(finding, book=book))


def where(finding: Finding, *, book: FindingsBook) -> str:
    """Say where: athlete, week, day and line, as far as the finding says."""
    session = book.sessions.get(finding.session or "")
    line = book.lines.get(finding.line or "")
    parts = (
        book.name(finding.athlete) if finding.athlete else "",
        f"week {finding.week}" if finding.week else "",
        day_month(session.date) if session else finding.session or "",
        f"{line_name(line, catalogue=book.catalogue)} ({line.ref})" if line else finding.line or "",
    )
    return ", ".join(filter(None, parts)) or "The programme"


def amount(finding: Finding, *, book: FindingsBook) -> str:
    """Say what there is, what the rule asks for, and the further facts."""
    dated = tuple((name, _dated(text, book=book)) for name, text in finding.detail)
    rule = book.rulebook.rule(finding.rule)
    return finding_amounts.amount(replace(finding, detail=dated), rule=rule, units=book.units)


def _dated(text: str, *, book: FindingsBook) -> str:
    """Write the day of a session that a fact names, with its reference."""
    session = book.sessions.get(text)
    return f"{day_month(session.date)} ({text})" if session else text


def findings_text(findings: Findings, *, book: FindingsBook) -> str:
    """Write findings for a terminal: by weight, each rule once with its places, the worst first."""
    if not findings.items:
        return "Every rule of the book holds, and every number can be computed again.\n"
    parts = [counted(findings)]
    for weight in WEIGHTS:
        chosen = findings.of_weight(weight)
        if chosen:
            parts += ["", TITLES[weight], *_by_rule(chosen, book=book)]
    return "\n".join(parts) + "\n"


def counted(findings: Findings) -> str:
    """Say how many findings of each weight there are.

    >>> counted(Findings())
    'nothing to look at'
    """
    counts = [
        f"{len(found)} {_noun(weight, len(found))}"
        for weight in WEIGHTS
        if (found := findings.of_weight(weight))
    ]
    return listing(counts) or "nothing to look at"


def _noun(weight: Weight, count: int) -> str:
    several = {"hard": "hard", "warning": "to look at", "advice": "words of advice"}
    return "word of advice" if weight == "advice" and count == 1 else several[weight]


def _by_rule(findings: Sequence[Finding], *, book: FindingsBook) -> Iterator[str]:
    groups: dict[str, list[Finding]] = defaultdict(list)
    for finding in findings:
        groups[finding.rule].append(finding)
    for group in groups.values():
        yield from _group(_worst_of_each(group), book=book)


def _worst_of_each(group: Sequence[Finding]) -> list[Finding]:
    """Put the worst of each number first, then all others, the worst first."""
    ordered = sorted(group, key=lambda one: -one.excess)
    firsts = list({finding.number: finding for finding in reversed(ordered)}.values())[::-1]
    return [*firsts, *(finding for finding in ordered if not any(finding is one for one in firsts))]


def _group(group: Sequence[Finding], *, book: FindingsBook) -> Iterator[str]:
    words = finding_words(group[0], book=book)
    yield f"- {words.rule} ({words.source})"
    for finding in group[:SHOWN_PLACES]:
        said = finding_words(finding, book=book)
        source = f" ({said.source})" if said.source != words.source else ""
        yield f"    {said.where}: {said.amount}{source}" if said.amount else f"    {said.where}{source}"
    if len(group) > SHOWN_PLACES:
        yield f"    and {_others(group[SHOWN_PLACES:], book=book)}"
    for todo_of_some in dict.fromkeys(finding_words(finding, book=book).todo for finding in group):
        if todo_of_some:
            yield f"    To do: {todo_of_some}"


def _others(group: Sequence[Finding], *, book: FindingsBook) -> str:
    weeks: dict[str, list[int]] = defaultdict(list)
    for finding in group:
        weeks[finding.athlete or ""] += [finding.week] if finding.week else []
    return "; ".join(
        f"{book.name(athlete) if athlete else 'elsewhere'}{_weeks(numbers)}"
        for athlete, numbers in sorted(weeks.items())
    )


def _weeks(numbers: Sequence[int]) -> str:
    several = len(set(numbers)) > 1
    return f" in week{'s' * several} {runs(numbers)}" if numbers else ""

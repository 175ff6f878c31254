"""The rulebook in words: to read, and as a template for a coach's changes."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterator

from speedloom.training.rule import Rule, Rulebook, RuleChange, RuleNumber, Source

WIDTH = 100
TOPICS = {
    "S": "Unloaded sprint",
    "R": "Resisted sprint",
    "P": "Plyometric",
    "W": "Power",
    "M": "Maximal strength",
    "G": "Hamstring and groin",
    "N": "Hamstring and groin",
    "D": "Weeks and order",
    "I": "Weeks and order",
    "L": "Load and change",
    "T": "Load and change",
    "Y": "Youth",
    "H": "Health",
    "X": "The programme itself",
}
DOSES = "Default doses"
UNITS = {"1": "", "d": "days", "y": "years", "degC": "°C", "L": "acceleration lengths"}
UNPUBLISHED = {
    None: "common practice",
    "common_practice": "common practice",
    "speedloom_structure": "what the calendar, room, kit and document allow",
}
CONDUCT = "Kept on the field or by the tool itself; no programme is searched for it."
_SOURCE_KEY = re.compile(r"\b[a-z]+(?:_[a-z]+)*_(?:19|20)\d\d(?:_[a-z]+)?\b")


def amount_text(value: float, unit: str) -> str:
    """Say a rulebook number with its unit; shares are said in per cent.

    >>> amount_text(0.025, "share"), amount_text(48, "h"), amount_text(0.6, "1")
    ('2.5 %', '48 h', '0.6')
    """
    if unit == "share":
        return f"{100 * value:.6g} %"
    return f"{value:.6g} {UNITS.get(unit, unit)}".rstrip()


def topic_of(rule: Rule) -> str:
    """Name the topic a rule is printed under, from the row of the reference table it comes from."""
    return DOSES if rule.kind == "dose" else TOPICS.get(rule.row[:1], TOPICS["X"])


def citation(source: Source) -> str:
    """Cite a source in brackets' length: first author and year, or its title where nobody signs.

    >>> citation(Source(ref="haugen_2019", title="T", authors="Haugen T, Seiler S", year=2019))
    'Haugen and others 2019'
    """
    if not source.authors:
        return source.title
    names = [_surname(name) for name in source.authors.split(", ")]
    others = " and others" if len(names) > 1 or source.authors.endswith("and others") else ""
    return f"{names[0]}{others} {source.year or ''}".rstrip()


def _surname(author: str) -> str:
    words = author.removesuffix(" and others").replace("(eds)", "").split()
    # Initials stand last and in capitals; bodies such as "American College of Sports Medicine" have none.
    return " ".join(words[:-1] if len(words) > 1 and words[-1].replace("-", "").isupper() else words)


def rules_text(rulebook: Rulebook) -> str:
    """Print the rulebook by topic: statements, numbers with unit, weight, source and mark, and changes."""
    cited = {source.ref: source for source in rulebook.sources}
    changes = {(change.rule, change.number): change for change in rulebook.changes}
    lines: list[str] = []
    for topic in dict.fromkeys([*TOPICS.values(), DOSES]):
        rules = [rule for rule in rulebook.rules if topic_of(rule) == topic]
        if rules:
            lines += [topic.upper(), ""]
            for rule in rules:
                lines += [*_rule_lines(rule, cited, changes), ""]
    lines += ["SOURCES", "", *_source_lines(rulebook)]
    return "\n".join(lines) + "\n"


def _rule_lines(
    rule: Rule, cited: dict[str, Source], changes: dict[tuple[str, str], RuleChange]
) -> Iterator[str]:
    # The row is a note for those who keep the rulebook: a coach has no table to look it up in.
    yield f"{rule.id} ({rule.weight}{', health' if rule.health else ''})"
    yield from _paragraph(rule.statement)
    yield from _paragraph(f"Source: {known_by(rule.source, rule.mark, cited)}.")
    for label, text in (("Holds for", rule.population), ("Conflict", rule.conflict), ("To do", rule.todo)):
        if text:
            yield from _paragraph(f"{label}: {spell_sources(text, cited)}")
    if rule.kind == "conduct":
        yield from _paragraph(CONDUCT)
    width = max((len(name) for name in rule.numbers), default=0)
    for name, number in rule.numbers.items():
        change = changes.get((rule.id, name))
        yield f"    {name:<{width}}  {_number_text(rule, number, change=change, cited=cited)}"


def _number_text(
    rule: Rule, number: RuleNumber, *, change: RuleChange | None, cited: dict[str, Source]
) -> str:
    said = [amount_text(number.value, number.unit)]
    if change is not None:
        reason = " ".join(change.reason.split())
        approved = f", approved by {change.approved_by}" if change.approved_by else ""
        said[0] = f"{amount_text(change.value, number.unit)} CHANGED from {said[0]}: {reason}{approved}"
    if number.note:
        said.append(spell_sources(number.note, cited))
    if number.weight not in {None, rule.weight}:
        said.append(str(number.weight))
    if number.source or number.mark:
        said.append(known_by(number.source or rule.source, number.mark or rule.mark, cited))
    return "; ".join(said)


def known_by(ref: str | None, mark: str, cited: dict[str, Source]) -> str:
    """Say by whom a number is known, and how well."""
    if ref in UNPUBLISHED:
        return UNPUBLISHED[ref] if mark == "common practice" else f"{UNPUBLISHED[ref]} ({mark})"
    return f"{citation(cited[ref]) if ref in cited else ref} ({mark})"


def spell_sources(text: str, cited: dict[str, Source]) -> str:
    """Write the sources that a text names by their keys as they are cited."""

    def spell(match: re.Match[str]) -> str:
        return citation(cited[match[0]]) if match[0] in cited else match[0]

    return _SOURCE_KEY.sub(spell, text)


def _paragraph(text: str) -> list[str]:
    return textwrap.wrap(text, WIDTH, initial_indent="  ", subsequent_indent="  ")


def _source_lines(rulebook: Rulebook) -> Iterator[str]:
    used = {rule.source for rule in rulebook.rules}
    used |= {number.source for rule in rulebook.rules for number in rule.numbers.values()}
    for source in sorted(rulebook.sources, key=lambda source: source.ref):
        if source.ref in used:
            doi = f"doi:{source.doi}" if source.doi else ""
            year = f"({source.year})" if source.year else ""
            signed = f"{source.authors} {year}".strip()
            people = f"[{source.population}]" if source.population else ""
            parts = [part for part in (signed, source.title, source.where, doi, people) if part]
            yield from _paragraph(f"{source.ref}: {'. '.join(parts)}")


HEAD = """\
## Changes to the rulebook, for a brief.
## Take the "# " away from the six lines of a block, set the value, and give a reason: it is printed
## with every programme. A hard health rule may be made stricter; to loosen it, approved_by must name
## who allows it.
## Shares are fractions: 0.9 is 90 %.
"""


def rules_toml(rulebook: Rulebook) -> str:
    """Write the template for a coach's changes: one commented block a number, active where it is changed."""
    changes = {(change.rule, change.number): change for change in rulebook.changes}
    blocks = [HEAD]
    for rule in rulebook.rules:
        if rule.numbers:
            blocks.append(f"## ---- {rule.id}: {rule.statement}\n")
        for name, number in rule.numbers.items():
            blocks.append(_block(rule, name, change=changes.get((rule.id, name)), number=number))
    return "\n".join(blocks)


def _block(rule: Rule, name: str, *, number: RuleNumber, change: RuleChange | None) -> str:
    unit = number.unit if number.unit != "1" else "a plain number"
    facts = [unit, number.weight or rule.weight, number.mark or rule.mark]
    if number.tighter:
        facts.append(f"stricter: {number.tighter}")
    if number.note:
        facts.append(number.note)
    lines = [
        "[[rules]]",
        f'rule = "{rule.id}"',
        f'number = "{name}"',
        f"value = {(change.value if change else number.value):.12g}  # {'; '.join(facts)}",
        f"reason = {_quoted(change.reason if change else '')}",
        f"approved_by = {_quoted(change.approved_by if change else '')}",
    ]
    return "".join(f"{'' if change else '# '}{line}\n" for line in lines)


def _quoted(text: str) -> str:
    plain = text.replace("\\", "\\\\").replace('"', '\\"')
    return '"' + plain.replace("\n", "\\n").replace("\t", "\\t").replace("\r", "\\r") + '"'

"""What the check finds of a revision, kept as long as the revision is in memory: it never changes."""

from __future__ import annotations

from dataclasses import dataclass, replace

from speedloom.checking.finding import Findings
from speedloom.store.programme_part import only
from speedloom.training.document import Beside
from speedloom.training.programme import Programme
from speedloom.wording.books import books_of
from speedloom.wording.findings import TITLES, WEIGHTS, FindingsBook, FindingWords, finding_words
from speedloom.wording.names import words_in
from speedloom.workflows.check_programme import check_programme, check_squad

MOST_SHOWN = 40
People = frozenset[str]
_FOUND = Beside[dict[People, Findings]]()
_IN_WORDS = Beside[dict[People, "tuple[Group, ...]"]]()


@dataclass(frozen=True)
class Group:
    """Findings of one weight, the first of them in words."""

    weight: str
    title: str
    items: tuple[FindingWords, ...]
    count: int

    @property
    def more(self) -> int:
        """How many are not written out."""
        return self.count - len(self.items)


def found_of(document: Programme, athletes: People) -> Findings:
    """Give what the check finds about some athletes of a programme."""
    kept = _FOUND.get(document)
    if kept is None:
        kept = _FOUND.keep(document, {})
    if athletes not in kept:
        rulebook, catalogue = books_of(document)
        if athletes >= everybody(document):
            kept[athletes] = check_squad(document, rulebook=rulebook, catalogue=catalogue)
        else:
            part = only(document, athletes)
            kept[athletes] = check_programme(part, brief=None, rulebook=rulebook, catalogue=catalogue)
    return kept[athletes]


def found_in_words(document: Programme, athletes: People) -> tuple[Group, ...]:
    """Give the same in words, a group for each weight that is there."""
    kept = _IN_WORDS.get(document)
    if kept is None:
        kept = _IN_WORDS.keep(document, {})
    if athletes not in kept:
        kept[athletes] = _groups(document, found_of(document, athletes))
    return kept[athletes]


def everybody(document: Programme) -> People:
    """Give the athletes a programme is for."""
    return frozenset(own.athlete for own in document.programmes)


def _groups(document: Programme, found: Findings) -> tuple[Group, ...]:
    rulebook, catalogue = books_of(document)
    book = FindingsBook(rulebook=rulebook, catalogue=catalogue, programme=document)
    return tuple(
        Group(
            weight,
            TITLES[weight],
            tuple(_read(finding_words(one, book=book)) for one in those[:MOST_SHOWN]),
            len(those),
        )
        for weight in WEIGHTS
        if (those := found.of_weight(weight))
    )


def _read(words: FindingWords) -> FindingWords:
    """Name the rule as people read it; its name in the data is for commands and files."""
    return replace(words, source=words_in(words.source))

"""What the proposals page shows: each number before and after, why, and the steps it came by."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass

from speedloom.training.programme import Node
from speedloom.wording.names import word
from speedloom.wording.proposals import ProposalBook, basis_text, change_text, title, why_text
from speedloom.wording.units import number
from speedloom.wording.why_inputs import citation
from speedloom.workflows.sharpen_proposal import Proposal


@dataclass(frozen=True)
class StepShown:
    """One step: what came out, and where it is from."""

    what: str
    value: str
    source: str


@dataclass(frozen=True)
class ProposalShown:
    """One proposal in words."""

    id: str
    title: str
    change: str
    why: str
    basis: str
    steps: tuple[StepShown, ...]
    acceptable: bool
    taken: bool


def proposals_shown(
    found: Iterable[Proposal], *, book: ProposalBook, taken: Collection[str]
) -> tuple[ProposalShown, ...]:
    """Put proposals into words, with those that are ticked."""
    return tuple(
        ProposalShown(
            id=one.id,
            title=title(one, book=book),
            change=change_text(one),
            why=why_text(one),
            basis=basis_text(one, book=book),
            steps=tuple(_step(step.node, book) for step in one.steps),
            acceptable=one.acceptable,
            taken=one.id in taken,
        )
        for one in found
    )


def _step(node: Node, book: ProposalBook) -> StepShown:
    value = number(node.value, decimals=3) if isinstance(node.value, float | int) else str(node.value or "–")
    unit = "" if node.unit in {"1", "share", ""} else f" {node.unit}"
    source = citation(node.source, node.mark, rulebook=book.rulebook)
    what = ", ".join(filter(None, (word(node.quantity), node.reason)))
    return StepShown(what, f"{value}{unit}{_band(node)}", source)


def _band(node: Node) -> str:
    if node.low is None or node.high is None:
        return ""
    return f" ({number(node.low, decimals=3)} to {number(node.high, decimals=3)})"

"""X9: a derivation is about the athlete, the kit and the line that it stands for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from speedloom.checking.fields import Held
from speedloom.checking.finding import Finding
from speedloom.checking.inputs import Inputs
from speedloom.checking.lineage import Lineage, Strange
from speedloom.checking.scene import Scene, at


def strangers(scene: Scene, inputs: Inputs, held: Iterable[Held]) -> Iterator[Finding]:
    """Find derivations that rest on another athlete, other kit, or the numbers of another line."""
    lineage = Lineage(inputs)
    for one in held:
        for strange in _of(lineage, one):
            bare = scene.breach(
                "derivation",
                value=strange.value,
                limit=strange.wanted,
                line=one.line,
                node=strange.node,
                why="about something else",
                argument=strange.name,
            )
            yield replace(at(bare, one.person, one.week, one.session), number=one.field)


def _of(lineage: Lineage, held: Held) -> Iterator[Strange]:
    if not held.node:
        return
    own = f"athletes.{held.person.ref}"
    kit = None if held.line is None else held.line.kit
    for root in sorted(lineage.roots(held.node)):
        if root.startswith("athletes.") and root != own:
            yield Strange(held.node, "athlete", root.partition(".")[2], held.person.ref)
        if held.field == "load_kg" and kit is not None and root.startswith("kit.") and root != f"kit.{kit}":
            yield Strange(held.node, "kit", root.partition(".")[2], kit)
    if held.line is not None:
        yield from lineage.strange(held.node, held.line)

"""A programme cut to some of its athletes: nothing in it tells of the others."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from collections.abc import Set as AbstractSet

from speedloom.training.brief import ResolvedBrief
from speedloom.training.document import Beside
from speedloom.training.programme import AthleteProgramme, Node, Programme

_BARE = Beside[Programme]()
"""A whole squad's programme is cut once: what the check finds is kept beside the cut one."""


def only(programme: Programme, athletes: AbstractSet[str]) -> Programme:
    """Cut a programme to some athletes: their weeks, tests and the steps behind their numbers."""
    kept = tuple(own for own in programme.programmes if own.athlete in athletes)
    content = programme.brief.content
    brief = programme.brief.model_copy(update={"content": _brief(content, athletes) if content else None})
    return programme.model_copy(
        update={
            "programmes": kept,
            "brief": brief,
            "unmet": tuple(one for one in programme.unmet if one.athlete in athletes),
            "basis": _reached(programme.basis, _named(kept)),
        }
    )


def without_health(programme: Programme) -> Programme:
    """Cut a programme for eyes that health is not for: no limits, and nothing asked before hard work."""
    return _BARE.get(programme) or _BARE.keep(programme, _bare(programme))


def _bare(programme: Programme) -> Programme:
    content = programme.brief.content
    if content is None:
        return programme
    bare = tuple(one.model_copy(update={"restrictions": (), "screening": None}) for one in content.athletes)
    if bare == content.athletes:
        return programme
    cut = content.model_copy(update={"athletes": bare})
    return programme.model_copy(update={"brief": programme.brief.model_copy(update={"content": cut})})


def _brief(content: ResolvedBrief, athletes: AbstractSet[str]) -> ResolvedBrief:
    those = content.measurements
    measured = those.model_copy(
        update={
            name: tuple(row for row in getattr(those, name) if row.athlete in athletes)
            for name in type(those).model_fields
        }
    )
    return content.model_copy(
        update={
            "athletes": tuple(one for one in content.athletes if one.ref in athletes),
            "measurements": measured,
            "assumed": tuple(one for one in content.assumed if one.partition(".")[0] in athletes),
            "learned": tuple(one for one in content.learned if one.partition("/")[0] in athletes),
            "own_lines": tuple(
                line.model_copy(update={"athletes": tuple(ref for ref in line.athletes if ref in athletes)})
                for line in content.own_lines
                if not line.athletes or set(line.athletes) & athletes
            ),
        }
    )


def _named(kept: Iterable[AthleteProgramme]) -> set[str]:
    return {
        node
        for own in kept
        for week in own.weeks
        for basis in (
            week.basis,
            *(session.basis for session in week.sessions),
            *(line.basis for session in week.sessions for line in session.prescriptions),
        )
        for node in basis.values()
    }


def _reached(basis: Mapping[str, Node], first: set[str]) -> dict[str, Node]:
    found, waiting = set[str](), [name for name in first if name in basis]
    while waiting:
        name = waiting.pop()
        if name not in found:
            found.add(name)
            waiting += [one for one in basis[name].inputs.values() if one in basis]
    return {name: node for name, node in basis.items() if name in found}

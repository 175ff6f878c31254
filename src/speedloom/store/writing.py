"""A programme's canonical text, written piece by piece: a change leaves most pieces as they are in memory.

The bytes are those of `training.document.canonical`; only the time is another.
"""

from __future__ import annotations

import json
from collections import OrderedDict
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby
from threading import Lock
from typing import Any

from pydantic import BaseModel

from speedloom.training.document import Beside
from speedloom.training.kept import forgotten_by
from speedloom.training.programme import AthleteProgramme, Node, Programme

Named = tuple[tuple[str, Node], ...]
Pieces = dict[str, tuple[Named, bytes]]
PREFIX = 4
"""Steps of one beginning stand together in the text: about ten of a squad's ten thousand [characters]."""
MOST = 4
"""Programmes whose steps are kept written [count]."""
_PARTS = Beside[bytes]()
_STEPS: OrderedDict[str, Pieces] = OrderedDict()
_LOCK = Lock()


def written(programme: Programme) -> bytes:
    """Write a programme as `canonical` does, encoded."""
    texts = {
        "basis": _basis(programme),
        "brief": _part(programme.brief),
        "programmes": _listed(_athlete(own) for own in programme.programmes),
    }
    rest = programme.model_dump(mode="json", by_alias=True, exclude=set(texts))
    return _braced(texts | {name: _plain(value) for name, value in rest.items()}) + b"\n"


def _athlete(own: AthleteProgramme) -> bytes:
    weeks = _listed(_part(week) for week in own.weeks)
    rest = own.model_dump(mode="json", by_alias=True, exclude={"weeks"})
    return _braced({"weeks": weeks} | {name: _plain(value) for name, value in rest.items()})


def _part(part: BaseModel) -> bytes:
    return _PARTS.get(part) or _PARTS.keep(part, _plain(part.model_dump(mode="json", by_alias=True)))


def _basis(programme: Programme) -> bytes:
    with _LOCK:
        before = _STEPS.pop(programme.id, {})
    now = dict(_pieces(programme.basis, before))
    with _LOCK:
        _STEPS[programme.id] = now
        while len(_STEPS) > MOST:
            _STEPS.popitem(last=False)
    return b"{" + b",".join(text for _, text in now.values()) + b"}"


def _forget() -> None:
    with _LOCK:
        _STEPS.clear()


forgotten_by(_forget)


def _pieces(basis: dict[str, Node], before: Pieces) -> Iterator[tuple[str, tuple[Named, bytes]]]:
    for prefix, names in groupby(sorted(basis), key=lambda name: name[:PREFIX]):
        steps = tuple((name, basis[name]) for name in names)
        known = before.get(prefix)
        yield prefix, known if known is not None and _same(known[0], steps) else (steps, _steps(steps))


def _same(known: Sequence[tuple[str, Node]], steps: Sequence[tuple[str, Node]]) -> bool:
    """Say whether steps are the very ones in memory: 1 and 1.0 are equal, and written differently."""
    return len(known) == len(steps) and all(
        a == b and one is other for (a, one), (b, other) in zip(known, steps, strict=True)
    )


def _steps(steps: Iterable[tuple[str, Node]]) -> bytes:
    content = {name: node.model_dump(mode="json", by_alias=True) for name, node in steps}
    return _plain(content)[1:-1]


def _plain(value: Any) -> bytes:  # noqa: ANN401 - whatever JSON holds
    text = json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False)
    return text.encode()


def _listed(texts: Iterable[bytes]) -> bytes:
    return b"[" + b",".join(texts) + b"]"


def _braced(texts: dict[str, bytes]) -> bytes:
    return b"{" + b",".join(b'"%s":%s' % (name.encode(), texts[name]) for name in sorted(texts)) + b"}"

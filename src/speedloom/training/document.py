"""A document's canonical text and its digest: what equality of documents means."""

from __future__ import annotations

import json
from hashlib import sha256
from typing import Generic, TypeVar
from weakref import ref

from pydantic import BaseModel

from speedloom.training.kept import forgotten_by

Value = TypeVar("Value")


class Beside(Generic[Value]):
    """What was worked out about documents, kept as long as each is in memory.

    Documents are frozen, so what was once found of one stays true; two equal ones are two.
    """

    def __init__(self) -> None:
        """Begin with nothing known."""
        self._known: dict[int, tuple[ref[BaseModel], Value]] = {}
        # What is kept may hold the document itself, which is then never let go.
        forgotten_by(self._known.clear)

    def get(self, document: BaseModel) -> Value | None:
        """Give what is kept of a document, or None."""
        found = self._known.get(id(document))
        return found[1] if found is not None and found[0]() is document else None

    def keep(self, document: BaseModel, value: Value) -> Value:
        """Keep something of a document, and give it."""
        place, known = id(document), self._known

        def forget(gone: ref[BaseModel]) -> None:
            # The place in memory may belong to the next document by now.
            if place in known and known[place][0] is gone:
                del known[place]

        known[place] = (ref(document, forget), value)
        return value


_DIGESTS = Beside[str]()
"""Writing a squad's programme takes a tenth of a second, and a change asks for its digest three times."""


def canonical(document: BaseModel) -> str:
    """Write a document as JSON with sorted keys and no spaces, ended by a line break."""
    content = document.model_dump(mode="json", by_alias=True)
    text = json.dumps(content, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False)
    return f"{text}\n"


def digest(document: BaseModel) -> str:
    """Give a document's digest, `sha256:…`, over its canonical form without the last line break."""
    return _DIGESTS.get(document) or stored_under(document, digest_of(canonical(document).encode()))


def digest_of(text: bytes) -> str:
    """Give the digest of the document with this canonical text, encoded."""
    return f"sha256:{sha256(text.rstrip()).hexdigest()}"


def stored_under(document: BaseModel, stamp: str) -> str:
    """Keep the digest that a document was stored under, and give it."""
    return _DIGESTS.keep(document, stamp)

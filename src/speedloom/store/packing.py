"""A programme as it lies in its row: the canonical text, packed to a twelfth."""

from __future__ import annotations

import zlib

from speedloom.store.writing import written
from speedloom.training.document import stored_under
from speedloom.training.programme import Programme

LEVEL = 4
"""Of zlib: a squad's programme takes 19 ms and 0.43 MB; level 6 would take 32 ms and 0.33 MB."""


def packed(programme: Programme) -> bytes:
    """Pack a programme's canonical text."""
    return packed_text(written(programme))


def packed_text(text: bytes) -> bytes:
    """Pack a canonical text that is at hand."""
    return zlib.compress(text, LEVEL)


def plain_text(document: bytes | memoryview) -> str:
    """Give the canonical text of a packed programme."""
    return opened_text(document).decode()


def unpacked(document: bytes | memoryview, *, stamp: str | None = None) -> Programme:
    """Read a packed programme; its digest is the one it was stored under, where that is given."""
    return read_text(opened_text(document), stamp=stamp)


def opened_text(document: bytes | memoryview) -> bytes:
    """Give the canonical text of a packed programme, encoded."""
    return zlib.decompress(document)


def read_text(text: bytes, *, stamp: str | None = None) -> Programme:
    """Read a programme's canonical text; its digest is the one it was stored under, where that is given."""
    programme = Programme.model_validate_json(text)
    if stamp is not None:
        stored_under(programme, stamp)
    return programme

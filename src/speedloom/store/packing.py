"""A programme as it lies in its row: the canonical text, packed to a sixteenth."""

from __future__ import annotations

import zlib

from speedloom.training.document import canonical
from speedloom.training.programme import Programme

LEVEL = 6


def packed(programme: Programme) -> bytes:
    """Pack a programme's canonical text."""
    return zlib.compress(canonical(programme).encode(), LEVEL)


def unpacked(document: bytes | memoryview) -> Programme:
    """Read a packed programme."""
    return Programme.model_validate_json(zlib.decompress(document))

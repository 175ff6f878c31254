"""A document's canonical text and its digest: what equality of documents means."""

from __future__ import annotations

import json
from hashlib import sha256

from pydantic import BaseModel


def canonical(document: BaseModel) -> str:
    """Write a document as JSON with sorted keys and no spaces, ended by a line break."""
    content = document.model_dump(mode="json", by_alias=True)
    text = json.dumps(content, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False)
    return f"{text}\n"


def digest(document: BaseModel) -> str:
    """Give a document's digest, `sha256:…`, over its canonical form without the last line break."""
    return f"sha256:{sha256(canonical(document).rstrip().encode()).hexdigest()}"

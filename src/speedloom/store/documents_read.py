"""Programmes kept in memory after they were read or saved: a revision never changes."""

from __future__ import annotations

from collections import OrderedDict
from threading import Lock

from speedloom.store import models
from speedloom.store.packing import opened_text, read_text
from speedloom.training.kept import forgotten_by
from speedloom.training.programme import Programme

MOST_TEXT = 40_000_000
"""Text of the programmes kept: in memory it takes five times as much and, with what is kept beside it, eight
[bytes]. Fourteen athletes' twelve weeks are 5 MB of it, and take 0.15 s to read again."""
Key = tuple[int, str]
"""Row and digest: a row that was taken back and its number given to another is not the same."""
_KEPT: OrderedDict[Key, tuple[Programme, int]] = OrderedDict()
"""Each with the length of its text, the one asked for last at the end."""
_LOCK = Lock()


def document_of(row: models.ProgrammeRevision) -> Programme:
    """Give the document of a revision, read only once."""
    key = (row.pk, row.digest)
    with _LOCK:
        if key in _KEPT:
            _KEPT.move_to_end(key)
            return _KEPT[key][0]
    those = models.ProgrammeRevision.objects.filter(pk=row.pk, digest=row.digest)
    text = opened_text(those.values_list("document", flat=True).get())
    return keep_read(row, read_text(text, stamp=row.digest), text=len(text))


def keep_read(row: models.ProgrammeRevision, programme: Programme, *, text: int) -> Programme:
    """Keep the document of a revision, and forget those not asked for longest; give the one that is kept.

    Args:
        row: the revision.
        programme: its document.
        text: the length of its canonical text [bytes].
    """
    with _LOCK:
        kept, _ = _KEPT.setdefault((row.pk, row.digest), (programme, text))
        held = sum(length for _, length in _KEPT.values())
        while held > MOST_TEXT and len(_KEPT) > 1:
            held -= _KEPT.popitem(last=False)[1][1]
    return kept


def in_memory() -> int:
    """Count the programmes that are kept."""
    return len(_KEPT)


def forget_read() -> None:
    """Forget them all, after somebody was taken out of them."""
    with _LOCK:
        _KEPT.clear()


forgotten_by(forget_read)

"""Programmes kept in memory after they were read or saved: a revision never changes."""

from __future__ import annotations

from collections import OrderedDict
from threading import Lock

from speedloom.store import models
from speedloom.store.packing import unpacked
from speedloom.training.programme import Programme

MOST = 16
"""Programmes kept: one of fourteen athletes takes 0.15 s to read, and 40 MB [count]."""
Key = tuple[int, str]
"""Row and digest: a row that was taken back and its number given to another is not the same."""
_KEPT: OrderedDict[Key, Programme] = OrderedDict()
_LOCK = Lock()


def document_of(row: models.ProgrammeRevision) -> Programme:
    """Give the document of a revision, read only once."""
    key = (row.pk, row.digest)
    with _LOCK:
        if key in _KEPT:
            _KEPT.move_to_end(key)
            return _KEPT[key]
    those = models.ProgrammeRevision.objects.filter(pk=row.pk, digest=row.digest)
    return keep_read(row, unpacked(those.values_list("document", flat=True).get(), stamp=row.digest))


def keep_read(row: models.ProgrammeRevision, programme: Programme) -> Programme:
    """Keep the document of a revision, the oldest forgotten for it; give the one that is kept."""
    with _LOCK:
        kept = _KEPT.setdefault((row.pk, row.digest), programme)
        while len(_KEPT) > MOST:
            _KEPT.popitem(last=False)
    return kept


def forget_read() -> None:
    """Forget them all, after somebody was taken out of them."""
    with _LOCK:
        _KEPT.clear()

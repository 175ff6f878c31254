"""What is kept beside documents is theirs alone, and never outlives them."""

from __future__ import annotations

import gc
import json
from hashlib import sha256

from small_programme import small_programme
from speedloom.training.document import Beside, canonical, digest, digest_of, stored_under


def test_a_digest_is_of_the_canonical_text_without_its_last_line_break() -> None:
    document = small_programme()
    text = json.dumps(
        document.model_dump(mode="json", by_alias=True),
        sort_keys=True,
        separators=(",", ":"),
        ensure_ascii=False,
    )
    wanted = f"sha256:{sha256(text.encode()).hexdigest()}"
    assert canonical(document) == f"{text}\n"
    assert digest(document) == digest_of(canonical(document).encode()) == digest(document) == wanted


def test_a_changed_copy_has_a_digest_of_its_own() -> None:
    document = small_programme()
    before = digest(document)
    changed = document.model_copy(update={"seed": document.seed + 1})
    assert digest(changed) != before
    assert digest(document) == before


def test_a_document_that_was_stored_keeps_the_digest_it_was_stored_under() -> None:
    document = small_programme()
    stored_under(document, "sha256:of-an-earlier-version")
    assert digest(document) == "sha256:of-an-earlier-version"
    assert digest(document.model_copy()) == digest_of(canonical(document).encode())


def test_what_is_kept_goes_with_the_document() -> None:
    beside = Beside[str]()
    one, equal = small_programme(), small_programme()
    assert beside.keep(one, "known") == beside.get(one) == "known"
    assert beside.get(equal) is None
    del one
    gc.collect()
    again = [small_programme() for _ in range(20)]  # some of them where the first one stood
    assert [beside.get(each) for each in again] == [None] * 20
    assert not beside._known

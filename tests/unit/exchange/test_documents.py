"""Documents: one canonical text, its digest, and files that are written whole or not at all."""

from __future__ import annotations

from hashlib import sha256
from pathlib import Path

import pytest

from speedloom.exchange.documents import canonical, digest, read_json, write_atomically, write_document
from speedloom.exchange.fault import UnusableFileError
from speedloom.exchange.toml_text import read_toml
from speedloom.training.calendar import Event, Slot

SLOT = Slot.model_validate_json(
    '{"ref": "mon", "day": "monday", "start": "18:00", "minutes": 75, "place": "hall", "from": "2026-01-12"}'
)


def test_the_canonical_form_has_sorted_keys_and_no_spaces() -> None:
    assert canonical(SLOT) == (
        '{"day":"monday","from":"2026-01-12","minutes":75,"open":false,"place":"hall","ref":"mon",'
        '"start":"18:00","until":null}\n'
    )
    title = Event.model_validate_json('{"kind": "match", "title": "Höhe – Ü", "date": "2026-02-14"}')
    assert "Höhe – Ü" in canonical(title)


def test_the_digest_is_over_the_canonical_form() -> None:
    assert digest(SLOT) == f"sha256:{sha256(canonical(SLOT).strip().encode()).hexdigest()}"


def test_a_document_comes_back(tmp_path: Path) -> None:
    write_document(tmp_path / "slot.json", SLOT)
    assert (tmp_path / "slot.json").read_text(encoding="utf-8") == canonical(SLOT)
    assert [path.name for path in tmp_path.iterdir()] == ["slot.json"]


def test_a_file_that_cannot_be_written_leaves_the_old_one_and_nothing_else(tmp_path: Path) -> None:
    folder = tmp_path / "taken"
    folder.mkdir()
    (folder / "old.txt").write_text("old", encoding="utf-8")
    with pytest.raises(UnusableFileError):
        write_atomically(folder, "new")
    with pytest.raises(UnusableFileError, match="can be written to"):
        write_atomically(tmp_path / "nowhere" / "new.txt", "new")
    assert [path.name for path in tmp_path.iterdir()] == ["taken"]
    assert (folder / "old.txt").read_text(encoding="utf-8") == "old"


@pytest.mark.parametrize(
    ("text", "words"),
    [('{"a": 1, "a": 2}', "twice"), ("[1, NaN]", "NaN"), ("{", "line 1"), ("[" * 100_000, "JSON")],
)
def test_json_that_is_none(tmp_path: Path, text: str, words: str) -> None:
    (tmp_path / "x.json").write_text(text, encoding="utf-8")
    with pytest.raises(UnusableFileError, match=words):
        read_json(tmp_path / "x.json")


def test_toml_keeps_the_lines_of_its_keys(tmp_path: Path) -> None:
    text = """\
name = "x"
long = '''
[not_a_table]
key = 1
'''
[goal]
peaks = [
  { date = 2026-01-01 },
]
[[slots]]
ref = "a"
[[slots]]
ref = "b"  # comment with [ in it
[[slots.extra]]
deep.inner = 18:00:00
[[athletes]]
[[athletes.away]]
[[athletes]]
[[athletes.away]]
date = 2026-01-01
"""
    (tmp_path / "x.toml").write_text(text, encoding="utf-8")
    content, lines = read_toml(tmp_path / "x.toml")
    rows = {
        ("name",): 1,
        ("goal",): 6,
        ("goal", "peaks", 0, "date"): 7,
        ("slots", 0, "ref"): 11,
        ("slots", 1, "ref"): 13,
        ("slots", 1, "extra", 0, "deep", "inner"): 15,
        ("athletes", 1, "away", 0, "date"): 20,
        ("athletes", 0, "away", 0, "date"): 17,
        ("nothing",): None,
    }
    assert {path: lines.row_of(path) for path in rows} == rows
    assert content["slots"] == [{"ref": "a"}, {"ref": "b", "extra": [{"deep": {"inner": "18:00:00"}}]}]

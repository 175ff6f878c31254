"""`speedloom sharpen` as typed: what is proposed, what is accepted, and what is refused."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from sharpened import SQUAD, lifted, lines, log
from speedloom.cli import main
from speedloom.exchange.documents import read_programme, write_document
from speedloom.training.document import digest
from speedloom.workflows.compare import compare

ON = "2026-02-08"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    write_document(tmp_path / "squad.json", SQUAD)
    easy = lifted("astrid", "back_squat", [None, *[{"rir": 0}] * 4])
    write_document(tmp_path / "log.json", log(*easy))
    return tmp_path


def typed(folder: Path, *more: str, programme: str = "squad.json") -> int:
    with pytest.raises(SystemExit) as ended:
        main(["sharpen", str(folder / programme), "--log", str(folder / "log.json"), "--on", ON, *more])
    return int(ended.value.code or 0)


def test_it_says_before_and_after_how_sure_from_what_and_by_which_rule(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert typed(folder) == 0
    said = capsys.readouterr().out
    for words in (
        "Nothing moves until",
        "101.5 kg (90 % band",
        "by more than rounding, first of ",
        " → ",
        "From entries",
        "X17 one_rep_max_update",
    ):
        assert words in said
    assert not list(folder.glob("*2.json"))


def test_json_is_one_value_with_the_derivation(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert typed(folder, "--json") == 0
    found = {one["id"]: one for one in json.loads(capsys.readouterr().out)}
    one = found["astrid/back_squat/one_rep_max"]
    assert one["before"]["value"] > one["after"]["value"]
    assert one["steps"][-1]["by"] == "one_rep_max_update"
    assert len(one["entries"]) == 4


def test_what_is_accepted_becomes_the_next_revision_and_is_not_proposed_again(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert typed(folder, "--accept", "all", "-o", str(folder / "squad2.json")) == 0
    made = read_programme(folder / "squad2.json")
    assert (made.revision.number, made.revision.parent) == (2, digest(SQUAD))
    assert "astrid/back_squat/one_rep_max" in str(made.revision.reason)
    said = capsys.readouterr().out
    assert said.startswith("You accept this; every line that changes stands below it.\n")
    assert "Nothing moves" not in said
    # What a proposal counts moves by more than rounding: all of it is in the difference, and maybe more.
    counted = sum(int(count) for count in re.findall(r"moves the load of (\d+) line", said))
    assert 0 < counted <= len(compare(SQUAD, made).lines)
    line = next(line.ref for week, _, line in lines("astrid", "back_squat", made) if week.number == 7)
    with pytest.raises(SystemExit):
        main(["why", str(folder / "squad2.json"), f"{line}.load_kg"])
    assert "put together from the test and the sets logged" in capsys.readouterr().out
    assert typed(folder, programme="squad2.json") == 0
    assert "Nothing to propose" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("more", "words"),
    [
        (("--accept", "all"), "--accept and -o together"),
        (("--accept", "ines/x", "-o", "new.json"), "expected all or one of"),
    ],
)
def test_half_a_wish_is_refused(
    folder: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    more: tuple[str, ...],
    words: str,
) -> None:
    monkeypatch.chdir(folder)
    assert typed(folder, *more) == 2
    assert words in capsys.readouterr().err
    assert not (folder / "new.json").exists()

"""A command line as a user types it, answered in this process."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from house import ROOT
from small_programme import small_programme
from speedloom.cli import main
from speedloom.exchange.documents import canonical

EXAMPLES = ROOT / "examples"


@dataclass(frozen=True)
class Answer:
    """What a command line gave back."""

    code: int
    out: str
    err: str


Ask = Callable[..., Answer]


@pytest.fixture
def ask(capsys: pytest.CaptureFixture[str]) -> Ask:
    def answer(*arguments: object) -> Answer:
        with pytest.raises(SystemExit) as ended:
            main([str(argument) for argument in arguments])
        said = capsys.readouterr()
        return Answer(code=int(ended.value.code or 0), out=said.out, err=said.err)

    return answer


@pytest.fixture
def small(tmp_path: Path) -> Path:
    """The hand-made programme on disk."""
    path = tmp_path / "small.json"
    path.write_text(canonical(small_programme()), encoding="utf-8")
    return path


@pytest.fixture(scope="session")
def planned(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The smallest example, planned once."""
    path = tmp_path_factory.mktemp("planned") / "short.json"
    with pytest.raises(SystemExit) as ended:
        main(["plan", str(EXAMPLES / "short_block.toml"), "-o", str(path)])
    assert not ended.value.code
    return path

"""Whatever is done to a file, the readers give a document or faults in words, never anything else."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from house import ROOT
from speedloom.exchange.brief_file import read_brief
from speedloom.exchange.documents import canonical, read_log, read_programme
from speedloom.exchange.fault import Fault, UnusableFileError
from speedloom.exchange.profiles import profile_file, profiles_json

DATA = ROOT / "tests" / "unit" / "training" / "data"
TESTS = (DATA / "squad_tests.csv").read_text(encoding="utf-8")
BRIEF = (DATA / "brief.toml").read_text(encoding="utf-8")
PROGRAMME = (DATA / "programme.json").read_text(encoding="utf-8")
LOG = (DATA / "log.json").read_text(encoding="utf-8")

SNIPPETS = st.one_of(
    st.text(max_size=6),
    st.sampled_from(
        [
            *(
                "",
                "\n",
                ",",
                ";",
                "\t",
                '"',
                "'''",
                "[",
                "]]",
                "{",
                "}",
                "=",
                "#",
                "-",
                ".",
                "\x00",
                "\ufeff",
            ),
            *(
                "0",
                "-1",
                "1e999",
                "99999999999999999999",
                "nan",
                "inf",
                "null",
                "true",
                "2026-13-01",
                "25:61:00",
            ),
            *(
                "10 m",
                "20 yd",
                "mila",
                "gates",
                "behind",
                "[[athletes]]",
                "sled",
                "\ud7ff",
                "ß",
                "1_000",
                "0x10",
            ),
        ]
    ),
)
CUTS = st.lists(st.tuples(st.floats(0, 1), st.integers(0, 12), SNIPPETS), min_size=1, max_size=4)
VALUES = st.recursive(
    st.one_of(
        st.none(),
        st.booleans(),
        st.integers(),
        st.floats(),
        st.text(max_size=8),
        st.sampled_from(["2026-01-12", "hall", "18:00"]),
    ),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3), st.dictionaries(st.text(max_size=5), inner, max_size=3)
    ),
    max_leaves=5,
)


def mutated(text: str, cuts: list[tuple[float, int, str]]) -> str:
    """Replace pieces of a text by others."""
    for share, length, snippet in cuts:
        at = int(share * len(text))
        text = text[:at] + snippet + text[at + length :]
    return text


def expect_words(read: Callable[[Path], object], name: str, content: bytes) -> None:
    """Read a file; whatever is wrong with it has to be said in words that name the file."""
    with TemporaryDirectory() as folder:
        path = Path(folder, name)
        Path(folder, "squad_tests.csv").write_text(TESTS, encoding="utf-8")
        path.write_bytes(content)
        before = sorted(Path(folder).iterdir())
        faults = _faults(read, path)
        assert sorted(Path(folder).iterdir()) == before
    assert faults is None or faults
    assert all(fault.expected and fault.file and "\n" not in str(fault) for fault in faults or ())


def _faults(read: Callable[[Path], object], path: Path) -> tuple[Fault, ...] | None:
    """Give the faults a reader finds, or None where it reads."""
    try:
        read(path)
    except UnusableFileError as error:
        return error.faults
    return None


@given(cuts=CUTS)
@settings(max_examples=150)
def test_a_spoilt_tests_file(cuts: list[tuple[float, int, str]]) -> None:
    def read(path: Path) -> str:
        return profiles_json(profile_file(path)[0])

    expect_words(read, "tests.csv", mutated(TESTS, cuts).encode("utf-8", "surrogatepass"))


@given(cuts=CUTS)
@settings(max_examples=150)
def test_a_spoilt_brief(cuts: list[tuple[float, int, str]]) -> None:
    expect_words(read_brief, "brief.toml", mutated(BRIEF, cuts).encode("utf-8", "surrogatepass"))


@given(cuts=CUTS)
@settings(max_examples=100)
def test_a_spoilt_programme(cuts: list[tuple[float, int, str]]) -> None:
    def read(path: Path) -> str:
        return canonical(read_programme(path))

    expect_words(read, "programme.json", mutated(PROGRAMME, cuts).encode("utf-8", "surrogatepass"))


@given(cuts=CUTS)
@settings(max_examples=100)
def test_a_spoilt_log(cuts: list[tuple[float, int, str]]) -> None:
    expect_words(read_log, "log.json", mutated(LOG, cuts).encode("utf-8", "surrogatepass"))


@given(content=st.binary(max_size=300), suffix=st.sampled_from([".toml", ".csv", ".json"]))
@settings(max_examples=100)
def test_any_bytes(content: bytes, suffix: str) -> None:
    reader = {".toml": read_brief, ".csv": profile_file, ".json": read_programme}[suffix]
    expect_words(reader, f"any{suffix}", content)


@given(value=VALUES, choice=st.floats(0, 0.999))
@settings(max_examples=200)
def test_any_value_at_any_place_of_a_brief(value: object, choice: float) -> None:
    with TemporaryDirectory() as folder:
        Path(folder, "squad_tests.csv").write_text(TESTS, encoding="utf-8")
        Path(folder, "brief.toml").write_text(BRIEF, encoding="utf-8")
        content = json.loads(read_brief(Path(folder, "brief.toml"))[0].model_dump_json(by_alias=True))
    places = list(_places(content))
    holder, key = places[int(choice * len(places))]
    holder[key] = value
    expect_words(read_brief, "brief.json", json.dumps(content).encode())


def _places(value: object) -> list[tuple[dict[str, object] | list[object], str | int]]:
    """List every place of a document, so that a value can be put there."""
    items: list[tuple[str | int, object]] = []
    if isinstance(value, dict):
        items = list(value.items())
    elif isinstance(value, list):
        items = list(enumerate(value))
    return [(value, key) for key, _ in items] + [place for _, inner in items for place in _places(inner)]


@given(
    times=st.lists(st.floats(0.0, 60.0), min_size=1, max_size=6),
    clock=st.sampled_from(["movement", "unknown", "behind", "gun"]),
    reaction=st.sampled_from(["", "0.15"]),
)
@settings(max_examples=150)
def test_any_times_give_a_profile_or_a_refused_trial(times: list[float], clock: str, reaction: str) -> None:
    gates = [f"{10 * gate} m" for gate in range(1, len(times) + 1)]
    header = ",".join(["athlete", "date", "trial", "timing", "clock", "behind_m", "reaction_s", *gates])
    row = ["mila", "2026-01-08", "1", "gates", clock, "0.5", reaction, *(f"{time:.3f}" for time in times)]
    with TemporaryDirectory() as folder:
        path = Path(folder, "tests.csv")
        path.write_text(f"{header}\n{','.join(row)}\n", encoding="utf-8")
        (profile,), refused = profile_file(path)
    assert (profile.vmax_mps is None) == bool(refused)
    if profile.vmax_mps:
        assert profile.vmax_mps.low <= profile.vmax_mps.value <= profile.vmax_mps.high
        assert len(profile.splits) == len(times)


@pytest.mark.parametrize("reader", [read_brief, profile_file, read_programme, read_log])
def test_a_folder_is_no_file(reader: Callable[[Path], object], tmp_path: Path) -> None:
    with pytest.raises(UnusableFileError):
        reader(tmp_path)

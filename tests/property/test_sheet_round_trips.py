"""Programme → file → programme is equal, whatever the names, units and numbers.

Must show: round trips: programme → XLSX → programme equal.
"""

from __future__ import annotations

import json
from datetime import UTC, datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from small_programme import document
from speedloom.exchange.csv_file import lines_csv
from speedloom.exchange.documents import canonical
from speedloom.exchange.formula_guard import guarded, unguarded
from speedloom.exchange.hand_made import Frame, read_hand_made
from speedloom.exchange.lines_back import read_lines_back
from speedloom.exchange.workbook import WorkbookOrder, workbook
from speedloom.training.exercise import load_catalogue
from speedloom.training.programme import Programme
from speedloom.training.rule import load_rulebook
from speedloom.wording.units import Units

CATALOGUE, RULEBOOK = load_catalogue(), load_rulebook()
STAMP = datetime(2026, 1, 5, tzinfo=UTC)
UNITS = st.builds(Units, mass=st.sampled_from(["kg", "lb"]), length=st.sampled_from(["m", "yd"]))
AWKWARD = st.text(st.sampled_from("=+-@'\t\r\n;,\"#é★ _x0041_a1.:/\\"), max_size=12)
WORDS = st.one_of(AWKWARD, st.text(max_size=20))
PLAIN = st.text(st.sampled_from("abc Zé★,;'=-1"), min_size=1, max_size=12).map(
    lambda text: " ".join(f"b{text}b".split())
)
HUNDREDTHS = st.integers(0, 40_000).map(lambda number: number / 100)
SHARES = st.integers(0, 1000).map(lambda number: number / 1000)
LOCKS = st.lists(st.sampled_from(["load_kg", "sets", "expect.time_s"]), max_size=2, unique=True)


def maybe(values: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.one_of(st.none(), values)


STOPS = st.fixed_dictionaries({"kind": st.just("time_drop"), "value": maybe(SHARES)})


@st.composite
def programmes(draw: st.DrawFn, words: st.SearchStrategy[str] = WORDS) -> Programme:
    """Change the fields of a few lines of the small programme to anything they may hold."""
    content = document()
    sessions = [session for week in content["programmes"][0]["weeks"] for session in week["sessions"]]
    for session in draw(st.lists(st.sampled_from(sessions), max_size=3)):
        session["locked"] = draw(st.booleans())
        session["minutes"] = draw(st.integers(0, 300)) / 2
        for line in draw(st.lists(st.sampled_from(session["prescriptions"]), max_size=3)):
            line.update(
                cue=draw(words), surface=draw(maybe(words)), load_kg=draw(maybe(HUNDREDTHS)),
                distance_m=draw(maybe(HUNDREDTHS)), run_in_m=draw(maybe(HUNDREDTHS)),
                added_kg=draw(maybe(HUNDREDTHS)), share_1rm=draw(maybe(SHARES)), effort=draw(maybe(SHARES)),
                grade=draw(maybe(SHARES.map(lambda share: -share))), hold_s=draw(maybe(st.integers(0, 300))),
                side=draw(st.sampled_from(["both", "each", "left"])), stop_rule=draw(maybe(STOPS)),
                locked=draw(LOCKS),
            )  # fmt: skip
    if draw(st.booleans()):
        sessions[0]["prescriptions"] = []
    return Programme.model_validate_json(json.dumps(content))


def as_xlsx(programme: Programme, units: Units) -> bytes:
    return workbook(programme, WorkbookOrder(units=units), catalogue=CATALOGUE, stamp=STAMP)


def put(folder: str, name: str, content: bytes) -> Path:
    path = Path(folder) / name
    path.write_bytes(content)
    return path


@settings(max_examples=60, derandomize=True, deadline=None)
@given(programmes(), UNITS)
def test_a_workbook_read_back_is_the_programme(programme: Programme, units: Units) -> None:
    with TemporaryDirectory() as folder:
        path = put(folder, "a.xlsx", as_xlsx(programme, units))
        assert canonical(read_lines_back(path, programme, catalogue=CATALOGUE)) == canonical(programme)


@settings(max_examples=60, derandomize=True, deadline=None)
@given(programmes(), UNITS)
def test_a_table_read_back_is_the_programme(programme: Programme, units: Units) -> None:
    with TemporaryDirectory() as folder:
        path = put(folder, "a.csv", lines_csv(programme, units=units))
        assert canonical(read_lines_back(path, programme, catalogue=CATALOGUE)) == canonical(programme)


def bare(programme: Programme) -> list[dict[str, Any]]:
    """Give what a table of lines holds: everything but derivations and volumes."""
    content = json.loads(canonical(programme))
    for own in content["programmes"]:
        for week in own["weeks"]:
            week.update(basis={}, volumes={})
            for session in week["sessions"]:
                session["basis"] = {}
                for line in session["prescriptions"]:
                    line["basis"] = {}
    return [own["weeks"] for own in content["programmes"]]


@settings(max_examples=40, derandomize=True, deadline=None)
@given(programmes(words=PLAIN), UNITS, st.sampled_from(["a.xlsx", "a.csv"]))
def test_without_the_original_it_is_a_programme_by_hand_with_the_same_lines(
    programme: Programme, units: Units, name: str
) -> None:
    with TemporaryDirectory() as folder:
        content = as_xlsx(programme, units) if name == "a.xlsx" else lines_csv(programme, units=units)
        path = put(folder, name, content)
        read = read_hand_made(path, rulebook=RULEBOOK, catalogue=CATALOGUE, frame=Frame("Europe/Amsterdam"))
    assert bare(read) == bare(programme)
    assert read.basis == {}


@settings(max_examples=200, derandomize=True, deadline=None)
@given(WORDS)
def test_the_guard_is_taken_away_again_and_leaves_no_formula(text: str) -> None:
    assert unguarded(guarded(text)) == text
    assert guarded(text)[:1] not in set("=+-@\t\r\n")

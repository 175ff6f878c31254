"""A log written as CSV and read back is the same log."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from log_entries import entry, key, log_of, result
from small_programme import small_programme
from speedloom.exchange.filled_weeks import Writing
from speedloom.exchange.log_csv import as_typed, log_csv, one_line
from speedloom.exchange.log_table import read_log_csv
from speedloom.training.document import canonical
from speedloom.training.log import Log

PROGRAMME = small_programme()
TEXT = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
REFS = st.from_regex(r"[a-z0-9_-]{1,8}", fullmatch=True)


def maybe(values: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.none() | values


def number(most: float, decimals: int) -> st.SearchStrategy[float]:
    return st.floats(0.01, most).map(lambda value: round(value, decimals))


RESULTS = st.builds(
    result,
    set=st.integers(1, 9), rep=maybe(st.integers(1, 9)), load_kg=maybe(number(900, 2)),
    distance_m=maybe(number(400, 2)), time_s=maybe(number(500, 3)), reps=maybe(st.integers(0, 200)),
    rir=maybe(st.integers(0, 20)), contacts=maybe(st.integers(0, 2000)),
    mark=st.sampled_from([None, "unusual"]),
)  # fmt: skip
FIELDS = st.fixed_dictionaries({
    "at": st.datetimes().map(lambda at: at.isoformat() + "+01:00"), "by": TEXT.filter(bool),
    "revision": st.integers(1, 99), "athlete": REFS, "session": maybe(REFS), "line": maybe(REFS),
    "date": st.dates().map(str), "exercise": maybe(REFS), "replaces": maybe(st.integers(0, 9).map(key)),
    "status": st.sampled_from(["done", "modified", "skipped", "stopped", "absent", "extra"]),
    "reason": st.sampled_from([None, "pain", "weather"]), "timing": st.sampled_from([None, "gates", "hand"]),
    "clock": st.sampled_from([None, "movement", "behind"]), "behind_m": maybe(number(5, 2)),
    "surface": maybe(TEXT.filter(bool)), "results": st.lists(RESULTS, max_size=4),
    "effort": maybe(st.floats(0, 10).map(lambda value: round(value, 6))), "minutes": maybe(number(900, 4)),
    "note": TEXT, "mark": st.sampled_from([None, "unusual"]),
})  # fmt: skip


def back(log: Log) -> Log:
    with TemporaryDirectory() as folder:
        path = Path(folder) / "log.csv"
        path.write_bytes(log_csv(log))
        return read_log_csv(path, PROGRAMME, writing=Writing(by="nobody"))[0]


@given(st.lists(FIELDS, max_size=4))
def test_there_and_back(fields: list[dict[str, Any]]) -> None:
    log = log_of(*(entry(number, **one) for number, one in enumerate(fields)))
    assert canonical(back(log)) == canonical(log)


@given(TEXT)
def test_any_text_stands_on_one_line(text: str) -> None:
    line = one_line(text)
    assert line.splitlines() == ([line] if line else [])
    assert line.strip() == line
    assert as_typed(line) == text

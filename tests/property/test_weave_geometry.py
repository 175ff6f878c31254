"""The weave's geometry for any programme: nothing overlaps, and thickness says volume."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from speedloom.report.charts.weave import METHOD_KEYS, Mesocycle, Pin, Thread, WeaveData, WeekColumn, Word
from speedloom.report.charts.weave_geometry import Geometry, Measure

SHARES = st.floats(0.0, 1.0)
LABELS = st.sampled_from(("Match", "Test", "Spring tournament", "Exam week", "Half-term"))
TEXTS = st.sampled_from(("20–30 m · run-in + 20 m", "8 reps", "alternate bound, hurdle hop with stop"))


@st.composite
def geometries(draw: st.DrawFn) -> Geometry:
    weeks = draw(st.integers(1, 20))
    thickness = st.lists(SHARES, min_size=weeks, max_size=weeks).map(tuple)
    done = st.lists(st.none() | st.floats(0.0, 1.5), max_size=weeks).map(tuple)
    cut = draw(st.integers(0, weeks - 1))
    spans = [(0, cut)] + ([(cut + 1, weeks - 1)] if cut + 1 < weeks else [])
    threads = tuple(
        Thread(
            key,
            key,
            draw(thickness),
            words=tuple(Word(first, last, (draw(TEXTS), "8")) for first, last in spans),
            done=draw(done),
        )
        for key in METHOD_KEYS
    )
    pins = st.builds(Pin, at=st.floats(0.0, weeks - 0.01), label=LABELS, peak=st.booleans())
    data = WeaveData(
        "any",
        tuple(WeekColumn(number, 0.5) for number in range(1, weeks + 1)),
        threads,
        mesocycles=tuple(Mesocycle(first, last, ("Mesocycle 1 · general", "1")) for first, last in spans),
        pins=tuple(draw(st.lists(pins, max_size=12))),
    )
    return Geometry(data, Measure(stretch=draw(st.sampled_from((1.0, 1.25)))))


@given(geometries())
def test_threads_never_overlap(weave: Geometry) -> None:
    step = weave.column / 4.0
    for (lane, upper), (_, lower) in pairwise(enumerate(weave.data.threads)):
        for place in range(4 * len(weave.data.weeks) + 1):
            x = weave.measure.left + place * step
            bottom = weave.axis(lane) + weave.half_at(upper.thickness, x)
            top = weave.axis(lane + 1) - weave.half_at(lower.thickness, x)
            assert bottom < top


@given(SHARES, SHARES)
def test_more_volume_is_thicker(one: float, other: float) -> None:
    weave = Geometry(WeaveData("", (WeekColumn(1, 0.0),), ()), Measure())
    less, more = sorted((one, other))
    assert 0.0 < weave.half(less) <= weave.half(more)
    assert (weave.half(more) - weave.half(less)) * 2.0 == pytest.approx((more - less) * 34.6)


@given(geometries())
def test_a_week_is_as_thick_as_its_own_share(weave: Geometry) -> None:
    for thread in weave.data.threads:
        for week, share in enumerate(thread.thickness):
            assert weave.half_at(thread.thickness, weave.middle(week)) == pytest.approx(weave.half(share))


@given(geometries(), st.floats(0.0, 1.0))
def test_between_two_weeks_a_thread_stays_between_them(weave: Geometry, part: float) -> None:
    for thread in weave.data.threads:
        for week, (one, other) in enumerate(pairwise(thread.thickness)):
            half = weave.half_at(thread.thickness, weave.middle(week) + part * weave.column)
            least, most = sorted((weave.half(one), weave.half(other)))
            assert least - 1e-9 <= half <= most + 1e-9


@given(geometries())
def test_words_lie_on_their_thread_and_apart(weave: Geometry) -> None:
    for lane, thread in enumerate(weave.data.threads):
        words = sorted(weave.words(lane), key=lambda word: word.x)
        for word in words:
            start, end = word.x - word.width / 2.0, word.x + word.width / 2.0
            assert weave.measure.left <= start <= end <= weave.measure.width
            for place in range(11):
                half = weave.half_at(thread.thickness, start + (end - start) * place / 10.0)
                assert half >= weave.measure.text * 0.6
        for one, other in pairwise(words):
            assert one.x + one.width / 2.0 < other.x - other.width / 2.0


@given(geometries())
def test_captions_stay_in_their_mesocycle(weave: Geometry) -> None:
    for cycle, caption in zip(weave.data.mesocycles, weave.captions(), strict=True):
        if caption is not None:
            assert weave.edge(cycle.first) < caption.x - caption.width / 2.0
            assert caption.x + caption.width / 2.0 < weave.edge(cycle.last + 1)


@given(geometries())
def test_labels_of_events_never_overlap(weave: Geometry) -> None:
    labels = [placed.label for placed in weave.pins() if placed.label is not None]
    boxes = sorted((label.y, label.x - label.width / 2.0, label.x + label.width / 2.0) for label in labels)
    for (row, _, end), (next_row, start, _) in pairwise(boxes):
        assert row != next_row or end <= start
    assert all(start >= 0.0 and end <= weave.measure.width for _, start, end in boxes)
    assert len(weave.pins()) == len(weave.data.pins)


@given(geometries())
def test_a_lone_peak_keeps_its_label(weave: Geometry) -> None:
    peaks = [placed for placed in weave.pins() if placed.pin.peak]
    if len(peaks) == 1 and len(weave.data.pins) == 1:
        assert peaks[0].label is not None

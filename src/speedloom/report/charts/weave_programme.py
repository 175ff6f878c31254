"""From a programme to the plain numbers of its weave."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from speedloom.report.charts.weave import Mesocycle, Pin, Thread, WeaveData, WeekColumn, Word
from speedloom.report.charts.weave_words import thread_words
from speedloom.training.calendar import Event
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import AthleteProgramme, Prescription, Programme, Week
from speedloom.wording.dates import full_date
from speedloom.wording.names import WEEK_NAMES, athlete_name
from speedloom.wording.table import SHADES
from speedloom.wording.table_text import NOTES

_THREADS: Mapping[str, tuple[str, tuple[str, ...]]] = {
    "sprint": ("Sprint", ("acceleration", "top_speed", "submaximal")),
    "resisted": ("Resisted sprint", ("resisted_sprint",)),
    "plyometric": ("Plyometric", ("plyometric",)),
    "power": ("Power", ("power",)),
    "maximal": ("Maximal strength", ("maximal_strength",)),
    "general": ("General strength", ("general_strength", "hamstring_groin_calf")),
}
"""A thread's key → its label and the volumes that are its thickness."""
_METHODS: Mapping[str, str] = {
    "sprint": "unloaded_sprint",
    "resisted": "resisted_sprint",
    "plyometric": "plyometric",
    "power": "power",
    "maximal": "maximal_strength",
    "general": "general_strength",
}
_EVENT_NAMES: Mapping[str, str] = {
    "match": "Match",
    "competition": "Competition",
    "test": "Test",
    "exam": "Exam",
    "travel": "Travel",
    "holiday": "Holiday",
    "other": "",
}
_NAMED = frozenset({"competition", "other", "holiday"})
"""Events whose own title says more than their kind."""
Volumes = Mapping[str, Sequence[float | None]]


def weave_from_programme(
    programme: Programme,
    athlete: str,
    *,
    catalogue: Catalogue,
    this_week: int | None = None,
    done: Volumes | None = None,
) -> WeaveData:
    """Give one athlete's weave; `done` holds what was done a week, by the names of a week's volumes.

    Raises:
        KeyError: when the programme has no such athlete.
    """
    own = next((found for found in programme.programmes if found.athlete == athlete), None)
    if own is None:
        raise KeyError(athlete)
    cycles = _mesocycles(own)
    threads = tuple(_thread(key, own, cycles, catalogue=catalogue, done=done or {}) for key in _THREADS)
    used = tuple(thread for thread in threads if any(thread.thickness))
    return WeaveData(
        title=f"{athlete_name(programme, athlete)}: the programme week by week",
        weeks=tuple(_column(week) for week in own.weeks),
        threads=used or threads,
        mesocycles=cycles,
        pins=tuple(_pins(programme, own)),
        this_week=this_week,
        summary=_summary(own, used),
    )


def _column(week: Week) -> WeekColumn:
    pattern = "striped" if week.kind == "break" else SHADES.get(week.kind, "")
    note = WEEK_NAMES[week.kind]
    return WeekColumn(
        week.number, week.specificity, note=note, short_note=NOTES.get(note, ""), pattern=pattern
    )


def _mesocycles(own: AthleteProgramme) -> tuple[Mesocycle, ...]:
    places: dict[int, list[int]] = {}
    for place, week in enumerate(own.weeks):
        if week.mesocycle is not None:
            places.setdefault(week.mesocycle, []).append(place)
    return tuple(
        Mesocycle(
            min(own_places), max(own_places), _captions(cycle, [own.weeks[place] for place in own_places])
        )
        for cycle, own_places in places.items()
    )


def _captions(cycle: int, weeks: Sequence[Week]) -> tuple[str, ...]:
    mean = sum(week.specificity for week in weeks) / len(weeks)
    kind = "general" if mean < 1.0 / 3.0 else "mixed" if mean < 2.0 / 3.0 else "specific"
    return (f"Mesocycle {cycle} · {kind}", f"{cycle} · {kind}", str(cycle))


def _thread(
    key: str, own: AthleteProgramme, cycles: Sequence[Mesocycle], *, catalogue: Catalogue, done: Volumes
) -> Thread:
    label, volumes = _THREADS[key]
    planned = [
        sum(week.volumes[name].planned for name in volumes if name in week.volumes) for week in own.weeks
    ]
    largest = max(planned, default=0.0) or 1.0
    return Thread(
        key,
        label,
        thickness=tuple(value / largest for value in planned),
        words=tuple(_words(key, own, cycles, catalogue=catalogue)),
        done=_done(volumes, done, len(own.weeks), largest),
    )


def _done(volumes: Sequence[str], done: Volumes, weeks: int, largest: float) -> tuple[float | None, ...]:
    kept = [done[name] for name in volumes if name in done]
    if not kept:
        return ()
    sums: list[float | None] = []
    for place in range(weeks):
        values = [week[place] for week in kept if place < len(week)]
        known = [value for value in values if value is not None]
        sums.append(sum(known) / largest if known else None)
    return tuple(sums)


def _words(
    key: str, own: AthleteProgramme, cycles: Sequence[Mesocycle], *, catalogue: Catalogue
) -> Iterator[Word]:
    spans = [(cycle.first, cycle.last) for cycle in cycles] or [(0, len(own.weeks) - 1)]
    for first, last in spans:
        weeks = own.weeks[first : last + 1]
        plain = [week for week in weeks if week.kind in {"loading", "in_season"}]
        lines = [line for week in plain or weeks for line in _lines(week, _METHODS[key])]
        texts = thread_words(key, lines, catalogue=catalogue)
        if texts:
            yield Word(first, last, texts)


def _lines(week: Week, method: str) -> Iterator[Prescription]:
    for session in week.sessions:
        yield from (
            line for line in session.prescriptions if line.purpose == "work" and line.method == method
        )


def _pins(programme: Programme, own: AthleteProgramme) -> Iterator[Pin]:
    content = programme.brief.content
    if content is None or not own.weeks:
        return
    first, weeks = own.weeks[0].monday, len(own.weeks)
    peaks = {peak.date for peak in content.goal.peaks}
    for event in content.events:
        at = ((event.date - first).days + 0.5) / 7.0
        if 0 <= at < weeks:
            yield Pin(at, _label(event), peak=event.date in peaks)
    for day in sorted(peaks - {event.date for event in content.events}):
        at = ((day - first).days + 0.5) / 7.0
        if 0 <= at < weeks:
            yield Pin(at, "Peak", peak=True)


def _label(event: Event) -> str:
    own = event.title if event.kind in _NAMED and event.title else ""
    return own or _EVENT_NAMES[event.kind] or "Event"


def _summary(own: AthleteProgramme, threads: Sequence[Thread]) -> str:
    """Say the picture in words, for those who do not see it."""
    lighter = [str(week.number) for week in own.weeks if week.kind == "deload"]
    parts = [f"{len(own.weeks)} weeks from {full_date(own.weeks[0].monday)}."]
    if lighter:
        parts.append(f"Lighter weeks: {', '.join(lighter)}.")
    for thread in threads:
        words = "; ".join(
            f"weeks {word.first + 1} to {word.last + 1} {word.texts[0]}" for word in thread.words
        )
        most = max(range(len(thread.thickness)), key=lambda place: thread.thickness[place])
        parts.append(f"{thread.label}: most in week {own.weeks[most].number}{'; ' + words if words else ''}.")
    return " ".join(parts)

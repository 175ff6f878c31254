"""Athletes of a brief and of its tests: who is missing where."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

from speedloom.exchange.brief_content import Content
from speedloom.exchange.fault import UnusableFileError, listed, nearest
from speedloom.exchange.sheet_file import SHEET_FILES
from speedloom.exchange.tests_file import read_tests
from speedloom.training.measurement import Measurements

# Below this difference two weighings say the same [kg].
_SAME_MASS_KG = 1.0


def _tables(folder: Path) -> list[str]:
    return sorted(one.name for one in folder.iterdir() if one.suffix.lower() in {".csv", *SHEET_FILES})


def read_all_tests(brief: Content, folder: Path) -> Measurements:
    """Read the tests a brief names, beside it; what is wrong with them is added to its faults."""
    every = []
    for path, name in brief.values("tests"):
        if not isinstance(name, str):
            continue
        if not _beside(folder, name):
            near = nearest(Path(name).name, _tables(folder))
            todo = f'did you mean "{near}"?' if near else "put it beside the brief"
            brief.fault(path, "a tests file beside the brief", todo)
            continue
        try:
            every.append(read_tests(folder / name))
        except UnusableFileError as error:
            brief.faults.extend(error.faults)
    return Measurements(
        trials=tuple(one for part in every for one in part.trials),
        jumps=tuple(one for part in every for one in part.jumps),
        lifts=tuple(one for part in every for one in part.lifts),
        traces=tuple(one for part in every for one in part.traces),
    )


def _beside(folder: Path, name: str) -> bool:
    """Say whether a tests file lies beside the brief or in a folder below: a brief opens no other files.

    A brief travels between people, and what is wrong with a file is said in its own words.
    """
    if Path(name).is_absolute() or ".." in Path(name).parts:
        return False
    with suppress(OSError, ValueError):  # a name too long, or with a sign no name may have
        return (folder / name).is_file()
    return False


def check_people(brief: Content, measurements: Measurements) -> None:
    """Compare the athletes of the brief with those of its tests."""
    tested = tested_athletes(measurements)
    named = brief.refs("athletes")
    if not named and not tested and not brief.faults:
        brief.fault(("athletes",), "somebody to plan for", "add [[athletes]] or a tests file", came="nobody")
    for path, item in brief.tables("athletes"):
        ref = item.get("ref")
        if isinstance(ref, str) and ref not in tested:
            _untested(brief, (*path, "ref"), ref, [one for one in tested if one not in named])
    if named and (left := [one for one in tested if one not in named]):
        brief.note(("tests",), f"not among the athletes of the brief, left out: {listed(left)}")
    _masses(brief, measurements)
    _repeated_trials(brief, measurements)


def tested_athletes(measurements: Measurements) -> tuple[str, ...]:
    """List everybody in the tests, in order."""
    lists = (measurements.trials, measurements.jumps, measurements.lifts, measurements.traces)
    return tuple(sorted({one.athlete for those in lists for one in those if one.athlete}))


def _untested(brief: Content, path: tuple[int | str, ...], ref: str, others: list[str]) -> None:
    near = nearest(ref, others)
    if near:
        todo = f'did you mean "{near}"? the two have to be equal'
        brief.fault(path, "an athlete of the tests", todo)
    else:
        brief.note(path, "no tests: runs are prescribed by effort and by usual values")


def _masses(brief: Content, measurements: Measurements) -> None:
    for path, item in brief.tables("athletes"):
        mass = item.get("mass_kg")
        weighed = [one for one in measurements.trials if one.athlete == item.get("ref") and one.mass_kg]
        if isinstance(mass, int | float) and weighed:
            last = max(weighed, key=lambda one: one.date).mass_kg
            if last is not None and abs(last - mass) >= _SAME_MASS_KG:
                brief.note(
                    (*path, "mass_kg"), f"{mass:g} kg here and {last:g} kg in the tests: {mass:g} kg holds"
                )


def _repeated_trials(brief: Content, measurements: Measurements) -> None:
    keys = [(one.session, one.trial) for one in measurements.trials]
    twice = sorted({key for key in keys if keys.count(key) > 1}) if len(set(keys)) < len(keys) else []
    for session, trial in twice:
        came = f"trial {trial} of {session} in two files"
        brief.fault(("tests",), "each trial once", "leave one of the files out", came=came)

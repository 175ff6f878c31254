"""Every example: right exit code, sound, makeable in the room, the same every time."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from functools import cache
from itertools import product
from pathlib import Path

import pytest

from briefs import EXAMPLES, lines_of, outcome, planned, resolved
from house import ROOT, shown
from speedloom.exchange.documents import canonical
from speedloom.planning.clash import Clash
from speedloom.training.brief import Brief
from speedloom.training.exercise import load_catalogue
from speedloom.training.kit import Kit
from speedloom.training.measurement import Measurements
from speedloom.training.programme import Programme
from speedloom.training.rule import load_rulebook
from speedloom.wording.clashes import clash_text
from speedloom.workflows.check_programme import check_programme

IMPOSSIBLE = EXAMPLES / "impossible.toml"
POSSIBLE = [path for path in sorted(EXAMPLES.glob("*.toml")) if path != IMPOSSIBLE]
FILES = [*sorted(EXAMPLES.glob("*.toml")), *sorted(EXAMPLES.glob("*.csv"))]
IN_PAIRS = ("barbell", "trap_bar")
each_example = pytest.mark.parametrize("path", POSSIBLE, ids=lambda path: path.stem)


def command(path: Path, output: Path, *, hash_seed: str = "0") -> subprocess.CompletedProcess[str]:
    arguments = [sys.executable, "-m", "speedloom", "plan", str(path), "-o", str(output)]
    environment = {**os.environ, "PYTHONHASHSEED": hash_seed}
    return subprocess.run(
        arguments, cwd=ROOT, env=environment, capture_output=True, text=True, check=False, timeout=120
    )


@cache
def findings(path: Path) -> tuple[tuple[str, str], ...]:
    programme = planned(path)
    brief = programme.brief.content
    assert brief is not None
    rulebook = load_rulebook().with_changes(brief.rules)
    found = check_programme(programme, brief=brief, rulebook=rulebook, catalogue=load_catalogue())
    return tuple((finding.weight, finding.rule) for finding in found)


def test_the_examples_are_these() -> None:
    assert {path.stem for path in [*POSSIBLE, IMPOSSIBLE]} == {
        "spring_build",
        "summer_base",
        "short_block",
        "impossible",
        "few_tests",
        "hall_30_m",
        "in_season",
        "no_gym",
        "restricted",
        "season_52_weeks",
        "track_sprinter",
        "youth_14",
    }


@pytest.mark.parametrize("path", FILES, ids=shown)
def test_every_file_says_at_once_that_it_is_invented(path: Path) -> None:
    first = path.read_text(encoding="utf-8").splitlines()[0]
    assert first.startswith("#")
    assert "nvented" in first


@each_example
def test_no_finding_is_hard(path: Path) -> None:
    assert [rule for weight, rule in findings(path) if weight == "hard"] == []


@each_example
def test_at_most_three_warnings_are_kept_and_each_is_explained(path: Path) -> None:
    kept = [rule for weight, rule in findings(path) if weight == "warning"]
    assert len(kept) <= 3
    comments = "\n".join(line for line in path.read_text(encoding="utf-8").splitlines() if "#" in line)
    explained = set(re.findall(r"Kept warning `(\w+)`", comments))
    assert set(kept) == explained


@cache
def makeable(kit: Kit) -> frozenset[int]:
    """Enumerate what a piece of kit can weigh [g], plate by plate, by no code of the planner."""
    if kit.weights_kg:
        return frozenset(round(1000 * mass) for mass, _ in kit.weights_kg)
    together = 2 if kit.kind in IN_PAIRS else 1
    choices = [
        [used * together * round(1000 * mass) for used in range(pieces // together + 1)]
        for mass, pieces in kit.plates_kg
    ]
    return frozenset(round(1000 * (kit.empty_kg or 0)) + sum(plates) for plates in product(*choices))


@each_example
def test_no_line_of_standing_runs_holds_a_single_run(path: Path) -> None:
    # Common practice: a start is repeated, or not set up at all.
    lone = [
        f"{own.athlete}, week {week.number}, {line.ref}"
        for own in planned(path).programmes
        for week in own.weeks
        for _, line in lines_of(week, run="acceleration")
        if line.reps == 1
    ]
    assert lone == []


@each_example
def test_every_load_can_be_made_from_the_plates_in_the_room(path: Path) -> None:
    programme = planned(path)
    assert programme.brief.content is not None
    kit = {item.ref: item for item in programme.brief.content.kit}
    loads = 0
    for own in programme.programmes:
        for week in own.weeks:
            for session in week.sessions:
                for line in session.prescriptions:
                    if line.load_kg and line.purpose == "work":
                        assert line.kit is not None, line.ref
                        assert kit[line.kit].place == session.place, line.ref
                        assert round(1000 * line.load_kg) in makeable(kit[line.kit]), line.ref
                        loads += 1
    assert loads > 10 or not any(item.empty_kg for item in kit.values())


def reversed_athletes(brief: Brief, measurements: Measurements) -> tuple[Brief, Measurements]:
    return brief.model_copy(update={"athletes": brief.athletes[::-1]}), measurements


@each_example
def test_the_order_of_athletes_changes_no_byte(path: Path) -> None:
    other = outcome(resolved(path, change=reversed_athletes))
    assert isinstance(other, Programme)
    assert canonical(other) == canonical(planned(path))


@each_example
def test_the_command_writes_the_same_bytes_whatever_the_hash_seed(path: Path, tmp_path: Path) -> None:
    outputs = [tmp_path / f"{seed}.json" for seed in ("0", "1")]
    for seed, output in zip(("0", "1"), outputs, strict=True):
        done = command(path, output, hash_seed=seed)
        assert done.returncode == 0, done.stderr
        assert "Traceback" not in done.stderr
    first, second = (output.read_bytes() for output in outputs)
    assert first == second
    assert first.decode() == canonical(planned(path))


def test_the_impossible_example_exits_3_and_writes_nothing(tmp_path: Path) -> None:
    output = tmp_path / "programme.json"
    done = command(IMPOSSIBLE, output)
    assert done.returncode == 3
    assert not output.exists()
    assert "Traceback" not in done.stderr


def test_the_impossible_example_names_clash_and_repair_in_two_sentences_with_dates() -> None:
    brief = resolved(IMPOSSIBLE)
    clash = outcome(brief)
    assert isinstance(clash, Clash)
    said = clash_text(clash, brief=brief)
    assert len(re.findall(r"[.!?](?:\s|$)", said)) <= 2
    assert "16 Apr 2026" in said
    assert "14 May 2026" in said
    for part in ("warm-up", "top-speed runs", "36 minutes", "lengthen"):
        assert part in said


def lengthened(brief: Brief, measurements: Measurements) -> tuple[Brief, Measurements]:
    slots = tuple(
        slot.model_copy(update={"minutes": slot.minutes + 10}) if slot.ref == "thu_lunch" else slot
        for slot in brief.slots
    )
    return brief.model_copy(update={"slots": slots}), measurements


def test_the_repair_that_it_names_is_enough() -> None:
    clash = outcome(resolved(IMPOSSIBLE))
    assert isinstance(clash, Clash)
    assert dict(clash.repair.facts) == {"slot": "thu_lunch", "minutes": 10}
    assert isinstance(outcome(resolved(IMPOSSIBLE, change=lengthened)), Programme)

"""What is said about a brief: faults with places, and notes that stop nothing."""

from __future__ import annotations

from pathlib import Path

import pytest

from house import ROOT
from speedloom.exchange.brief_file import read_brief, read_brief_with_notes
from speedloom.exchange.fault import Fault, UnusableFileError

DATA = ROOT / "tests" / "unit" / "training" / "data"
BRIEF = (DATA / "brief.toml").read_text(encoding="utf-8")
TESTS = (DATA / "squad_tests.csv").read_text(encoding="utf-8")


def write(folder: Path, text: str, *, tests: str = TESTS) -> Path:
    (folder / "squad_tests.csv").write_text(tests, encoding="utf-8")
    path = folder / "brief.toml"
    path.write_text(text, encoding="utf-8")
    return path


def faults(folder: Path, text: str, *, tests: str = TESTS) -> tuple[Fault, ...]:
    with pytest.raises(UnusableFileError) as caught:
        read_brief(write(folder, text, tests=tests))
    return caught.value.faults


@pytest.mark.parametrize(
    ("old", "new", "column", "words"),
    [
        ('slots]]\nref = "wed_gym"', 'slots]]\nref = "mon_hall"', "slots.mon_hall.ref", "each ref once"),
        ('ref = "mila"', 'ref = "milla"', "athletes.milla.ref", 'did you mean "mila"?'),
        ("until = 2026-03-01", "until = 2026-02-01", "events.2", "on or after"),
        ("until = 2026-03-11", "until = 2026-03-01", "athletes.mila.away.1.until", "on or after"),
        ("born = 2004-05-02", "born = 2026-05-02", "athletes.mila.born", "before the start"),
        ("value = 72", "value = -72", "rules.1.value", "not negative"),
        ('reason = "Young squad on hard floor"', 'reason = ""', "rules.1.reason", "at least 3"),
        ("weeks_off = 0", "weeks_off = inf", "athletes.mila.weeks_off", "whole number"),
        ("mass_kg = 61.5", "mass_kg = nan", "athletes.mila.mass_kg", "number"),
        ('day = "wednesday"', 'day = "monday"', "slots.wed_gym.start", "outside the minutes of mon_hall"),
        ("minutes = 60", "minutes = 60\nminuts = 60", "slots.wed_gym.minuts", '"minutes"'),
        ('prefer    = ["trap_bar', 'prefer    = ["depth_jump", "trap_bar', "exercises.prefer.1", "leave_out"),
        ("low = 0.30, high", "lo = 0.30, high", "kit.sled.friction.lo", '"low"'),
    ],
)
def test_a_fault_names_its_place_and_what_to_do(
    tmp_path: Path, old: str, new: str, column: str, words: str
) -> None:
    assert old in BRIEF
    text = BRIEF.replace(old, new, 1)
    found = faults(tmp_path, text)
    said = [fault for fault in found if fault.column == column]
    assert len(said) == 1, [str(fault) for fault in found]
    assert words in f"{said[0].expected} {said[0].todo}"
    assert said[0].row is not None


def test_faults_of_the_tests_and_of_the_brief_come_together(tmp_path: Path) -> None:
    text = BRIEF.replace('place = "gym"', 'place = "gim"')
    found = faults(tmp_path, text, tests=TESTS.replace("1.702", "fast"))
    assert {Path(fault.file).name for fault in found} == {"brief.toml", "squad_tests.csv"}


def test_a_hard_health_rule_may_be_made_stricter_or_loosened_by_a_name(tmp_path: Path) -> None:
    rule = '[[rules]]\nrule = "sprint_gap"\nnumber = "hard_gap_h"\nvalue = {}\nreason = "Because"\n'
    assert read_brief(write(tmp_path, BRIEF + rule.format(48)))[0].rules[1].value == 48
    approved = rule.format(12) + 'approved_by = "Dr Invented"\n'
    assert read_brief(write(tmp_path, BRIEF + approved))[0].rules[1].approved_by == "Dr Invented"
    assert faults(tmp_path, BRIEF + rule.format(12))[0].column == "rules.2.approved_by"


@pytest.mark.parametrize(
    "name", ["../squad_tests.csv", "{folder}/squad_tests.csv", "", ".", "n" * 300 + ".csv"]
)
def test_a_brief_opens_no_file_elsewhere(tmp_path: Path, name: str) -> None:
    folder = tmp_path / "below"
    folder.mkdir()
    (tmp_path / "squad_tests.csv").write_text("secret,words\n", encoding="utf-8")
    text = BRIEF.replace('"squad_tests.csv"', f'"{name.format(folder=tmp_path)}"')
    found = faults(folder, text)
    assert [(fault.column, fault.expected) for fault in found] == [
        ("tests.1", "a tests file beside the brief")
    ]
    assert "secret" not in str(found)


def test_notes_stop_nothing(tmp_path: Path) -> None:
    text = BRIEF.replace("[4, 4, 4]", "[4, 4, 6]").replace("date = 2026-02-14", "date = 2027-02-14")
    tests = (
        TESTS.replace(",10 m", ",mass_kg,10 m").replace(",1.702", ",70,1.702").replace(",1.695", ",,1.695")
    )
    noa = "noa,2026-01-08,1,gates,behind,0.5,standing,sprung_wood,hall,,1.9,3.2,4.4\n"
    found = read_brief_with_notes(write(tmp_path, text, tests=tests + noa))
    said = "\n".join(found.notes)
    assert "shortened by 2 to fit 12 weeks" in said
    assert "outside 2026-01-12 to 2026-04-05" in said
    assert "61.5 kg here and 70 kg in the tests" in said
    assert "left out: noa" in said


def test_an_athlete_without_tests_is_noted_and_kept(tmp_path: Path) -> None:
    found = read_brief_with_notes(write(tmp_path, BRIEF + '\n[[athletes]]\nref = "quentin"\n'))
    assert [athlete.ref for athlete in found.brief.athletes] == ["mila", "quentin"]
    assert "no tests" in "\n".join(found.notes)


def test_nobody_to_plan_for(tmp_path: Path) -> None:
    text = BRIEF[: BRIEF.index("[[athletes]]")].replace('tests    = ["squad_tests.csv"]', "")
    assert [fault.column for fault in faults(tmp_path, text)] == ["athletes"]


def test_a_brief_may_be_json(tmp_path: Path) -> None:
    brief, _ = read_brief(write(tmp_path, BRIEF))
    path = tmp_path / "brief.json"
    path.write_text(brief.model_dump_json(by_alias=True), encoding="utf-8")
    assert read_brief(path)[0] == brief


OWN = '\n[[own_lines]]\nref = "own"\nslot = "mon_hall"\nminutes = 5\n'


@pytest.mark.parametrize(
    ("line", "words"),
    [
        (
            'exercise = "acceleration_run"\nmethod = "unloaded_sprint"\ndistance_m = 35',
            "at most 30 m, the straight of hall less its run-out",
        ),
        ('exercise = "my_drill"\ntitle = "Mine"\ndistance_m = 60', "at most 40 m, the straight of hall"),
    ],
)
def test_an_own_line_longer_than_its_place_is_a_fault(tmp_path: Path, line: str, words: str) -> None:
    (fault,) = faults(tmp_path, BRIEF + OWN + line)
    assert (fault.column, fault.expected) == ("own_lines.own.distance_m", words)


def test_what_may_be_meant_otherwise_is_asked(tmp_path: Path) -> None:
    own = 'exercise = "cuts45"\ntitle = "Cuts 45"\n'
    text = BRIEF.replace("date = 2026-04-04", "date = 2026-02-28") + OWN + own
    tests = (
        TESTS.replace(",10 m", ",born,10 m")
        .replace(",1.702", ",2005-05-02,1.702")
        .replace(",1.695", ",,1.695")
    )
    said = "\n".join(read_brief_with_notes(write(tmp_path, text, tests=tests)).notes)
    assert '"cuts45" is taken as an exercise of your own; did you mean "cut_45" of the catalogue?' in said
    assert "2004-05-02 here and 2005-05-02 in the tests: 2004-05-02 holds" in said
    assert 'this main peak lies in "Half-term", when nobody trains; is the date right?' in said
    alone = read_brief_with_notes(write(tmp_path, BRIEF + OWN + own.replace("cuts45", "warm_game")))
    assert alone.notes == ()


def test_the_most_of_a_range_is_called_high(tmp_path: Path) -> None:
    change = '[[rules]]\nrule = "acceleration_runs"\nnumber = "distance_max"\nvalue = 30\nreason = "Wet"\n'
    (fault,) = faults(tmp_path, BRIEF + change)
    assert fault.todo == 'did you mean "distance_high_m"?'

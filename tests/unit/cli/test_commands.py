"""Each command as a user meets it: results on stdout, words on stderr, one JSON value, the exit codes."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from collections.abc import Callable
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

from house import ROOT
from speedloom.cli import app, main

EXAMPLES = ROOT / "examples"
Ask = Callable[..., Any]
COMMANDS = [
    "demo",
    "profile",
    "plan",
    "check",
    "why",
    "handout",
    "diff",
    "replan",
    "review",
    "sharpen",
    "retest",
    "edit",
    "swap",
    "add",
    "remove",
    "copy",
    "lock",
    "unlock",
    "undo",
    "rules",
    "schema",
    "serve",
    "backup",
    "restore",
    "doctor",
]


def test_the_commands_are_those_of_the_design() -> None:
    assert [command.name for command in app.registered_commands] == COMMANDS


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_has_help(name: str, ask: Ask) -> None:
    answer = ask(name, "--help")
    assert answer.code == 0
    assert answer.out.startswith("Usage: ")
    assert answer.err == ""


def test_help_loads_nothing_heavy() -> None:
    code = (
        "import sys\nfrom speedloom.cli import main\n"
        "try:\n    main(['--help'])\nexcept SystemExit:\n    pass\n"
        "print([name for name in ('numpy', 'scipy', 'pydantic', 'rich', 'typst') if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "[]"


def test_an_unknown_word_is_exit_2(ask: Ask) -> None:
    answer = ask("dance")
    assert answer.code == 2
    assert "dance" in answer.err


def test_plan_writes_the_programme_and_says_what_it_did(ask: Ask, tmp_path: Path) -> None:
    path = tmp_path / "short.json"
    answer = ask("plan", EXAMPLES / "short_block.toml", "-o", path, "--table")
    assert answer.code == 0
    assert re.search(r"6 weeks .*1 athlete, \d+ sessions\.", answer.out)
    assert re.search(r"^Check: ", answer.out, re.MULTILINE)
    assert "Mon · field" in answer.out
    assert answer.err.splitlines()[-1] == f"Written: {path}"
    assert json.loads(path.read_text(encoding="utf-8"))["schema"] == "speedloom.programme/1"
    assert [one.name for one in tmp_path.iterdir()] == ["short.json"]


def test_a_clash_is_two_sentences_with_dates_and_exit_3(ask: Ask, tmp_path: Path) -> None:
    # Must show: examples/impossible.toml exits 3 and names the clash and its cheapest repair in at most
    # two sentences with dates.
    answer = ask("plan", EXAMPLES / "impossible.toml", "-o", tmp_path / "p.json")
    said = next(line for line in answer.err.splitlines() if "Cheapest repair" in line)
    assert (answer.code, answer.out) == (3, "")
    assert re.search(r"\d{1,2} \w{3} 20\d\d", said)
    assert len(re.findall(r"\.(?: |$)", said)) <= 2
    assert "Cheapest repair: " in said
    assert list(tmp_path.iterdir()) == []


def test_check_gives_one_json_value(ask: Ask, planned: Path) -> None:
    answer = ask("check", planned, "--json")
    findings = json.loads(answer.out)
    assert isinstance(findings, list)
    assert answer.code == int(any(finding["weight"] == "hard" for finding in findings))


def test_check_against_a_brief_by_its_file(ask: Ask, planned: Path) -> None:
    with_file = ask("check", planned, "--brief", EXAMPLES / "short_block.toml")
    assert with_file.out == ask("check", planned).out


def test_a_hard_finding_is_exit_1(ask: Ask, planned: Path, tmp_path: Path) -> None:
    document = json.loads(planned.read_text(encoding="utf-8"))
    document["programmes"][0]["weeks"][1]["sessions"][0]["minutes"] = 300
    path = tmp_path / "too_long.json"
    path.write_text(json.dumps(document), encoding="utf-8")
    answer = ask("check", path)
    assert answer.code == 1
    assert "Hard: must be changed" in answer.out


def test_why_by_number_and_as_json(ask: Ask, small: Path) -> None:
    told = ask("why", small, "mila-203.load_kg")
    assert told.code == 0
    assert told.out.startswith("Why mila-203.load_kg is 37.5 kg\n1. ")
    value = json.loads(ask("why", small, "mila-203.load_kg", "--json").out)
    assert (value["value"], value["unit"], value["steps"][-1]["id"]) == (37.5, "kg", "b6")
    several = json.loads(ask("why", small, "mila-w2", "--json").out)
    assert [one["ref"] for one in several] == ["mila-w2.specificity", "mila-w2.volumes.resisted_sprint"]


def test_why_refuses_in_words(ask: Ask, small: Path) -> None:
    answer = ask("why", small, "mila-9999.load_kg")
    assert (answer.code, answer.out) == (2, "")
    assert "got mila-9999" in answer.err


def test_why_answers_for_a_planned_line(ask: Ask, planned: Path) -> None:
    document = json.loads(planned.read_text(encoding="utf-8"))
    sessions = document["programmes"][0]["weeks"][1]["sessions"]
    refs = [line["ref"] for session in sessions for line in session["prescriptions"] if line["basis"]]
    answer = ask("why", planned, refs[-1])
    assert answer.code == 0
    assert answer.out.count("Why ") > 2


def test_diff_of_a_programme_with_itself(ask: Ask, small: Path) -> None:
    assert ask("diff", small, small).out == "Nothing changed.\n"
    assert json.loads(ask("diff", small, small, "--json").out)["sessions"] == []


def test_profile_of_an_example(ask: Ask) -> None:
    tests = EXAMPLES / "short_block_tests.csv"
    told, value = ask("profile", tests), json.loads(ask("profile", tests, "--json").out)
    assert told.code == 0
    assert value[0]["athlete"] in told.out
    assert value[0]["vmax_mps"]["low"] < value[0]["vmax_mps"]["value"] < value[0]["vmax_mps"]["high"]


def test_a_trial_that_cannot_be_true_is_exit_1(ask: Ask, tmp_path: Path) -> None:
    path = tmp_path / "tests.csv"
    path.write_text(
        "athlete,date,trial,timing,clock,start,mass_kg,height_m,5 m,10 m,20 m,30 m\n"
        "noa,2026-01-08,1,gates,unknown,standing,75,1.8,1.2,2.0,3.3,4.5\n"
        "noa,2026-01-08,2,gates,unknown,standing,75,1.8,1.2,2.0,1.3,4.5\n",
        encoding="utf-8",
    )
    answer = ask("profile", path)
    assert answer.code == 1
    assert "trial 2 left out: splits not increasing" in answer.out


def test_rules_to_read_and_as_a_template(ask: Ask) -> None:
    assert "sprint_gap (warning" in ask("rules").out
    assert '# rule = "sprint_gap"' in ask("rules", "--toml").out


@pytest.mark.parametrize("document", ["brief", "programme", "log"])
def test_schema_is_one_json_value(document: str, ask: Ask) -> None:
    answer = ask("schema", document)
    schema = json.loads(answer.out)
    assert answer.code == 0
    assert schema["$schema"].endswith("2020-12/schema")
    assert schema["properties"]["schema"]["const"] == f"speedloom.{document}/1"


@pytest.mark.parametrize("kind", ["session", "book", "athlete"])
def test_handout_prints(kind: str, ask: Ask, planned: Path, tmp_path: Path) -> None:
    pdf, svg = tmp_path / "sheet.pdf", tmp_path / "weave.svg"
    answer = ask("handout", planned, "--pdf", pdf, "--svg", svg, "--kind", kind, "--week", 2)
    assert (answer.code, answer.out) == (0, "")
    assert pdf.read_bytes().startswith(b"%PDF")
    assert svg.read_text(encoding="utf-8").startswith("<svg")


@pytest.mark.parametrize(
    ("options", "said"),
    [
        ([], "with a FILE, got none; say what to write"),
        (["--pdf", "x.pdf", "--week", "99"], "expected a week from 1 to 6, got 99"),
        (["--pdf", "x.pdf", "--athlete", "nobody"], "got nobody"),
    ],
)
def test_handout_refuses_in_words(
    options: list[str], said: str, ask: Ask, planned: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    answer = ask("handout", planned, *options)
    assert (answer.code, answer.out) == (2, "")
    assert said in answer.err
    assert list(tmp_path.iterdir()) == []


def test_the_demo_squad_is_the_example() -> None:
    packaged = files("speedloom.cli") / "demo_squad"
    kept = {one.name: one.read_bytes() for one in packaged.iterdir()}
    wanted = {path.name: path.read_bytes() for path in EXAMPLES.glob("spring_build*")}
    assert kept == wanted, "copy examples/spring_build* to src/speedloom/cli/demo_squad"


def test_the_demo_says_when_its_folder_is_a_file(ask: Ask, tmp_path: Path) -> None:
    path = tmp_path / "taken"
    path.write_text("")
    answer = ask("demo", "--out", path)
    assert (answer.code, answer.out) == (2, "")
    assert "expected a folder" in answer.err


def test_what_nobody_foresaw_is_said_without_a_traceback(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, small: Path
) -> None:
    # A machine that breaks under us: not our own code, so it may be made to fail.
    monkeypatch.setattr(Path, "read_bytes", lambda _: 1 / 0)
    with pytest.raises(SystemExit) as ended:
        main(["check", str(small)])
    said = capsys.readouterr()
    assert ended.value.code == 2
    assert "ZeroDivisionError" in said.err
    assert "Please report" in said.err
    assert "Traceback" not in said.err


def test_a_plan_with_a_hard_finding_prints_it_and_is_exit_1(ask: Ask, tmp_path: Path) -> None:
    # A coach's own line: shock jumps for somebody of 15.
    brief = (EXAMPLES / "short_block.toml").read_text(encoding="utf-8")
    born = re.sub(r"born( +)= \d{4}", r"born\1= 2011", brief)
    line = (
        '[[own_lines]]\nref = "drops"\nslot = "mon_track"\nmethod = "plyometric"\nexercise = "depth_jump"\n'
    )
    path = tmp_path / "youth.toml"
    path.write_text(f"{born}\n{line}sets = 2\nreps = 5\nminutes = 5\n", encoding="utf-8")
    tests = EXAMPLES / "short_block_tests.csv"
    (tmp_path / tests.name).write_bytes(tests.read_bytes())
    answer = ask("plan", path, "-o", tmp_path / "youth.json")
    assert answer.code == 1
    assert "Hard: must be changed" in answer.out
    assert (tmp_path / "youth.json").exists()


def test_own_sheets_without_a_week_say_which_week_they_are(ask: Ask, planned: Path, tmp_path: Path) -> None:
    # The example lies in another year than any computer's clock: then it is the first week.
    answer = ask("handout", planned, "--pdf", tmp_path / "own.pdf", "--athlete", "tereza")
    assert re.match(r"Own sheets of week \d of 6; --week N prints another\.\n", answer.err)
    named = ask("handout", planned, "--pdf", tmp_path / "own.pdf", "--athlete", "tereza", "--week", 2)
    assert "Own sheets of week" not in named.err


def test_a_plan_says_what_in_its_tests_can_hardly_be_true(ask: Ask, tmp_path: Path) -> None:
    (tmp_path / "short_block.toml").write_bytes((EXAMPLES / "short_block.toml").read_bytes())
    tests = (EXAMPLES / "short_block_tests.csv").read_text(encoding="utf-8")
    (tmp_path / "short_block_tests.csv").write_text(tests.replace("4.34,5.51", "4.34,1.51"), encoding="utf-8")
    answer = ask("plan", tmp_path / "short_block.toml", "-o", tmp_path / "p.json")
    assert "Tests of tereza, 3 September 2026: trial 3 left out: splits not increasing, 40 m in 1.51 s" in (
        answer.out
    )

"""A season played from the first test to the retest, with simulated athletes: the tutorial's second half.

`.venv/bin/python docs/season.py season` writes the folder `season`: briefs, tests, logs, every revision,
reviews, reports and `story.md`, which holds each command and what it said. All of it is invented.
"""

from __future__ import annotations

import csv
import io
import re
import shlex
import sys
from collections.abc import Iterator
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import replace
from datetime import date
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT / "tests"))

from simulated_athletes import Truth, astray, drawer, estimated, weeks_since
from simulated_logs import Absence, Pain, simulate_log
from speedloom.cli import main
from speedloom.exchange.documents import canonical, read_log, read_programme
from speedloom.science.mechanics.sprint import time_to_distance
from speedloom.training.log import Log
from speedloom.training.programme import Programme

SQUAD = ("amina", "eilidh", "ines", "mila", "nomvula", "yara")
ILL = Absence("ines", date(2026, 2, 9), date(2026, 2, 17))
CALF = Pain("amina", date(2026, 2, 23), date(2026, 3, 1))
RAIN = (date(2026, 2, 19),)
RETEST = date(2026, 3, 30)
SEED = 2026
GROWTH = {"f0_a_week": 0.004, "v0_a_week": 0.002, "lifts_a_week": 0.006}
"""What a simulated athlete gains a week; made up, and told to nobody but the simulation."""
CALF_LIMIT = """
[[athletes.restrictions]]
ref = "amina_calf"
limits = [{ what = "share_vmax", at_most = 0.80 }, { what = "contacts", at_most = 0 }]
from = 2026-02-24
until = 2026-03-08
set_by = "club physiotherapist"
set_as = "clinician"
set_on = 2026-02-24
"""


def brief(text: str) -> str:
    """Cut the demo squad's brief to the six athletes of the story."""
    head, *blocks = text.split("[[athletes]]")
    kept = [block for block in blocks if _ref(block) in SQUAD]
    return "[[athletes]]".join([head, *kept])


def _ref(block: str) -> str:
    found = re.search(r'^ref\s*=\s*"([^"]+)"', block, re.MULTILINE)
    return found[1] if found else ""


def with_calf(text: str) -> str:
    """Write the physiotherapist's limits under the athlete's own entry."""
    head, *blocks = text.split("[[athletes]]")
    added = [
        f"{block.rstrip()}\n{CALF_LIMIT}\n" if _ref(block) == CALF.athlete else block for block in blocks
    ]
    return "[[athletes]]".join([head, *added])


class Story:
    """The folder of the season, with every command and its answer written down."""

    def __init__(self, folder: Path) -> None:
        """Make the folder."""
        folder.mkdir(parents=True, exist_ok=True)
        self.folder = folder
        self.told: list[str] = []
        self.codes: list[int] = []

    def say(self, text: str) -> None:
        """Write a heading or a sentence."""
        self.told.append(f"{text}\n")

    def run(self, line: str) -> str:
        """Run one command as a coach would, in the folder."""
        out, err = io.StringIO(), io.StringIO()
        code = 0
        words = [
            word.replace("@", f"{self.folder}/") if word.startswith("@") else word
            for word in shlex.split(line)
        ]
        with redirect_stdout(out), redirect_stderr(err):
            try:
                main(words[1:])
            except SystemExit as ended:
                code = int(ended.code or 0)
        shown = line.replace("@", "season/")
        answer = (out.getvalue() + err.getvalue()).replace(str(self.folder), "season")
        self.told.append(f"```\n{shown}\n```\n\n```\n{answer.rstrip()}\n```\n")
        self.codes.append(code)
        if code not in {0, 1}:
            raise SystemExit(f"{shown}\n{answer}")
        return answer

    def programme(self, number: int) -> Programme:
        """Read a revision."""
        return read_programme(self.folder / f"season_{number}.json")

    def close(self) -> None:
        """Write the story."""
        (self.folder / "story.md").write_text("\n".join(["# A season\n", *self.told]), encoding="utf-8")


def trained(story: Story, number: int, weeks: range, truth: Truth, *, so_far: Log | None) -> Log:
    """Log some weeks of a revision and add them to what was written before."""
    programme = story.programme(number)
    new = simulate_log(programme, weeks=weeks, seed=SEED, truth=truth, absences=[ILL], rain=RAIN, pain=[CALF])
    log = new if so_far is None else so_far.model_copy(update={"entries": (*so_far.entries, *new.entries)})
    last = max(weeks)
    (story.folder / f"log_week_{last}.json").write_text(canonical(log), encoding="utf-8")
    return log


def retest_rows(programme: Programme, truth: Truth, first: list[dict[str, str]]) -> Iterator[dict[str, str]]:
    """Run the first test again on the last day: same gates, same start, the athletes as they are by then."""
    weeks = weeks_since(programme, RETEST)
    gates = [name for name in first[0] if name.endswith(" m")]
    for row in first:
        luck = drawer(SEED, "retest", row["athlete"])
        day = float(luck.normal(0.0, 0.006))
        trial = drawer(SEED, "retest", row["athlete"], row["trial"])
        runner = truth.people[row["athlete"]].on(weeks).runner(1 + day + float(trial.normal(0.0, 0.005)))
        behind = float(row["behind_m"])
        start = float(time_to_distance(runner, behind))
        ends = {gate: float(time_to_distance(runner, behind + float(gate[:-2]))) - start for gate in gates}
        times = {gate: f"{time + float(trial.normal(0, 0.01)):.2f}" for gate, time in ends.items()}
        yield {**row, "date": RETEST.isoformat(), **times}


def _rows(text: str) -> list[dict[str, str]]:
    lines = [line for line in text.splitlines() if not line.startswith("#")]
    return [row for row in csv.DictReader(lines) if row["athlete"] in SQUAD]


def _table(rows: list[dict[str, str]]) -> str:
    page = io.StringIO()
    writer = csv.DictWriter(page, list(rows[0]), lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return page.getvalue()


def _truth(programme: Programme) -> Truth:
    """Give what is true of the squad: near what the first test says, not equal to it, and growing."""
    near = astray(estimated(programme), seed=SEED, share=0.02)
    people = {ref: replace(person, **GROWTH) for ref, person in near.people.items()}
    return replace(near, people=people)


def play(folder: Path) -> Story:
    """Play the season into a folder."""
    story = Story(folder)
    tests = _prepared(folder)
    story.say("## January: test and plan")
    story.run("speedloom profile @spring_build_tests.csv")
    story.run("speedloom plan @season.toml -o @season_1.json")
    truth = _truth(story.programme(1))
    log = _until_the_illness(story, truth)
    log = _until_the_match(story, truth, log)
    _to_the_retest(story, truth, log, tests)
    story.close()
    return story


def _prepared(folder: Path) -> list[dict[str, str]]:
    """Write the brief and the tests of the six; give the rows of the sprint test."""
    demo = ROOT / "examples"
    for name in ("spring_build_tests.csv", "spring_build_lifts.csv"):
        rows = _rows((demo / name).read_text(encoding="utf-8"))
        (folder / name).write_text(_table(rows), encoding="utf-8")
    first = brief((demo / "spring_build.toml").read_text(encoding="utf-8"))
    moved = with_calf(first).replace("date  = 2026-03-14", "date  = 2026-03-15")
    briefs = {"season": first, "season_calf": with_calf(first), "season_moved": moved}
    for name, text in briefs.items():
        (folder / f"{name}.toml").write_text(text, encoding="utf-8")
    return _rows((demo / "spring_build_tests.csv").read_text(encoding="utf-8"))


def _until_the_illness(story: Story, truth: Truth) -> Log:
    story.say("## Five weeks later: was it done?")
    log = trained(story, 1, range(1, 6), truth, so_far=None)
    story.run("speedloom log check @log_week_5.json --programme @season_1.json")
    story.run("speedloom review @season_1.json --log @log_week_5.json --week 4")
    story.run("speedloom review @season_1.json --log @log_week_5.json --pdf @review.pdf")
    sharpen = "speedloom sharpen @season_1.json --log @log_week_5.json --on 2026-02-08"
    story.run(sharpen)
    story.run(f"{sharpen} --accept all -o @season_2.json")
    story.say("## February: Ines is ill for nine days")
    return trained(story, 2, range(6, 8), truth, so_far=log)


def _until_the_match(story: Story, truth: Truth, log: Log) -> Log:
    story.run("speedloom review @season_2.json --log @log_week_7.json --week 7")
    again = "speedloom replan @season_2.json --log @log_week_7.json --from 2026-02-18"
    story.run(f'{again} --reason "Ines ill 9 to 17 February"')
    story.run(f'{again} --reason "Ines ill 9 to 17 February" -o @season_3.json')
    story.say("## A calf strain, and the physiotherapist's limits")
    log = trained(story, 3, range(8, 9), truth, so_far=log)
    story.run(
        "speedloom replan @season_3.json --log @log_week_8.json --from 2026-02-24 --brief @season_calf.toml "
        '--reason "Amina: calf, limits by the physiotherapist" -o @season_4.json'
    )
    story.say("## March: a match moves")
    log = trained(story, 4, range(9, 10), truth, so_far=log)
    story.run(
        "speedloom replan @season_4.json --log @log_week_9.json --from 2026-03-09 --brief @season_moved.toml "
        '--reason "League match moved to Sunday 15 March" -o @season_5.json'
    )
    story.run("speedloom diff @season_4.json @season_5.json")
    return log


def _to_the_retest(story: Story, truth: Truth, log: Log, tests: list[dict[str, str]]) -> None:
    story.say("## The last weeks, and the same test again")
    trained(story, 5, range(10, 13), truth, so_far=log)
    story.run("speedloom log check @log_week_12.json --programme @season_5.json")
    story.run("speedloom review @season_5.json --log @log_week_12.json --week 11")
    again = [*tests, *retest_rows(story.programme(5), truth, tests)]
    (story.folder / "retest.csv").write_text(_table(again), encoding="utf-8")
    story.run(
        "speedloom retest @retest.csv --programme @season_5.json --log @log_week_12.json "
        "--pdf-athlete @retest_athlete.pdf --pdf-colleagues @retest_colleagues.pdf"
    )


def check(story: Story) -> Log:
    """Read the last log back."""
    return read_log(story.folder / "log_week_12.json")


if __name__ == "__main__":
    play(Path(sys.argv[1] if len(sys.argv) > 1 else "season").resolve())

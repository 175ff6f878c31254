"""The example documents, as files beside this one, must read; order in a file changes nothing.

The example programme carries no brief: in the example its content is cut short.
"""

from __future__ import annotations

import json
import random
import tomllib
from pathlib import Path
from typing import Any

import pytest
from pydantic import TypeAdapter, ValidationError

from speedloom.exchange.brief_file import read_brief
from speedloom.exchange.documents import canonical, digest, read_log, read_programme
from speedloom.exchange.fault import UnusableFileError
from speedloom.training.brief import Brief, ResolvedBrief
from speedloom.training.exercise import load_catalogue
from speedloom.training.log import Log
from speedloom.training.measurement import Measurements
from speedloom.training.profile import Profile
from speedloom.training.programme import Programme
from speedloom.training.rule import load_rulebook
from speedloom.workflows.resolve_brief import resolve_brief

DATA = Path(__file__).with_name("data")
PROFILES = TypeAdapter(tuple[Profile, ...])
ORDERED = {"drop_first", "mesocycle_weeks", "specificity", "prefer", "a pair"}


def resolved(brief: Brief, measurements: Measurements) -> ResolvedBrief:
    return resolve_brief(brief, measurements, rulebook=load_rulebook(), catalogue=load_catalogue())


def content_of(name: str) -> Any:  # noqa: ANN401 - any JSON
    return json.loads((DATA / name).read_text(encoding="utf-8"))


def test_the_brief_reads_with_its_tests() -> None:
    brief, measurements = read_brief(DATA / "brief.toml")
    assert brief.slots[1].from_ is not None
    assert brief.athletes[0].restrictions[0].limits[1].tag == "hop"
    assert [trial.trial for trial in measurements.trials] == [1, 2]
    assert measurements.trials[0].splits[0].time_s == 1.702


def test_the_programme_reads_and_comes_back() -> None:
    programme = read_programme(DATA / "programme.json")
    line = programme.programmes[0].weeks[0].sessions[0].prescriptions[0]
    assert line.load_kg == 32.0
    assert programme.basis["b41"].by == "kit.round_load"
    again = Programme.model_validate_json(canonical(programme))
    assert again == programme
    assert digest(again) == digest(programme)


def test_the_log_reads_and_comes_back() -> None:
    log = read_log(DATA / "log.json")
    assert log.entries[0].results[0].time_s == 3.52
    assert log.entries[1].effort == 6
    assert canonical(Log.model_validate_json(canonical(log))) == canonical(log)


def test_the_profile_reads_and_comes_back() -> None:
    (profile,) = PROFILES.validate_json((DATA / "profile.json").read_text(encoding="utf-8"))
    assert profile.trials.refused[0].why == "splits_not_increasing"
    assert profile.offset_s is not None
    assert profile.offset_s.prior_driven
    assert Profile.model_validate_json(profile.model_dump_json(by_alias=True)) == profile


def test_a_resolved_brief_stands_alone() -> None:
    whole = resolved(*read_brief(DATA / "brief.toml"))
    again = ResolvedBrief.model_validate_json(canonical(whole))
    assert again == whole
    assert digest(again) == digest(whole)


def test_every_key_of_the_examples_is_kept() -> None:
    written = json.loads(canonical(read_programme(DATA / "programme.json")))
    assert _without_nothing(content_of("programme.json")) == _without_nothing(written)
    log = json.loads(canonical(read_log(DATA / "log.json")))
    assert [one["id"] for one in log["entries"]] == [one["id"] for one in content_of("log.json")["entries"]]


def _without_nothing(value: object) -> object:
    """Leave out keys that say nothing, so that an absent key and a null are the same."""
    if isinstance(value, dict):
        cleaned = {key: _without_nothing(inner) for key, inner in value.items()}
        return {key: inner for key, inner in cleaned.items() if inner not in (None, [], {}, False)}
    return [_without_nothing(inner) for inner in value] if isinstance(value, list) else value


def _shuffled(value: object, chance: random.Random, *, key: str = "") -> object:
    if isinstance(value, dict):
        items = [(name, _shuffled(inner, chance, key=name)) for name, inner in value.items()]
        chance.shuffle(items)
        return dict(items)
    if isinstance(value, list):
        inner = [_shuffled(one, chance, key="a pair") for one in value]
        if key not in ORDERED:
            chance.shuffle(inner)
        return inner
    return value


@pytest.mark.parametrize("seed", range(5))
def test_the_order_in_a_file_changes_nothing(seed: int) -> None:
    chance = random.Random(seed)
    brief, measurements = read_brief(DATA / "brief.toml")
    content = json.loads(brief.model_dump_json(by_alias=True))
    content["places"].append({"ref": "field", "kind": "turf"})
    content["events"].append({"kind": "other", "date": "2026-02-14", "title": "A second event that day"})
    content["athletes"] += [{"ref": "ana", "born": "2011-03-01"}, {"ref": "zoe", "training_years": 2}]
    mixed = Brief.model_validate_json(json.dumps(_shuffled(content, chance)))
    straight = Brief.model_validate_json(json.dumps(content))
    trials = list(measurements.trials)
    chance.shuffle(trials)
    other = measurements.model_copy(update={"trials": tuple(trials)})
    assert canonical(resolved(mixed, other)) == canonical(resolved(straight, measurements))


def test_resolving_completes_athletes_and_says_what_was_assumed() -> None:
    brief, measurements = read_brief(DATA / "brief.toml")
    content = json.loads(brief.model_dump_json(by_alias=True))
    content["athletes"] = [{"ref": "mila", "training_years": 2}]
    tested = tuple(trial.model_copy(update={"mass_kg": 60.0}) for trial in measurements.trials)
    whole = resolved(
        Brief.model_validate_json(json.dumps(content)), measurements.model_copy(update={"trials": tested})
    )
    (mila,) = whole.athletes
    assert mila.mass_kg == 60.0
    assert mila.level["power"] == "intermediate"
    assert "mila.height_m" in whole.assumed
    assert "mila.mass_kg" not in whole.assumed
    assert "mila.level.power" in whole.assumed


def _at_every_table(value: object) -> list[dict[str, Any]]:
    if isinstance(value, dict):
        return [value, *(table for inner in value.values() for table in _at_every_table(inner))]
    if isinstance(value, list):
        return [table for inner in value for table in _at_every_table(inner)]
    return []


@pytest.mark.parametrize(("name", "model"), [("programme.json", Programme), ("log.json", Log)])
def test_unknown_keys_are_errors_everywhere(name: str, model: type[Programme | Log]) -> None:
    for index in range(len(_at_every_table(content_of(name)))):
        content = content_of(name)
        _at_every_table(content)[index]["surprise"] = 1
        with pytest.raises(ValidationError):
            model.model_validate_json(json.dumps(content))


def test_unknown_keys_of_a_brief_name_the_nearest(tmp_path: Path) -> None:
    text = (DATA / "brief.toml").read_text(encoding="utf-8").replace("straight_m", "straigth_m")
    (tmp_path / "squad_tests.csv").write_bytes((DATA / "squad_tests.csv").read_bytes())
    (tmp_path / "brief.toml").write_text(text, encoding="utf-8")
    with pytest.raises(UnusableFileError) as caught:
        read_brief(tmp_path / "brief.toml")
    (fault,) = caught.value.faults
    assert fault.column == "places.hall.straigth_m"
    assert fault.row == 1 + text[: text.index("straigth_m")].count("\n")
    assert '"straight_m"' in fault.todo


def test_the_example_is_toml_of_its_own() -> None:
    content = tomllib.loads((DATA / "brief.toml").read_text(encoding="utf-8"))
    assert content["schema"] == "speedloom.brief/1"

"""Every prescribed number, derived again from brief, tests and rulebook by an oracle that shares no code.

The equations are the published formula list's, where source and mark stand formula by formula. Motion and
profiles are scipy's own (DOP853, least squares). What no example shows stands in VARIANTS.
"""

from __future__ import annotations

import json
import math
import random
from functools import cache
from graphlib import TopologicalSorter
from pathlib import Path
from typing import Any

import pytest

from briefs import planned
from reference.derivation_oracle import Fault, Oracle, line_faults
from reference.derivation_oracle_fields import numbers_of, strange_keys

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = tuple(path.stem for path in sorted(EXAMPLES.glob("*.toml")) if path.stem != "impossible")
SAMPLE = 200
CHANGED = {"sled_dose.rest_advanced_general": 210.0, "top_speed_dose.run_in_share": 0.90}
RULES = "".join(
    '\n[[rules]]\nrule = "{}"\nnumber = "{}"\nvalue = {}\nreason = "Tried out here"\n'.format(
        *k.split("."), v
    )
    for k, v in CHANGED.items()
)
HEAD = "athlete,date,trial,timing,clock,behind_m,start,surface,place,reaction_s,wind_mps,"
ROW = "\ntereza,2026-09-03,{trial},gates,{clock},,{start},track,track,{reaction},{wind},{times}"


def few_gates() -> str:
    """Make a tests file of three gates and an unknown start: too few to stand without the population."""
    rows = [(1, "1.90,3.17,4.33"), (2, "1.89,3.14,4.32")]
    fixed = {"clock": "unknown", "start": "standing", "reaction": "", "wind": ""}
    return HEAD + "10 m,20 m,30 m" + "".join(ROW.format(trial=n, times=t, **fixed) for n, t in rows)


def a_gun_and_wind() -> str:
    """Make a tests file in which the least time and the least time less reaction are of different trials."""
    rows = [
        (1, 0.150, 2.0, "1.39,2.13,3.40,4.56,5.73"),
        (2, 0.165, -1.0, "1.38,2.12,3.37,4.55,5.74"),
        (3, 0.170, 1.0, "1.40,2.13,3.40,4.58,5.75"),
    ]
    fixed = {"clock": "gun", "start": "block"}
    lines = [ROW.format(trial=n, reaction=r, wind=w, times=t, **fixed) for n, r, w, t in rows]
    return HEAD + "5 m,10 m,20 m,30 m,40 m" + "".join(lines)


def a_radar(trials: int) -> str:
    """Make a tests file of speed traces: a late start, the steps of a runner, two devices' noise."""
    rows = ["athlete,date,trial,timing,time_s,speed_mps"]
    for trial in range(1, trials + 1):
        top, tau, late = 8.6 + 0.1 * trial, 1.10 + 0.02 * trial, 0.2 * trial
        for tick in range(95):
            time = 0.05 * tick
            run = top * -math.expm1(-(time - late) / tau) + 0.15 * math.sin(26 * time) if time > late else 0.1
            rows.append(f"tereza,2026-09-03,{trial},radar,{time:.2f},{max(0.0, run):.2f}")
    return "\n".join(rows)


# What the short block is changed to: text for text in its brief and its tests, or other tests.
MEAN = ('trial    = "best"', 'trial    = "mean"')
VARIANTS: dict[str, tuple[tuple[str, str], tuple[str, str] | str]] = {
    "numbers changed": (("\n[[athletes]]", RULES + "\n[[athletes]]"), ("", "")),
    "mean of the trials": (MEAN, ("", "")),
    "friction timed": (("{ low = 0.30, high = 0.45 }", "{ value = 0.36, se = 0.02 }"), ("", "")),
    "friction not known": (("friction  = { low = 0.30, high = 0.45 }", ""), ("", "")),
    "body not measured": (("mass_kg        = 59.0\nheight_m       = 1.72", ""), ("59.0,1.72", ",")),
    "behind the beam": (("", ""), (",unknown,,", ",behind,0.3,")),
    "hand times": (("", ""), (",gates,", ",hand,")),
    "few gates": (("", ""), few_gates()),
    "gun, best trial": (("", ""), a_gun_and_wind()),
    "a speed trace": (("", ""), a_radar(1)),
    "mean of the speed traces": (MEAN, a_radar(2)),
    "gun, mean of the trials": (MEAN, a_gun_and_wind()),
}


def of(path: Path) -> Any:  # noqa: ANN401  a JSON document
    return json.loads(planned(path).model_dump_json(by_alias=True))


@cache
def example(name: str) -> Any:  # noqa: ANN401
    return of(EXAMPLES / f"{name}.toml")


def variant(folder: Path, name: str) -> Any:  # noqa: ANN401
    in_brief, in_tests = VARIANTS[name]
    brief = (EXAMPLES / "short_block.toml").read_text("utf-8")
    tests = (EXAMPLES / "short_block_tests.csv").read_text("utf-8")
    assert in_brief[0] in brief
    (folder / "short_block.toml").write_text(brief.replace(*in_brief), "utf-8")
    other = in_tests if isinstance(in_tests, str) else tests.replace(*in_tests)
    (folder / "short_block_tests.csv").write_text(other, "utf-8")
    return of(folder / "short_block.toml")


def derived_again(document: Any, seed: str) -> list[Fault]:  # noqa: ANN401
    """Draw numbers and give the faults of their fields and of everything they rest on."""
    oracle = Oracle(document)
    derived = [number for number in numbers_of(document) if number.node]
    chosen = random.Random(seed).sample(derived, SAMPLE)
    nodes = {name for number in chosen for name in oracle.closure(number.node)}
    found = [fault for number in chosen for fault in oracle.field_faults(number)]
    return found + [fault for name in sorted(nodes) for fault in oracle.faults(name)]


@pytest.mark.parametrize("name", NAMES)
def test_numbers_come_out_again_from_their_leaves(name: str) -> None:
    assert derived_again(example(name), name) == []


@pytest.mark.parametrize("name", VARIANTS)
def test_so_they_do_where_the_brief_differs(name: str, tmp_path: Path) -> None:
    assert derived_again(variant(tmp_path, name), name) == []


def test_a_changed_rulebook_number_is_the_one_used(tmp_path: Path) -> None:
    oracle = Oracle(variant(tmp_path, "numbers changed"))
    leaves = {f"rule:{name}" for name in CHANGED}
    resting = [node for node in oracle.nodes.values() if leaves & set(node["inputs"].values())]
    published = Oracle({"basis": oracle.nodes, "brief": {"content": {**oracle.brief, "rules": []}}})
    assert {oracle.leaf(leaf) for leaf in leaves} == set(CHANGED.values())
    assert resting
    names = {id(node): name for name, node in oracle.nodes.items()}
    assert all(published.faults(names[id(node)]) for node in resting if node["by"] != "dose.linear")


@pytest.mark.parametrize("name", NAMES)
def test_every_number_has_a_node_and_every_node_a_number(name: str) -> None:
    assert [number.where for number in numbers_of(example(name)) if not number.node] == []
    assert strange_keys(example(name)) == []


@pytest.mark.parametrize("name", NAMES)
def test_derivations_end_and_are_stored_once(name: str) -> None:
    nodes = example(name)["basis"]
    graph = {key: [i for i in node["inputs"].values() if i in nodes] for key, node in nodes.items()}
    assert len(list(TopologicalSorter(graph).static_order())) == len(nodes)
    assert len({json.dumps(node, sort_keys=True) for node in nodes.values()}) == len(nodes)


@pytest.mark.parametrize("name", NAMES)
def test_a_line_is_derived_from_its_own_fields(name: str) -> None:
    assert line_faults(example(name)) == []


def test_the_oracle_sees_a_number_that_was_altered() -> None:
    document = json.loads(json.dumps(example("short_block")))
    by = {node["by"]: name for name, node in document["basis"].items()}
    unseen = []
    for formula, name in by.items():
        node, before = document["basis"][name], document["basis"][name]["value"]
        # One at a time: a node and its input, both altered, could agree again.
        node["value"] += 99 if formula == "solver.count" else 0.01 + 0.01 * abs(before)
        unseen += [] if Oracle(document).faults(name) else [formula]
        node["value"] = before
    assert unseen == []

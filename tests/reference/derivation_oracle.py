"""An oracle for derivations, written from the shape of a programme and the formula list alone.

Every node is computed again from its inputs as they are stored, down to the leaves (brief, rulebook,
literal, tests), so a number whose whole derivation agrees rests on its leaves. Nothing of the product is
imported: motion and profiles are scipy's.
"""

from __future__ import annotations

import math
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from reference import derivation_oracle_motion as motion
from reference import derivation_oracle_profile as profile
from reference import derivation_oracle_traces as traces
from reference.derivation_oracle_equations import EQUATIONS
from reference.derivation_oracle_fields import Number, grain_of, things

DATA = Path(__file__).parents[2] / "src" / "speedloom" / "training" / "data"
Node = dict[str, Any]
# What an input may be: a number, a word, or a piece of kit of the brief.
Leaf = Any
# A node keeps six significant digits and is computed from stored inputs: one unit of the sixth digit is half
# a unit of rounding and half a unit for where the solvers end.
SIXTH_DIGIT = 1.0
# Two minimisers stop at slightly different places: 2e-5 is seen where hand times leave the squares flat.
FIT_VALUE = 2e-4
# A band's end, over half the band: covariances agree to 3e-5, six digits cost up to 1.6e-3 of a narrow band.
# (Two per cent would let a band in logarithms pass for one in plain numbers.)
FIT_BAND = 2e-3
# An offset may be nearly nought, so it is held to a thousandth of the timing spread [s] instead of to itself.
FIT_OFFSET_S = 1e-5
SD_OF_BAND = 3.289708
# Arguments of a line's formulas that are fields of the same line.
OWN_FIELDS = frozenset({"distance_m", "run_in_m", "load_kg", "sets", "rest_reps_s", "effort"})
ABOUT_THE_LINE = frozenset(
    {"sprint.time", "sprint.zone_time", "sprint.share_of_top_speed", "effort.time"}
    | {"minutes.line", "contacts.line", "resistance.decrement_at_distance"}
)


@dataclass(frozen=True)
class Fault:
    """A node or field whose published equation does not give the stored number."""

    where: str
    by: str
    stored: object
    again: object
    what: str = "value"


class UnresolvedError(Exception):
    """A leaf or an argument that the published text cannot resolve."""


@cache
def published() -> tuple[dict[str, Node], dict[str, float]]:
    """The formula list, and every published number as `rule.number`."""
    formulas = tomllib.loads((DATA / "formulas.toml").read_text("utf-8"))
    numbers: dict[str, float] = {}
    for name in ("rules.toml", "doses.toml"):
        for rule, table in tomllib.loads((DATA / name).read_text("utf-8")).items():
            for number, entry in table.get("numbers", {}).items():
                for part in ("general", "middle", "specific"):
                    if part in entry:
                        numbers[f"{rule}.{number}_{part}"] = entry[part]
                if "value" in entry:
                    numbers[f"{rule}.{number}"] = entry["value"]
    return formulas, numbers


class Oracle:
    """Recomputes the nodes of one programme document."""

    def __init__(self, document: Node) -> None:
        """Take the document; rulebook numbers the brief changed stand above the published ones."""
        self.nodes: dict[str, Node] = document["basis"]
        self.brief: Node = document["brief"]["content"]
        self.formulas, numbers = published()
        changed = {f"{c['rule']}.{c['number']}": c["value"] for c in self.brief["rules"]}
        self.numbers = {**numbers, **changed}
        self._fits: dict[Any, profile.Fit] = {}

    def leaf(self, said: str) -> Leaf:
        """The value of an input: another node as stored, the brief, the rulebook, or a plain fact."""
        if said in self.nodes:
            return self.nodes[said]["value"]
        kind, _, rest = said.partition(":")
        if kind == "rule" and rest in self.numbers:
            return self.numbers[rest]
        if kind == "literal":
            return _number_or_word(rest)
        if kind == "brief":
            return _walk(self.brief, rest)
        raise UnresolvedError(said)

    def closure(self, start: str) -> Iterator[str]:
        """A node and everything it rests on, each once."""
        seen, waiting = {start}, [start]
        while waiting:
            yield (name := waiting.pop())
            inputs = [i for i in self.nodes[name]["inputs"].values() if i in self.nodes]
            waiting += dict.fromkeys(i for i in inputs if i not in seen)
            seen.update(inputs)

    def field_faults(self, number: Number) -> list[Fault]:
        """What is wrong between a field and its node, at the precision of the field."""
        if number.node not in self.nodes:
            return [Fault(number.where, "-", number.value, number.node, "field without a node")]
        node = self.nodes[number.node]
        if abs(number.value - node["value"]) <= number.grain / 2 + 1e-9:
            return []
        return [Fault(number.where, node["by"], number.value, node["value"], "field against its node")]

    def strangers(self, name: str, line: Node, where: str) -> list[Fault]:
        """Arguments of a node that bear the name of a field of the line but not its value."""
        node = self.nodes[name]
        found = []
        for argument in sorted(OWN_FIELDS & node["inputs"].keys()):
            if node["inputs"][argument].startswith("literal:"):
                continue  # a plain fact: contacts of one set, no run-in
            if argument == "rest_reps_s" and line["reps"] == 1:
                continue  # nothing to rest between, so the field is empty and the argument counts no time
            used, field = self.leaf(node["inputs"][argument]), line[argument]
            if abs(used - (field or 0.0)) > grain_of(argument) / 2 + 1e-9:
                what = f"argument {argument} against the line"
                found.append(Fault(f"{where} {name}", node["by"], used, field, what))
        return found

    def faults(self, name: str) -> list[Fault]:
        """What is wrong with one node, its inputs taken as stored."""
        node = self.nodes[name]
        where, by = f"{name} ({node['quantity']})", node["by"]
        try:
            pairs = self._pairs(node)
        except UnresolvedError as unresolved:
            return [Fault(where, by, node["value"], str(unresolved), "input that cannot be resolved")]
        return [Fault(where, by, stored, again, what) for what, stored, again, good in pairs if not good]

    def _pairs(self, node: Node) -> list[tuple[str, Any, Any, bool]]:
        by, stored = node["by"], node["value"]
        if by not in self.formulas:
            raise UnresolvedError(by)
        self._check_arguments(node)
        if by == "coach":
            return []
        if by == "solver.count":
            low, high = (self.leaf(node["inputs"][end]) for end in ("fewest", "most"))
            whole = float(stored).is_integer() and low <= stored <= high
            return [("whole number within its bounds", stored, (low, high), whole)]
        if by == "profile.fit":
            return self._fit_pairs(node)
        if by == "profile.fit_trace":
            return self._trace_pairs(node)
        again = self._again(node)
        pairs = [("value", stored, again, same_digits(stored, again))]
        band = zip(("low", "high"), self._band(node), strict=True)
        return pairs + [(end, node[end], edge, same_digits(node[end], edge)) for end, edge in band]

    def _check_arguments(self, node: Node) -> None:
        allowed = self.formulas[node["by"]]["arguments"]
        for name in node["inputs"]:
            if name not in allowed and "*" not in allowed:
                message = f"argument {name}"
                raise UnresolvedError(message)

    def _again(self, node: Node, **instead: float) -> float:
        by, inputs = node["by"], node["inputs"]
        if by == "expect.profile_spread":
            return self._profile_spread(node)
        if by == "expect.friction_spread":
            return self._sd(inputs["friction"]) * abs(self._time_slope(node, "friction"))
        arguments = {name: self.leaf(said) for name, said in inputs.items()}
        arguments.update({name: value for name, value in instead.items() if name in arguments})
        if by == "effort.time" and instead:
            arguments["time_s"] = self._again(self.nodes[inputs["time_s"]], **instead)
        return float(EQUATIONS[by](**arguments))

    def _band(self, node: Node) -> tuple[float | None, float | None]:
        # Three formulas say what their band is: these two and the profile's, which is fitted again below.
        if node["by"] == "friction.middle":
            return self.leaf(node["inputs"]["low"]), self.leaf(node["inputs"]["high"])
        if node["by"] == "friction.timed":
            value, error = (self.leaf(node["inputs"][name]) for name in ("value", "se"))
            return value - 1.644854 * error, value + 1.644854 * error
        return None, None

    def _sd(self, said: str) -> float:
        node = self.nodes[said]
        return (node["high"] - node["low"]) / SD_OF_BAND if node["low"] is not None else 0.0

    def _time_slope(self, node: Node, argument: str) -> float:
        at = self.leaf(node["inputs"][argument])
        timed = self.nodes[node["inputs"]["time_s"]]
        ends = [self._again(timed, **{argument: at * share}) for share in (0.999, 1.001)]
        return (ends[1] - ends[0]) / (0.002 * at)

    def _profile_spread(self, node: Node) -> float:
        inputs = node["inputs"]
        a, b = (self._sd(inputs[n]) * self._time_slope(node, n) for n in ("f0_npkg", "v0_mps"))
        r = self.leaf(inputs["correlation"])
        return math.sqrt(a * a + b * b + 2 * r * a * b)

    # ------------------------------------------------------------------ profiles

    def _fit_pairs(self, node: Node) -> list[tuple[str, Any, Any, bool]]:
        inputs, quantity, stored = node["inputs"], node["quantity"], node["value"]
        if quantity not in {"f0", "v0", "vmax", "tau", "length", "offset", "correlation"}:
            raise UnresolvedError(quantity)
        tests, prior = inputs["trials"], self.leaf(inputs["prior"])
        timing_sd_s = self.leaf(inputs["timing_sd_s"])
        if (word := self._prior_word(tests, timing_sd_s)) != prior:
            return [("prior", prior, word, False)]
        body = (self.leaf(inputs["mass_kg"]), self.leaf(inputs["drag_kgpm"]))
        fit = self._fit(tests, body, timing_sd_s, prior, exponential=quantity in {"vmax", "tau", "length"})
        if quantity == "correlation":
            return [("value", stored, fit.correlation, abs(stored - fit.correlation) <= FIT_VALUE)]
        value, low, high = fit.band(quantity)
        near = FIT_OFFSET_S if quantity == "offset" else FIT_VALUE * abs(value)
        # A band of no width (a reaction time that is known) still is stored with six digits only.
        wide = FIT_BAND * (high - low) / 2 + 5e-6 * abs(value) + 1e-9
        return [
            ("value", stored, value, abs(stored - value) <= near),
            ("low", node["low"], low, abs(node["low"] - low) <= wide),
            ("high", node["high"], high, abs(node["high"] - high) <= wide),
        ]

    def _trace_pairs(self, node: Node) -> list[tuple[str, Any, Any, bool]]:
        inputs, quantity, stored = node["inputs"], node["quantity"], node["value"]
        body = (self.leaf(inputs["mass_kg"]), self.leaf(inputs["drag_kgpm"]))
        exponential = quantity in {"vmax", "tau", "length"}
        key = (inputs["trials"], body, exponential)
        if key not in self._fits:
            fit = traces.fit_of(self.brief, inputs["trials"], body, exponential=exponential)
            if fit is None:
                raise UnresolvedError(inputs["trials"])
            self._fits[key] = fit
        fit = self._fits[key]
        if quantity == "correlation":
            return [("value", stored, fit.correlation, abs(stored - fit.correlation) <= FIT_VALUE)]
        value, low, high = fit.band(quantity)
        wide = FIT_BAND * (high - low) / 2 + 5e-6 * abs(value)
        return [
            ("value", stored, value, abs(stored - value) <= FIT_VALUE * value),
            ("low", node["low"], low, abs(node["low"] - low) <= wide),
            ("high", node["high"], high, abs(node["high"] - high) <= wide),
        ]

    def _fit(
        self, tests: str, body: tuple[float, float], timing_sd_s: float, prior: str, *, exponential: bool
    ) -> profile.Fit:
        key = (tests, body, timing_sd_s, prior, exponential)
        if key not in self._fits:
            trial = self.trial(tests)
            known = self._prior("vmax", "tau") if exponential else self._prior("f0", "v0")

            def times_to(first: float, second: float) -> profile.Times:
                if exponential:
                    return lambda x: profile.exponential_time(first, second, x)
                return motion.curve(motion.Run(first, second, *body, wind=trial.wind_mps)).time_at

            self._fits[key] = profile.refit(
                trial,
                times_to=times_to,
                start=(8.0, 1.1) if exponential else (7.5, 8.5),
                timing_sd_s=timing_sd_s,
                prior=known if prior == "population" else None,
            )
        return self._fits[key]

    def _prior_word(self, tests: str, timing_sd_s: float) -> str:
        trial = self.trial(tests)
        unknowns = 2 + trial.offset_fitted
        if len(trial.distances) - unknowns < self.numbers["population_prior.spare_gates"]:
            return "population"
        free = self._fit(tests, (0.0, 0.0), timing_sd_s, "none", exponential=True)
        inside = 3 <= free.first <= 13 and 0.3 <= free.second <= 3
        spread = math.sqrt(float(free.covariance[1, 1])) / self.numbers["population_prior.log_tau_sd"]
        return "none" if inside and spread <= self.numbers["population_prior.lean_above"] else "population"

    def trial(self, tests: str) -> profile.Trial:
        """The day's best trial, or the mean of its trials, as `profile.fit` words it."""
        athlete, day, timing = tests.removeprefix("test:").split("/")
        of_day = [
            t
            for t in self.brief["measurements"]["trials"]
            if (t["athlete"], t["date"], t["timing"]) == (athlete, day, timing)
            and not t["sled_kg"]
            and t["start"] != "flying"
        ]
        pairs = [(t, one) for t in of_day if not profile.impossible(one := _trial([t]))]
        if not pairs:
            raise UnresolvedError(tests)
        best, shown = min(
            pairs, key=lambda p: (-p[1].distances[-1], p[1].times[-1] - p[1].offset_known, p[0]["trial"])
        )
        if self.brief["trial"] == "best":
            return shown
        alike = (shown.distances, best["clock"], best["behind_m"])
        return _trial([t for t, one in pairs if (one.distances, t["clock"], t["behind_m"]) == alike])

    def _prior(self, first: str, second: str) -> profile.Prior:
        number = {k.split(".")[1]: v for k, v in self.numbers.items() if k.startswith("population_prior.")}
        return profile.Prior(
            (number[f"log_{first}_mean"], number[f"log_{second}_mean"]),
            (number[f"log_{first}_sd"], number[f"log_{second}_sd"]),
            number[f"{first}_{second}_correlation"],
            number["offset_mean_s"],
            number["offset_sd_s"],
        )


def line_faults(document: Node) -> list[Fault]:
    """Lines whose times, minutes or decrement were worked out for another distance, load or count."""
    oracle, found = Oracle(document), []
    for ref, line in things(document):
        if line.get("purpose") != "work":
            continue
        for field, top in line["basis"].items():
            for name in oracle.closure(top):
                if oracle.nodes[name]["by"] in ABOUT_THE_LINE:
                    found += oracle.strangers(name, line, f"{ref}.{field}")
    return found


def same_digits(stored: float | None, again: float | None) -> bool:
    """Whether a stored node value is the recomputed one at six significant digits; absent equals absent."""
    if stored is None or again is None:
        return stored is again
    if again == 0 or not math.isfinite(again):
        return stored == again or abs(stored) < 1e-9
    unit = 10.0 ** (math.floor(math.log10(abs(again))) - 5)
    return abs(stored - again) <= SIXTH_DIGIT * unit


def _trial(trials: list[Node]) -> profile.Trial:
    first = trials[0]
    times = zip(*([s["time_s"] for s in t["splits"]] for t in trials), strict=True)
    reactions = [t["reaction_s"] for t in trials if t["reaction_s"] is not None]
    return profile.Trial(
        tuple(s["distance_m"] for s in first["splits"]),
        tuple(sum(t) / len(t) for t in times),
        first["clock"],
        first["behind_m"] or 0.0,
        sum(reactions) / len(reactions) if len(reactions) == len(trials) else None,
        sum(t["wind_mps"] or 0.0 for t in trials) / len(trials),
    )


def _of_ref(things_: list[Leaf], ref: str) -> list[Node]:
    return [thing for thing in things_ if isinstance(thing, dict) and thing.get("ref") == ref]


def _number_or_word(text: str) -> float | str:
    try:
        return float(text)
    except ValueError:
        return text


def _walk(content: Node, path: str) -> Leaf:
    here: Leaf = content
    for part in path.split("."):
        if isinstance(here, dict) and part in here:
            here = here[part]
        elif isinstance(here, list) and (named := _of_ref(here, part)):
            here = named[0]
        elif isinstance(here, list) and part.isdigit() and int(part) < len(here):
            here = here[int(part)]
        else:
            message = f"brief:{path}"
            raise UnresolvedError(message)
    if here is None:
        message = f"brief:{path} is null"
        raise UnresolvedError(message)
    return here

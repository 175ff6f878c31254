"""What the clock should show, and when to stop."""

from __future__ import annotations

from dataclasses import dataclass, replace

from speedloom.planning.draft import Draft
from speedloom.planning.ledger import Input, Ledger, Tag, as_tag, literal
from speedloom.planning.measured import AthleteNumbers
from speedloom.planning.setting import Setting
from speedloom.science.constants import BAND_90_SD
from speedloom.training.programme import Expect, StopRule


def with_expectation(
    setting: Setting, draft: Draft, *, stop: str, tow: dict[str, Input] | None = None
) -> Draft:
    """Add the expected time with its band, the share of top speed reached, and the stop rule."""
    numbers = setting.plan.numbers
    if not numbers.individual or not numbers.motion():
        rule = StopRule(kind="technique")
        return replace(draft, fields=draft.fields | {"stop_rule": rule, "expect": None})
    time = _time(setting, draft, tow or {})
    band = expected_band(setting.ledger, numbers, time, friction=(tow or {}).get("friction"))
    share = _share(setting, draft, tow or {})
    stop_tag = setting.ledger.rule("stop", "acceleration_dose", stop)
    fields = draft.fields | {"stop_rule": _stop_rule(setting, draft, stop_tag)}
    basis = dict(draft.basis)
    if fields["stop_rule"].value is not None:
        basis["stop_rule.value"] = stop_tag
    if band.profile_share > setting.plan.number("band_width", "width"):
        # A band this wide tells nothing: the line goes by effort.
        return _by_effort(setting, replace(draft, fields=fields, basis=basis))
    clock = numbers.clock if "run_in_m" not in draft.fields else f"{numbers.clock.split('/')[0]}/flying"
    fields["expect"] = Expect(
        time_s=float(time.value),
        low=float(band.low.value),
        high=float(band.high.value),
        level=0.9,
        clock=clock,
        share_vmax=float(share.value),
    )
    basis |= {"expect.time_s": time, "expect.low": band.low, "expect.high": band.high}
    basis["expect.share_vmax"] = share
    return replace(draft, fields=fields, basis=basis)


def _stop_rule(setting: Setting, draft: Draft, stop: Tag) -> StopRule:
    if draft.fields.get("effort") is not None or setting.cautious:
        return StopRule(kind="technique")
    return StopRule(kind="time_drop", value=float(stop.value))


def _by_effort(setting: Setting, draft: Draft) -> Draft:
    fields = draft.fields | {"expect": None, "stop_rule": StopRule(kind="technique")}
    basis = {name: tag for name, tag in draft.basis.items() if name != "stop_rule.value"}
    if fields.get("effort") is None:
        effort = setting.ledger.given("effort", 1.0, "share", literal(1))
        fields["effort"], basis["effort"] = 1.0, effort
    return replace(draft, fields=fields, basis=basis)


def _time(setting: Setting, draft: Draft, tow: dict[str, Input]) -> Tag:
    numbers, ledger = setting.plan.numbers, setting.ledger
    distance = draft.basis["distance_m"]
    if "run_in_m" in draft.basis:
        time = ledger.compute(
            "time",
            "s",
            "sprint.zone_time",
            **numbers.motion(),
            run_in_m=draft.basis["run_in_m"],
            distance_m=distance,
        )
    else:
        start: dict[str, Input] = {}
        if numbers.behind is not None:
            start["behind_m"] = numbers.behind
        elif numbers.offset is not None:
            start["offset_s"] = numbers.offset
        time = ledger.compute(
            "time",
            "s",
            "sprint.time",
            **numbers.motion(),
            distance_m=distance,
            **start,
            **tow,
        )
    if draft.fields.get("effort") is None:
        return time
    return ledger.compute("time", "s", "effort.time", time_s=time, effort=draft.basis["effort"])


@dataclass(frozen=True)
class Band:
    """The 90 % band of an expected time, and how much of the time the profile alone leaves open."""

    low: Tag
    high: Tag
    profile_share: float


def expected_band(ledger: Ledger, numbers: AthleteNumbers, time: Tag, *, friction: Input | None) -> Band:
    """Enter the band of one expected time: profile, friction, repetition spread and timing together.

    Args:
        ledger: the programme's ledger.
        numbers: the athlete's numbers, with a profile.
        time: the expected time.
        friction: what the sled's friction was entered as; None for a free run.
    """
    flat_out = ledger.source_of(time, "time_s") or time
    profile = ledger.time_spread(
        flat_out, f0=as_tag(numbers.f0), v0=as_tag(numbers.v0), correlation=as_tag(numbers.correlation)
    )
    rubbing: Input = literal(0)
    if isinstance(friction, Tag):
        rubbing = ledger.friction_spread(flat_out, friction=friction)
    spread = ledger.compute(
        "spread",
        "s",
        "expect.spread",
        time_s=time,
        profile_s=profile,
        friction_s=rubbing,
        repetition="rule:expected_time.repetition",
        timing_s=numbers.timing_sd,
    )
    return Band(
        low=ledger.compute("low", "s", "expect.low", time_s=time, spread_s=spread),
        high=ledger.compute("high", "s", "expect.high", time_s=time, spread_s=spread),
        profile_share=2 * BAND_90_SD * float(profile.value) / float(time.value),
    )


def _share(setting: Setting, draft: Draft, tow: dict[str, Input]) -> Tag:
    extra: dict[str, Input] = dict(tow)
    for name, field in (("run_in_m", "run_in_m"), ("effort", "effort")):
        if field in draft.basis:
            extra[name] = draft.basis[field]
    return setting.ledger.compute(
        "share of top speed",
        "share",
        "sprint.share_of_top_speed",
        **setting.plan.numbers.motion(),
        distance_m=draft.basis["distance_m"],
        **extra,
    )

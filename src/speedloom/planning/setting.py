"""Where a line stands: the athlete, the week, the day, and short ways to the doses."""

from __future__ import annotations

from dataclasses import dataclass, field

from speedloom.planning.calendar_week import Day
from speedloom.planning.ledger import Input, Ledger, Tag, literal
from speedloom.planning.measured import AthleteNumbers
from speedloom.planning.past import Past
from speedloom.planning.plates import loadable
from speedloom.planning.weeks import WeekPlan
from speedloom.training.athlete import Athlete, Limit
from speedloom.training.brief import ResolvedBrief
from speedloom.training.exercise import Catalogue, Exercise
from speedloom.training.kit import Kit
from speedloom.training.rule import Rulebook
from speedloom.training.words import LEVELS, SPRINTS, Level, Method

# Skills that somebody must have taught and seen; the coach says so by preferring the exercise.
GATED = frozenset({"clean_taught", "block_start_taught", "squat_1_5_bm", "five_pull_ups", "ten_push_ups"})


@dataclass(frozen=True)
class Plan:
    """What stays the same while an athlete is planned."""

    brief: ResolvedBrief
    rulebook: Rulebook
    catalogue: Catalogue
    ledger: Ledger
    athlete: Athlete
    numbers: AthleteNumbers
    carried: dict[str, Tag] = field(default_factory=dict)
    past: Past | None = None

    def level(self, method: Method) -> Level:
        """Give the athlete's level in a method; unknown, or under 16, is novice."""
        if self.youth:
            return "novice"
        return self.athlete.level.get(method, "novice")

    def number(self, rule: str, number: str) -> float:
        """Give a number of the rulebook."""
        return self.rulebook.number(rule, number)

    @property
    def youth(self) -> bool:
        """Whether the athlete is under the rulebook's youth age at the start."""
        age = self.athlete.age_years(self.brief.start)
        return age is not None and age < self.number("assumed_body", "youth_age_years")


@dataclass(frozen=True)
class Setting:
    """One session of one athlete, before it has lines."""

    plan: Plan
    week: WeekPlan
    day: Day
    specificity: Tag
    point: Tag
    factor: Tag
    limits: tuple[Limit, ...] = ()
    last_loading: Tag | None = None
    returning: int | None = None
    _shifted: dict[str, Tag] = field(default_factory=dict)

    @property
    def ledger(self) -> Ledger:
        """The programme's ledger."""
        return self.plan.ledger

    @property
    def in_season(self) -> bool:
        """Whether the week keeps what was built, between matches."""
        return self.week.season_place is not None

    @property
    def cautious(self) -> bool:
        """Whether nothing is flat out yet: an introduction week, or the first week back."""
        return self.week.kind == "introduction" or self.returning == 1

    @property
    def is_full(self) -> bool:
        """Whether the week holds most of a full week's work, so that the usual fewest runs make sense."""
        return float(self.factor.value) >= self.plan.number("weeks_ramp", "full_from")

    def dose(self, quantity: str, rule: str, number: str, *, at: Tag, geometric: bool = False) -> Tag:
        """Enter a dose between its general, middle and specific value."""
        numbers = [f"{number}_{point}" for point in ("general", "middle", "specific")]
        unit = self.plan.rulebook.rule(rule).numbers[numbers[0]].unit
        links: dict[str, Input] = {
            point: f"rule:{rule}.{name}"
            for point, name in zip(("general", "middle", "specific"), numbers, strict=True)
        }
        by = "dose.geometric" if geometric else "dose.linear"
        return self.ledger.compute(quantity, unit, by, specificity=at, **links)

    def volume_dose(self, quantity: str, rule: str, number: str, *, at: Tag) -> Tag:
        """Enter a dose of volume; a lighter week that opens a mesocycle is cut from the week before it."""
        if self.week.kind == "deload" and self.last_loading is not None:
            at = min(at, self.last_loading, key=lambda tag: float(tag.value))
        return self.dose(quantity, rule, number, at=at)

    def stepped(self, tag: Tag, step: Input, *, unit: str, quantity: str) -> Tag:
        """Round a dose to the steps a coach writes."""
        return self.ledger.compute(quantity, unit, "round.step", value=tag, step=step)

    def whole(self, tag: Tag, quantity: str) -> Tag:
        """Round to a whole number, half down."""
        return self.stepped(tag, literal(1), unit="1", quantity=quantity)

    def shifted(self, method: Method) -> Tag:
        """Give the specificity shifted by the day's role."""
        direction = {"heavier": -1, "faster": 1, "neutral": 0}[self.day.role]
        if method not in self._shifted:
            self._shifted[method] = self.ledger.compute(
                "specificity of the day",
                "share",
                "role.shift",
                specificity=self.specificity,
                shift=f"rule:day_roles.shift_{self.plan.level(method)}",
                direction=literal(direction),
            )
        return self._shifted[method]

    def wanted(self, method: Method | None, dose: Tag, *, unit: str, share: Input | None = None) -> Tag:
        """Enter what this line should hold: dose × the week's factor × the day's share × emphasis."""
        terms: dict[str, Input] = {"dose": dose, "factor": self.factor}
        if share is not None:
            terms["share"] = share
        if method is not None and method in self.plan.brief.phases.emphasis:
            terms["emphasis"] = f"brief:phases.emphasis.{method}"
        return self.ledger.compute("wanted", unit, "product", **terms)

    def count(self, wanted: Tag, each: Input, *, fewest: int, most: int) -> Tag:
        """Enter the whole number nearest the wanted volume."""
        return self.ledger.compute(
            "proposed",
            "1",
            "volume.count",
            wanted=wanted,
            each=each,
            fewest=literal(fewest),
            most=literal(max(fewest, most)),
        )

    def kit_of(self, kind: str) -> Kit | None:
        """Find the kit of a kind at the session's place."""
        return next(
            (kit for kit in self.plan.brief.kit if kit.kind == kind and kit.place == self.day.place.ref), None
        )

    def lanes(self) -> Input:
        """Give the place's lanes, or the book's where the place names none."""
        named = self.day.place.lanes
        return literal(named) if named else "rule:session_minutes.lanes"

    def turns(self, *, stations: int, lanes: Input) -> Tag:
        """Enter how many turns the group needs."""
        return self.ledger.compute(
            "turns",
            "1",
            "queue.turns",
            present=literal(self.day.present),
            stations=literal(stations),
            lanes=lanes,
        )

    def seconds(self, quantity: str, rule: str, number: str) -> Tag:
        """Enter seconds read from a dose."""
        return self.ledger.rule(quantity, rule, number)

    def change_over(self) -> Tag:
        """Enter the change-over before a block."""
        return self.ledger.rule("change-over", "session_minutes", "change_over_s")

    def suits(self, exercise: Exercise, *, level: Level) -> bool:
        """Say whether an exercise may stand here: level, place, kit, age, choice and restrictions."""
        age = self.plan.athlete.age_years(self.day.date)
        too_young = exercise.minimum_age_years > 0 and (age is None or age < exercise.minimum_age_years)
        preferred = exercise.ref in self.plan.brief.exercises.prefer
        gated = exercise.coach_only or GATED.intersection(exercise.prerequisites)
        return (
            LEVELS.index(exercise.level) <= LEVELS.index(level)
            and self.day.place.kind in exercise.place
            and (preferred or not gated)
            and not too_young
            and exercise.ref not in self.plan.brief.exercises.leave_out
            and all(self.has_kit(kind) for kind in exercise.kit)
            and not self.forbidden(exercise)
            and not self._too_heavy(exercise)
        )

    def choices(self, slot: str, *, level: Level, stage: str = "") -> tuple[Exercise, ...]:
        """Give the exercises that may stand in a slot, the coach's preferred first, then as catalogued."""
        fit = [
            exercise
            for exercise in self.plan.catalogue.in_slot(slot)
            if stage in {"", exercise.stage} and self.suits(exercise, level=level)
        ]
        prefer = self.plan.brief.exercises.prefer
        return tuple(sorted(fit, key=lambda exercise: exercise.ref not in prefer))

    def has_kit(self, kind: str) -> bool:
        """Say whether a kind of kit stands at the place; a gym has some without saying so."""
        if self.kit_of(kind) is not None:
            return True
        granted = {"pull_up_bar", "nordic_anchor"}
        if self.kit_of("barbell"):
            granted |= {"rack", "bench"}
        return self.day.gym and kind in granted

    def forbidden(self, exercise: Exercise) -> bool:
        """Say whether a restriction takes an exercise away altogether."""
        # A limit on one side takes an exercise away too: a line for the other side is the coach's to write.
        return any(limit.at_most == 0 and self._narrowed_to(limit, exercise) for limit in self.limits)

    def cap(self, what: str, exercise: Exercise) -> float | None:
        """Give the tightest limit on something for an exercise, or None."""
        caps = [
            limit.at_most
            for limit in self.limits
            if limit.what == what and self._narrowed_to(limit, exercise)
        ]
        return min(caps, default=None)

    def _too_heavy(self, exercise: Exercise) -> bool:
        """Say whether a limit on the load could not be kept: it is unknown here, or the bare bar is more."""
        known = self.plan.numbers.one_rep_max.get(exercise.one_rep_max_of or exercise.ref)
        caps = [self.cap("load_kg", exercise)]
        share = self.cap("share_1rm", exercise)
        caps.append(None if share is None else share * float(known.value) if known else 0.0)
        tightest = min((cap for cap in caps if cap is not None), default=None)
        if tightest is None or exercise.load_kind in {"none", "body", "sled"}:
            return False
        kit = self.kit_of(exercise.load_kind)
        return not self._says_load(exercise) or known is None or kit is None or tightest < loadable(kit)[0]

    def _says_load(self, exercise: Exercise) -> bool:
        """Say whether a line of this exercise has kilograms; by repetitions in reserve no limit is kept."""
        taught = exercise.method == "maximal_strength" and self.plan.level("maximal_strength") != "novice"
        return taught or exercise.method == "power"

    @staticmethod
    def _narrowed_to(limit: Limit, exercise: Exercise) -> bool:
        return (
            limit.method in {None, exercise.method}
            and limit.exercise in {None, exercise.ref}
            and (limit.tag is None or limit.tag in exercise.tags)
            and _touches(limit, exercise)
        )


def _touches(limit: Limit, exercise: Exercise) -> bool:
    """A limit on nothing in particular touches only what it measures."""
    if limit.method or limit.exercise or limit.tag:
        return True
    measured = {
        "share_vmax": exercise.method in SPRINTS,
        "distance_m": exercise.method in SPRINTS,
        "contacts": exercise.contacts_per_rep > 0,
        "load_kg": exercise.load_kind not in {"none", "body"},
        "share_1rm": bool(exercise.load_kind not in {"none", "body", "sled"}),
    }
    return measured.get(limit.what, True)

"""A number that planning, checking or a workflow goes by stands in the rulebook (HOUSE: who owns what).

What may stand in code is listed here with its reason: what the arithmetic needs, names of the book's own
numbers, weights inside the solver, and bounds beyond which a value is a slip.
"""

from __future__ import annotations

import ast
from collections.abc import Callable, Iterator

from house import layer_files, module_name, tree

ALLOWED = {
    "tolerances, steps and rounds of the arithmetic": {
        "checking.exposure._NEARLY", "checking.fields._GUARD", "checking.fields._HALF_UNIT",
        "checking.fields._VOLUME_DIGITS", "checking.line._NEARLY", "checking.lineage._NEARLY",
        "checking.pace._ENOUGH", "checking.pace._STEPS", "checking.plates._HALF_GRAM",
        "checking.recompute.plain._GUARD", "checking.recompute.session._GUARD",
        "checking.recompute.spread._STEP", "checking.rules.basis._ABSOLUTE", "checking.rules.basis._LOOSE",
        "checking.rules.basis._RELATIVE", "checking.rules.restrictions._NEARLY",
        "checking.rules.restrictions._VALUE",
        "checking.rules.rests._NEARLY", "checking.rules.runs._NEARLY", "checking.rules.weeks._NEARLY",
        "planning.formulas.FORMULAS", "planning.formulas._TINY", "planning.ledger.SLOPE",
        "workflows.check_news._SAME",
        "workflows.learned.NEAR",
        "workflows.sharpen_lifts.ROUNDS", "workflows.sharpen_loads._TINY",
        "workflows.sharpen_printed.HUNDREDTH", "workflows.sharpen_runs._STEP",
        "workflows.sharpen_sleds.LEAST", "workflows.sharpen_sleds.ROUNDS", "workflows.sharpen_sleds._STEP",
        "workflows.what_pays.SEED",
    },
    "constants of nature, of a published formula, of statistics and of the calendar": {
        "checking.plates._GRAMS", "checking.recompute.body._CHART",
        "checking.recompute.body._DRAG_COEFFICIENT",
        "checking.recompute.body._NORMAL_90", "checking.recompute.profile._NORMAL_90",
        "checking.recompute.spread._BAND_SDS", "checking.rules.document._DAYS",
        "checking.rules.health._MONTHS",
        "checking.rules.matches._SECONDS", "checking.rules.weeks._DAYS", "checking.traces._NORMAL_90",
        "planning.formulas._LAST_CHART_ROW", "planning.ledger.BAND_WIDTH", "planning.repairs.DAY_MIN",
        "workflows.retest_errors._TWO", "workflows.athlete_log.SUNDAY", "workflows.review_loads.A_WEEK",
        "workflows.sharpen_form.DAYS_A_WEEK",
    },
    "how many unknowns a fit has, so what it needs": {
        "checking.people._FEWEST_GATES", "checking.traces._FEWEST", "planning.measured.FEWEST_GATES",
        "workflows.profile_traces._FEWEST_POINTS", "workflows.sharpen_runs.UNKNOWNS",
    },
    "names, order and length of the book's own rows": {
        "checking.finding._ORDER", "checking.rules.rests._MIDDLE", "checking.rules.sessions._LAST",
        "checking.rules.sessions._ORDER", "checking.rules.sled._BANDS", "planning.lines.runs.HUNDRED_M",
        "planning.returning.LADDER", "planning.weeks.LAST_RAMP", "planning.weeks.OPEN_ENDED",
        "planning.weeks.RAMP_LONGEST",
        "planning.weeks.RESERVE_ROW", "planning.weeks.SEASON_CYCLE",
    },
    "rounding of what is written, owned by planning.prescribe and written again in checking": {
        "checking.recompute.session._REST_STEP_S", "planning.draft.HALF_MINUTE", "planning.limits.UNITS",
        "workflows.sharpen_printed.DECIMALS",
    },
    "prices and ranks inside the solver, and how far a repair looks": {
        "planning.by_hand.LAST_RANK", "planning.draft.OVER_ALIKE", "planning.draft.RANK_BASE",
        "planning.lines.runs.SPRINT_REP", "planning.problem.BAND_COST", "planning.problem.CHANGE_COST",
        "planning.problem.DEVIATION_COST", "planning.problem.FREE", "planning.problem.TIE_MOST",
        "planning.repaired.EPOCH", "planning.repairs.EARLIER_PRICE", "planning.repairs.EARLIEST_MIN",
        "planning.repairs.LATER_WEEKS", "planning.repairs.LONGEST_SLOT_MIN", "planning.repairs.STEP_MIN",
        "planning.sessions.LAST_RANK", "planning.calendar_week.NOON",
    },
    "bounds beyond which a value is a slip or a device's fault, said so and no rule": {
        "checking.traces._SLOW_MPS", "checking.traces._WILD_MPS", "workflows.editable.MOST",
        "workflows.lines.MOST_MINUTES", "workflows.log_limits.LIMITS",
        "workflows.profile_traces._FASTEST_MPS",
        "workflows.profile_traces._MOVING_MPS", "workflows.profile_warnings._NEAR_TOP_SPEED",
        "workflows.profile_warnings._POOR_FIT_SD", "workflows.sled_friction.MOST_FRICTION",
    },
    "what is shown, not judged": {
        "workflows.reference_bands.ADULT_YEARS", "workflows.review_amounts.BANDS",
        "workflows.what_pays.GENERAL_DISTANCE_M",
    },
}  # fmt: skip


SPANS = {
    "of the calendar: a week, to its last day": {
        "exchange.line_sessions.A_WEEK", "report.sheets.programme_book.A_WEEK",
        "web.pages.calendar.days.WEEK", "web.pages.today.facts.A_WEEK",
    },
    "how far back a page looks, which judges nothing": {
        "web.pages.athlete.views.ANSWERS_BACK", "web.pages.squad.views.LATELY",
    },
    "how long a link or a try to sign in counts": {
        "store.accounts.HELP_LIVES", "store.invitations.LIVES", "store.signing_in.LINK_LIVES",
        "store.signing_in.LOOK_BACK",
    },
    "a clock that goes wrong": {"web.pages.session.taking.CLOCKS_DIFFER"},
}  # fmt: skip
"""Spans of time in the layers above: whether somebody is to be tested again, say, stands in the rulebook."""


def has_number(value: ast.expr) -> bool:
    """Say whether a value has a number written out in it."""
    return any(
        isinstance(node, ast.Constant) and type(node.value) in {int, float} for node in ast.walk(value)
    )


def is_span(value: ast.expr) -> bool:
    """Say whether a value is a span of time with its number written out."""
    return isinstance(value, ast.Call) and ast.unparse(value.func) == "timedelta" and has_number(value)


def constants(*layers: str, meant: Callable[[ast.expr], bool] = has_number) -> Iterator[str]:
    """Name every number that a module of some layers writes out at its top."""
    for path in layer_files(*layers):
        for node in tree(path).body:
            match node:
                case ast.Assign(targets=targets, value=value):
                    named: list[ast.expr] = targets
                case ast.AnnAssign(target=target, value=ast.expr() as value):
                    named = [target]
                case _:
                    continue
            if meant(value):
                module = module_name(path).removeprefix("speedloom.")
                yield from (f"{module}.{one.id}" for one in named if isinstance(one, ast.Name))


def test_numbers_stand_in_the_rulebook_or_say_why_not() -> None:
    listed = {name for names in ALLOWED.values() for name in names}
    found = set(constants("planning", "checking", "workflows"))
    unsaid = sorted(found - listed)
    assert unsaid == [], f"Move them into rules.toml or doses.toml, or list them here with a reason: {unsaid}"
    assert sorted(listed - found) == [], "listed here, and gone from the code"


def test_a_span_that_judges_stands_in_the_rulebook_too() -> None:
    listed = {name for names in SPANS.values() for name in names}
    found = set(constants("store", "report", "exchange", "wording", "web", meant=is_span))
    assert sorted(found - listed) == [], "a rule goes to doses.toml; list what is none with its reason"
    assert sorted(listed - found) == [], "listed here, and gone from the code"

"""How a retest was judged: where error and smallest change come from, in sentences for colleagues."""

from __future__ import annotations

from speedloom.training.rule import Rulebook
from speedloom.wording.athlete_retest_values import chance_text, change_text, value_text
from speedloom.wording.units import METRIC, Units, number, share
from speedloom.wording.why_inputs import citation
from speedloom.workflows.retest import Panel, Retest


def error_text(panel: Panel, *, rulebook: Rulebook, units: Units = METRIC) -> str:
    """Say how large the typical error is, of what, and where it comes from."""
    error = panel.error
    if error is None:
        fewest = number(rulebook.number("retest", "repeats_fewest"))
        return f"no error known: under {fewest} repeats, none published"
    size = value_text(panel.measure, error.value, finer=True, units=units)
    if error.kind == "given":
        return f"{size} a trial, given"
    if error.kind == "own":
        return f"{size} a trial, own: {number(error.freedom)} repeats of {error.athletes} athletes"
    published = error.published
    note = (
        f" ({published.note}; {citation(published.source, published.mark, rulebook=rulebook)})"
        if published
        else ""
    )
    return f"{size} a test, published{note}"


def smallest_text(panel: Panel, *, units: Units = METRIC) -> str:
    """Say which change is worth having, and why that one."""
    smallest = panel.smallest
    if smallest is None:
        return "–"
    size = value_text(panel.measure, smallest.value, finer=True, units=units)
    why = {
        "given": "given",
        "squad_spread": f"0.2 of the spread of {smallest.athletes} athletes, noise taken out",
        "solo": "0.3 of the error, which stands for the spread from race to race",
        "error_instead": "0.3 of the error: athletes too few, or no more apart than the test's noise",
    }
    return f"{size}: {why[smallest.how]}"


def squad_text(panel: Panel, *, units: Units = METRIC) -> str:
    """Say the squad's mean change with its error, and how differently athletes changed."""
    squad = panel.squad
    if squad is None:
        return "each by itself"
    mean = change_text(panel.measure, squad.mean, finer=True, units=units)
    error = value_text(panel.measure, squad.mean_sd, finer=True, units=units)
    spread = value_text(panel.measure, squad.spread, finer=True, units=units)
    return f"{mean} ± {error}; athletes differ by {spread}"


def agreement_text(panel: Panel, *, units: Units = METRIC) -> str:
    """Say how well trials of one day agree: ICC, and the difference that 95 of 100 pairs stay below."""
    error = panel.error
    if error is None or error.icc is None or error.repeatability is None:
        return "–"
    within = value_text(panel.measure, error.repeatability, finer=True, units=units)
    return f"ICC {error.icc:.2f}; 95 of 100 pairs within {within}".replace("-", "−")


def count_text(panel: Panel) -> str:
    """Count the verdicts of a measure."""
    names = {"better": "better", "trivial": "no change", "unclear": "too close", "worse": "worse"}
    counts = {
        text: sum(change.verdict == verdict for change in panel.changes) for verdict, text in names.items()
    }
    return ", ".join(f"{count} {text}" for text, count in counts.items() if count) or "not judged"


def method_lines(found: Retest) -> tuple[str, ...]:
    """Say how it was judged, in the order it was done, with what it cannot say."""
    trials = "best" if found.trial_rule == "best" else "mean"
    values = (
        f"Values. First test against last. Times and jumps: the {trials} of the day's trials; top speed and "
        "start force (N/kg: newtons for each kilogram of body mass): fitted to the mean of the day's trials. "
        "Only tests timed and started alike, on the same surface, are compared."
    )
    error = (
        "Error. From the squad's own repeats, trials of one day (SD of differences / √2, pooled over "
        f"athletes and days), where there are {found.fewest.repeats} or more; else published. The error of a "
        "best or a mean of several trials is smaller than that of one (order statistics of a normal error); "
        "more tries in one test than in the other are allowed for. An error known from few repeats counts as "
        "unsure. Own repeats of one day do not hold what differs from day to day, so a chance is at most as "
        "sure as it reads."
    )
    smallest = (
        "Smallest worthwhile change. 0.2 of the spread between athletes of one sex, freed of the noise "
        f"({found.fewest.for_spread} athletes or more); for those who compete alone 0.3 of the spread from "
        "race to race (Hopkins 2004, read)."
    )
    chances = (
        f"Chances. From {found.fewest.for_squad} athletes on, each change is drawn to the squad's, the more "
        "the noisier the test, so that luck is not celebrated: a normal model of squad, athlete and error, "
        f"in which changes of {number(found.usual_changes)} smallest worthwhile changes are usual. With "
        "fewer athletes each is read as measured."
    )
    words = (
        f"Words. “Likely” needs a chance of at least {share(found.likely)}, at most {share(found.unlikely)} "
        "of the opposite, and an own difference of the worthwhile size (rule T1, common practice; chances of "
        f"this kind are disputed as statistics). A chance of {chance_text(0.9)} is wrong once in ten. "
        "Nothing here says why something changed."
    )
    return values, error, smallest, chances, words

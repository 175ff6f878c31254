"""The command line: one file a command."""

from __future__ import annotations

import sys
import traceback
from collections.abc import Sequence

import typer

from speedloom.cli import (
    backup,
    check,
    copies,
    demo,
    diff,
    doctor,
    edit,
    handout,
    lines,
    log,
    plan,
    profile,
    replan,
    restore,
    retest,
    review,
    rules,
    schema,
    serve,
    sharpen,
    why,
)
from speedloom.cli._own_stdout import keep_stdout

STOPPED = 130
"""What a shell expects of a program stopped by Control-C."""

SUMMARY = "Plan, explain, check and print sprint-speed programmes from a coach's own tests."
EXIT_CODES = "Exit codes: 0 good; 1 hard findings or refused trials; 2 unusable input; 3 infeasible."

app = typer.Typer(
    name="speedloom",
    help=SUMMARY,
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    add_completion=False,
    epilog=EXIT_CODES,
)


@app.callback()
def speedloom() -> None:
    """Plan, explain, check and print sprint-speed programmes from a coach's own tests."""


for _name, _command in (
    ("demo", demo.demo_command),
    ("profile", profile.profile_command),
    ("plan", plan.plan_command),
    ("check", check.check_command),
    ("why", why.why_command),
    ("handout", handout.handout_command),
    ("diff", diff.diff_command),
    ("replan", replan.replan_command),
    ("review", review.review_command),
    ("sharpen", sharpen.sharpen_command),
    ("retest", retest.retest_command),
    ("edit", edit.edit_command),
    ("swap", lines.swap_command),
    ("add", lines.add_command),
    ("remove", lines.remove_command),
    ("copy", copies.copy_command),
    ("lock", edit.lock_command),
    ("unlock", edit.unlock_command),
    ("undo", edit.undo_command),
    ("rules", rules.rules_command),
    ("schema", schema.schema_command),
    ("serve", serve.serve_command),
    ("backup", backup.backup_command),
    ("restore", restore.restore_command),
    ("doctor", doctor.doctor_command),
):
    app.command(_name)(_command)
app.add_typer(log.log_app, name="log")


def main(arguments: Sequence[str] | None = None) -> None:
    """Answer one command line; whatever happens is said in words."""
    if arguments is None:
        keep_stdout()
    try:
        app(arguments)
    except BrokenPipeError:
        # Whoever read our output has heard enough; closing stderr keeps the interpreter from complaining.
        sys.stderr.close()
    except KeyboardInterrupt:
        sys.exit(_say("Stopped; nothing was written.", code=STOPPED))
    except Exception as error:  # noqa: BLE001 - the last resort: no traceback ever reaches a coach
        sys.exit(_say(_unforeseen(error), code=2))


def _say(text: str, *, code: int) -> int:
    sys.stderr.write(f"{text}\n")
    return code


def _unforeseen(error: Exception) -> str:
    frames = traceback.extract_tb(error.__traceback__)[-3:]
    where = " > ".join(f"{frame.name} line {frame.lineno}" for frame in frames)
    return (
        "Speedloom met something it was not made for, and nothing was written: "
        f"{type(error).__name__}: {error}\n"
        f"This is a fault of the program. Please report the command you typed and this line: {where}"
    )

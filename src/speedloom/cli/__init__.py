"""The command line: one file a command."""

import typer

app = typer.Typer(
    name="speedloom",
    help="Plan, explain, check and print sprint-speed programmes from a coach's own tests.",
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    add_completion=False,
)


@app.callback()
def speedloom() -> None:
    """Plan, explain, check and print sprint-speed programmes from a coach's own tests."""


def main() -> None:
    """Answer one command line."""
    app()

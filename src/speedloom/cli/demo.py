"""`speedloom demo`: the invented squad, planned, checked and printed in one go."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from importlib.resources import as_file, files
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from typer import Option

from speedloom.cli._answer import faults_in_words, message, refuse, result
from speedloom.cli._files import write_all
from speedloom.cli._progress import progress
from speedloom.cli.serve import NoBrowser, Port

if TYPE_CHECKING:
    from speedloom.cli._read import Read
    from speedloom.training.brief import Brief
    from speedloom.training.measurement import Measurements
    from speedloom.training.programme import Programme

BRIEF = "spring_build.toml"
HEAD = "An invented field-hockey squad: its people, club and numbers belong to nobody."


def demo_command(
    *,
    out: Annotated[Path, Option(help="The folder to write into; made when it is not there.")] = Path("demo"),
    serve: Annotated[
        bool, Option("--serve", help="Then serve the site with the squad in it, until Control-C.")
    ] = False,
    no_browser: NoBrowser = False,
    port: Port = None,
) -> None:
    """Plan the invented demo squad, check it, print it, and say what was made and where."""
    with faults_in_words():
        from speedloom.cli._read import read_resolved
        from speedloom.cli.plan import checked, planned, summary
        from speedloom.exchange.documents import canonical

        if out.exists() and not out.is_dir():
            refuse([f"--out: expected a folder, got the file {out}."])
        message(HEAD)
        with as_file(files("speedloom.cli") / "demo_squad") as folder:
            living = _living(folder) if serve else None
            read = living.read if living else read_resolved(folder / BRIEF)
        read, programme = planned(read)
        said = summary(programme, findings=checked(programme, read=read), read=read)
        with progress("Drawing") as report:
            report("sheets, book and weave", 0.0)
            papers = dict(_papers(programme))
        out.mkdir(parents=True, exist_ok=True)
        made = {out / "spring_build.json": canonical(programme).encode()}
        made |= {out / name: content for name, content in papers.items()}
        write_all(made)
    result(said + "\n" + "\n".join(_made(made)))
    if living:
        _serve(out / "data", living, programme, port=port, browser=not no_browser)


@dataclass(frozen=True)
class _Living:
    """The squad with its dates moved, so that it is in the middle of its programme today."""

    today: date
    brief: Brief
    measurements: Measurements
    read: Read


def _living(folder: Path) -> _Living:
    from zoneinfo import ZoneInfo

    from speedloom.cli._demo_life import moved
    from speedloom.cli._read import resolved
    from speedloom.exchange.brief_file import read_brief

    written, tests = read_brief(folder / BRIEF)
    today = datetime.now(tz=ZoneInfo(written.timezone)).date()
    brief, measurements = moved(written, tests, today=today)
    return _Living(today, brief, measurements, resolved(brief, measurements))


def _serve(data: Path, squad: _Living, programme: Programme, *, port: int | None, browser: bool) -> None:
    from speedloom.cli._demo_life import life
    from speedloom.cli._demo_site import store_demo
    from speedloom.cli.serve import serve

    with faults_in_words():
        behind = life(programme, squad.measurements, today=squad.today)
        store_demo(data, squad.brief, squad.measurements, programme, life=behind)
        serve(data, port=port, browser=browser)


def _papers(programme: Programme) -> Iterator[tuple[str, bytes]]:
    from speedloom.handouts import papers
    from speedloom.handouts.papers import Order

    yield "session_sheets.pdf", papers.session_sheets(programme, Order())
    yield "book.pdf", papers.book(programme, Order())
    yield "athlete_sheets_week_1.pdf", papers.athlete_sheets(programme, Order(week=1))
    yield "weave.svg", papers.weave(programme, Order())


def _made(files: dict[Path, bytes]) -> Iterator[str]:
    width = max(len(str(path)) for path in files)
    yield "Made:"
    yield from (f"  {path!s:<{width}}  {len(content) / 1000:,.0f} kB" for path, content in files.items())
    programme = next(iter(files))
    yield f"Next: speedloom check {programme}"

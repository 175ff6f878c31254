"""How every command ends: results on stdout, words on stderr, and an exit code that says which."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from typing import NoReturn

import typer

GOOD, HARD_FINDINGS, UNUSABLE, INFEASIBLE = 0, 1, 2, 3


def result(text: str) -> None:
    """Write a result on stdout."""
    sys.stdout.write(text if text.endswith("\n") else f"{text}\n")


def result_json(value: object) -> None:
    """Write exactly one JSON value on stdout."""
    result(json.dumps(value, ensure_ascii=False, allow_nan=False, indent=2))


def message(*lines: str) -> None:
    """Write words for the person on stderr."""
    sys.stderr.writelines(f"{line}\n" for line in lines)


def end(code: int) -> NoReturn:
    """End the command with an exit code."""
    raise typer.Exit(code)


def refuse(lines: Iterable[str], *, code: int = UNUSABLE) -> NoReturn:
    """Say what cannot be used and end."""
    message(*lines)
    end(code)


@contextmanager
def faults_in_words() -> Iterator[None]:
    """Turn what the readers and writers find wrong into lines and exit code 2."""
    from speedloom.errors import SpeedloomError
    from speedloom.exchange.fault import UnusableFileError
    from speedloom.wording.faults import fault_lines

    try:
        yield
    except UnusableFileError as error:
        refuse(fault_lines(error.faults))
    except SpeedloomError as error:
        refuse([str(error)])
    except OSError as error:
        refuse([f"{error.filename or 'A file'}: {error.strerror or error}; nothing was written."])

"""Documents as JSON: canonical form, digest, reading with every fault, writing whole or not at all."""

from __future__ import annotations

import json
import os
from contextlib import suppress
from pathlib import Path
from tempfile import NamedTemporaryFile
from typing import Any, Never, TypeVar

from pydantic import BaseModel, ValidationError

from speedloom.exchange.fault import Fault, UnusableFileError, shown
from speedloom.exchange.model_faults import faults_of
from speedloom.training.document import canonical, digest
from speedloom.training.log import Log
from speedloom.training.programme import Programme

__all__ = [
    "canonical",
    "digest",
    "read_json",
    "read_log",
    "read_programme",
    "read_text",
    "validate",
    "write_atomically",
    "write_document",
]

Document = TypeVar("Document", bound=BaseModel)


def write_atomically(path: Path, content: str | bytes) -> None:
    """Write a file whole or not at all: aside in the same folder, to the disk, then renamed.

    Raises:
        UnusableFileError: the folder cannot be written to.
    """
    data = content.encode() if isinstance(content, str) else content
    try:
        with NamedTemporaryFile(dir=path.parent, prefix=f".{path.name}.", delete=False) as aside:
            try:
                aside.write(data)
                aside.flush()
                os.fsync(aside.fileno())
                # A temporary file is for its owner only; the document gets what any new file would.
                Path(aside.name).chmod(0o644)
                Path(aside.name).replace(path)
            except BaseException:
                with suppress(FileNotFoundError):
                    Path(aside.name).unlink()
                raise
    except OSError as error:
        todo = "choose a folder that exists and can be written to"
        fault = Fault(str(path), None, "", error.strerror or str(error), "a place to write the file", todo)
        raise UnusableFileError([fault]) from error


def write_document(path: Path, document: BaseModel) -> None:
    """Write a document in its canonical form, whole or not at all."""
    write_atomically(path, canonical(document))


def read_text(path: Path) -> str:
    """Read a text file (UTF-8, a byte-order mark is dropped).

    Raises:
        UnusableFileError: no such file, not readable, or not UTF-8.
    """
    try:
        return path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError as error:
        row = error.object[: error.start].count(b"\n") + 1
        came = f"byte {error.object[error.start]:#04x}"
        fault = Fault(str(path), row, "", came, "text in UTF-8", 'save it again as "UTF-8"')
    except OSError as error:
        fault = Fault(str(path), None, "", error.strerror or str(error), "a readable file", "check the name")
    raise UnusableFileError([fault])


def read_json(path: Path) -> object:
    """Read a JSON file; a key that stands twice is a fault.

    Raises:
        UnusableFileError: not readable or not JSON.
    """
    text = read_text(path)
    try:
        return json.loads(text, object_pairs_hook=_once, parse_constant=_no_constant)
    except json.JSONDecodeError as error:
        fault = Fault(str(path), error.lineno, f"column {error.colno}", error.msg, "JSON", "mend this place")
    except (ValueError, RecursionError) as error:
        fault = Fault(str(path), None, "", str(error), "JSON of plain numbers and keys", "mend this place")
    raise UnusableFileError([fault])


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    table = dict(pairs)
    if len(table) != len(pairs):
        keys = [key for key, _ in pairs]
        raise ValueError(f"key {next(key for key in keys if keys.count(key) > 1)!r} twice in one object")
    return table


def _no_constant(name: str) -> Never:
    raise ValueError(f"{name}, which is no number")


def read_programme(path: Path) -> Programme:
    """Read a programme, or say everything that is wrong with it.

    Raises:
        UnusableFileError: every fault, each with its path in the document.
    """
    return validate(Programme, read_json(path), file=str(path), schema="speedloom.programme/1")


def read_log(path: Path) -> Log:
    """Read a log, or say everything that is wrong with it.

    Raises:
        UnusableFileError: every fault, each with its path in the document.
    """
    return validate(Log, read_json(path), file=str(path), schema="speedloom.log/1")


def validate(model: type[Document], content: object, *, file: str, schema: str) -> Document:
    """Turn JSON content into a document.

    Raises:
        UnusableFileError: every fault, each with its path in the document.
    """
    wrong = schema_fault(content, file=file, schema=schema)
    if wrong is not None:
        raise UnusableFileError([wrong])
    try:
        return model.model_validate_json(json.dumps(content))
    except ValidationError as error:
        raise UnusableFileError(faults_of(error, model=model, file=file)) from error


def schema_fault(content: object, *, file: str, schema: str) -> Fault | None:
    """Say what is wrong with a document's schema line, a newer major above all; None where it is right."""
    if not isinstance(content, dict):
        expected = f"a document with schema {shown(schema)}"
        return Fault(file, None, "", shown(content), expected, "check the file")
    came = content.get("schema")
    if came == schema:
        return None
    document, _, major = schema.rpartition("/")
    name, _, number = str(came).rpartition("/")
    todo = f"write schema = {shown(schema)}"
    if name == document and number.isdecimal() and int(number) > int(major):
        todo = f"a newer Speedloom wrote this file; this one reads up to {major}: update Speedloom"
    elif name.startswith("speedloom.") and name != document:
        todo = f"this is a {name.removeprefix('speedloom.')}, not a {document.removeprefix('speedloom.')}"
    return Fault(file, None, "schema", shown(came), shown(schema), todo)

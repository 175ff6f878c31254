"""`speedloom schema`: the JSON Schema of a document."""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING, Annotated

from typer import Argument

from speedloom.cli._answer import result_json

if TYPE_CHECKING:
    from pydantic import BaseModel


class Document(StrEnum):
    """The documents that have a schema."""

    BRIEF = "brief"
    PROGRAMME = "programme"
    LOG = "log"


def schema_command(
    document: Annotated[Document, Argument(help="Which document.")],
) -> None:
    """Print the JSON Schema (2020-12) of a brief, a programme or a log."""
    schema = _model(document).model_json_schema(by_alias=True, mode="validation")
    result_json({"$schema": "https://json-schema.org/draft/2020-12/schema", **schema})


def _model(document: Document) -> type[BaseModel]:
    from speedloom.training.brief import Brief
    from speedloom.training.log import Log
    from speedloom.training.programme import Programme

    models: dict[Document, type[BaseModel]] = {
        Document.BRIEF: Brief,
        Document.PROGRAMME: Programme,
        Document.LOG: Log,
    }
    return models[document]

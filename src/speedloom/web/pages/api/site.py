"""The API put together, and its description with every document it takes and gives."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache, wraps
from importlib.metadata import version
from typing import Any

from django.http import HttpRequest, HttpResponseNotAllowed, JsonResponse
from django.http.response import HttpResponseBase
from django.urls import URLPattern
from ninja import NinjaAPI
from pydantic import BaseModel

from speedloom.web.pages.api import problems, programmes, squads
from speedloom.web.pages.api.doors import Closed, Key
from speedloom.web.pages.api.problems import Problems
from speedloom.web.pages.api.squads import TAKES

REFERENCES = "#/components/schemas/{model}"
REFUSED = ("401", "403", "404", "409", "422")

api = NinjaAPI(
    title="Speedloom",
    version=version("speedloom"),
    description="A squad's tests, programmes, checks and log, for programs of those who are of the squad.",
    docs_url=None,
    openapi_url=None,
    urls_namespace="api",
    auth=Closed(),
)
problems.teach(api)
api.add_router("", squads.router)
api.add_router("", programmes.router)


def addresses() -> list[URLPattern]:
    """Give the API's addresses; a method that one does not take is answered as JSON, like every refusal."""
    every: list[Any] = list(api.urls[0])
    found = [pattern for pattern in every if pattern.name != "api-root"]
    for pattern in found:
        pattern.callback = _in_json(pattern.callback)
    return found


def _in_json(view: Callable[..., Any]) -> Callable[..., HttpResponseBase]:
    @wraps(view)
    def inner(request: HttpRequest, *given: Any, **named: Any) -> HttpResponseBase:  # noqa: ANN401 - the address
        answer: HttpResponseBase = view(request, *given, **named)
        if not isinstance(answer, HttpResponseNotAllowed):
            return answer
        told = problems.refused(request, answer.status_code, f"Not {request.method} here.", todo="see Allow")
        told["Allow"] = answer["Allow"]
        return told

    inner.of_api = True  # type: ignore[attr-defined]  # a door of its own, and a row in the tests' table
    return inner


@api.get("/openapi.json", auth=Key(None), include_in_schema=False)
def openapi(request: HttpRequest) -> JsonResponse:  # noqa: ARG001 - who asks was looked at at the door
    """Give the description of every call."""
    return JsonResponse(description())


@cache
def description() -> dict[str, Any]:
    """Describe every call: what it takes, what it sends back, and how it says no."""
    schema: dict[str, Any] = dict(api.get_openapi_schema(path_prefix="/api/"))
    parts = schema["components"]["schemas"]
    said_no = _reference(Problems, parts)
    for calls in schema["paths"].values():
        for call in calls.values():
            model = call.pop(TAKES, None)
            if model is not None:
                body = {"application/json": {"schema": _reference(model, parts)}}
                call["requestBody"] = {"required": True, "content": body}
            call["responses"] = {str(status): answer for status, answer in call["responses"].items()}
            for status in REFUSED:
                call["responses"][status] = {
                    "description": "What does not go; nothing was done",
                    "content": {"application/json": {"schema": said_no}},
                }
    return schema


def _reference(model: type[BaseModel], parts: dict[str, Any]) -> dict[str, str]:
    own = model.model_json_schema(ref_template=REFERENCES)
    parts |= own.pop("$defs", {})
    parts[model.__name__] = own
    return {"$ref": REFERENCES.format(model=model.__name__)}

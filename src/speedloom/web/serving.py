"""The site served by waitress, on this computer only unless asked otherwise."""

from __future__ import annotations

import gc
import socket
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from waitress import create_server

from speedloom.store.refusals import RefusedError
from speedloom.web.settings import LONGEST_UPLOAD, MEGABYTE
from speedloom.web.site import application

LOOPBACK, EVERYWHERE = "127.0.0.1", "0.0.0.0"  # noqa: S104 - only with --lan, which asks for accounts
USUAL_PORT = 8420
THREADS = 6
SELDOM = (20_000, 20, 10)
"""How seldom Python looks for circles of objects nobody holds: its `gc` thresholds [count]."""


@dataclass(frozen=True)
class Served:
    """A server that listens and answers when it is run."""

    port: int
    run: Callable[[], None]
    close: Callable[[], None]


def listen(*, lan: bool, port: int | None, behind: bool = False) -> Served:
    """Open the server's port: the one asked for, or the usual one, or any free one when that is taken.

    Args:
        lan: listen on every address of this computer.
        port: the port; None for the usual one.
        behind: a server with TLS on this computer stands in front and says who asks.

    Raises:
        RefusedError: the port that was asked for is taken.
    """
    settle()
    host = EVERYWHERE if lan else LOOPBACK
    try:
        server = _server(host, USUAL_PORT if port is None else port, behind=behind)
    except OSError as error:
        if port is not None:
            raise RefusedError(f"Port {port} cannot be used ({error.strerror}); choose another.") from error
        server = _server(host, 0, behind=behind)
    return Served(int(server.effective_port), server.run, server.close)


def settle() -> None:
    """Look for objects in circles seldom, and not among those of the start.

    Squads' programmes in memory are a million objects without a circle; by its own habit Python goes through
    all of them at every second change, a tenth of a second each time.
    """
    gc.collect()
    gc.freeze()
    gc.set_threshold(*SELDOM)


def _server(host: str, port: int, *, behind: bool) -> Any:  # noqa: ANN401 - waitress is untyped
    trusted: dict[str, object] = {}
    if behind:
        trusted = {
            "trusted_proxy": LOOPBACK,
            "trusted_proxy_count": 1,
            "trusted_proxy_headers": {"x-forwarded-for", "x-forwarded-proto"},
        }
    return create_server(
        application(),
        host=host,
        port=port,
        threads=THREADS,
        ident=None,
        max_request_body_size=LONGEST_UPLOAD + MEGABYTE,
        clear_untrusted_proxy_headers=True,
        **trusted,
    )


def lan_address() -> str | None:
    """Give this computer's address in its network, or None without one; nothing is sent."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as way:
        try:
            way.connect(("192.0.2.1", 9))  # an address of the documentation: only the way there is looked up
        except OSError:
            return None
        address = str(way.getsockname()[0])
    return None if address.startswith("127.") else address

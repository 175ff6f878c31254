"""`speedloom serve`: the site on this computer, opened in the browser and signed in."""

from __future__ import annotations

import signal
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from typer import Option

from speedloom.cli._answer import faults_in_words, message, refuse, result
from speedloom.cli._site import Data, Database, keeper, open_site, options

if TYPE_CHECKING:
    from speedloom.store.cards import Actor
    from speedloom.web.serving import Served

ACCOUNT_FIRST = (
    "--lan and --address: others could reach the site, and your account has no password yet. "
    "Start without them, choose a password under your name, and come back."
)
Port = Annotated[
    int | None, Option("--port", min=1, max=65535, help="The port; 8420, or a free one, where not given.")
]
NoBrowser = Annotated[bool, Option("--no-browser", help="Print the link and open nothing.")]


def serve_command(
    *,
    data: Data = None,
    port: Port = None,
    lan: Annotated[
        bool, Option("--lan", help="Answer other devices in the network too; needs a password first.")
    ] = False,
    address: Annotated[
        str | None,
        Option("--address", help="https://… that people use, where a server with TLS stands in front."),
    ] = None,
    database: Database = None,
    no_browser: NoBrowser = False,
) -> None:
    """Serve the site until Control-C, and open it in the browser, signed in by a link that works once."""
    with faults_in_words():
        serve(data, port=port, lan=lan, address=address, database=database, browser=not no_browser)


def serve(
    data: Path | None,
    *,
    port: int | None = None,
    lan: bool = False,
    address: str | None = None,
    database: str | None = None,
    browser: bool = True,
) -> None:
    """Serve the site of a data folder."""
    from speedloom.web.serving import lan_address, listen

    mine = lan_address() if lan else None
    front = _front(address)
    if lan and mine is None:
        refuse(["--lan: this computer is in no network now; join one, or leave --lan out."])
    hosts = tuple(host for host in (mine, front) if host)
    site = options(data, database, hosts=hosts, secure=front is not None, port=port)
    open_site(site)
    from speedloom.store.people import has_password

    who = keeper()
    if (lan or front) and not has_password(who):
        refuse([ACCOUNT_FIRST])
    served = listen(lan=lan, port=port, behind=front is not None)
    _say_where(served, who, lan=mine, address=address, browser=browser)
    _run(served)


def _front(address: str | None) -> str | None:
    from urllib.parse import urlsplit

    if address is None:
        return None
    parts = urlsplit(address)
    if parts.scheme != "https" or not parts.hostname:
        refuse([f"--address: expected https://… as people type it, got {address}."])
    return parts.hostname


def _say_where(served: Served, who: Actor, *, lan: str | None, address: str | None, browser: bool) -> None:
    from speedloom.store.signing_in import one_time_secret

    link = f"http://127.0.0.1:{served.port}/sign-in/{one_time_secret(who)}/"
    result(f"Signed in once, within ten minutes: {link}")
    if lan or address:
        place = address or f"http://{lan}:{served.port}/"
        result(f"For others, who sign in: {place}")
        result(_square(place))
    message("Control-C stops it.")
    sys.stdout.flush()
    if browser:
        _open(link)


def _square(text: str) -> str:
    from io import StringIO

    import segno

    page = StringIO()
    segno.make(text, micro=False).terminal(out=page, compact=True)
    return page.getvalue()


def _open(link: str) -> None:
    """Open the browser from a thread: some browsers keep who opens them waiting."""
    import threading
    import webbrowser

    threading.Thread(target=webbrowser.open, args=(link,), daemon=True).start()


def _run(served: Served) -> None:
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(0))
    try:
        served.run()
    except KeyboardInterrupt:
        pass
    finally:
        served.close()
    message("Stopped; everything is saved.")

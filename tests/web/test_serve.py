"""`speedloom serve` as it is typed: a link that signs in once, loopback only, files for this account only."""

from __future__ import annotations

import http.client
import re
import signal
import socket
import subprocess
import sys
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlsplit

import pytest

from live_site import served
from speedloom.web.serving import lan_address


@dataclass(frozen=True)
class Answer:
    """What the site gave back."""

    status: int
    head: str
    text: str

    @property
    def cookies(self) -> str:
        """What a browser would send from now on."""
        return "; ".join(re.findall(r"speedloom_\w+=\w+", self.head))


def ask(port: int, path: str, *, cookie: str = "", host: str | None = None) -> Answer:
    """Ask the site for a page, as a browser does."""
    with closing(http.client.HTTPConnection("127.0.0.1", port, timeout=60)) as connection:
        headers = {"Host": host or f"127.0.0.1:{port}", "Cookie": cookie, "Connection": "close"}
        connection.request("GET", path, headers=headers)
        with connection.getresponse() as answer:
            return Answer(answer.status, str(answer.headers), answer.read().decode())


def refused(*arguments: object) -> str:
    """Give the words with which a command line is refused before anything is served."""
    command = [sys.executable, "-m", "speedloom", "serve", "--no-browser", *map(str, arguments)]
    done = subprocess.run(command, capture_output=True, text=True, check=False, timeout=60)
    assert (done.returncode, done.stdout) == (2, "")
    return done.stderr


def test_a_new_site_opens_signed_in_by_a_link_that_works_once(tmp_path: Path) -> None:
    with served("serve", "--data", tmp_path / "data") as (site, port, link):
        assert ask(port, "/").status == 302
        entered = ask(port, link)
        assert entered.status == 302
        page = ask(port, "/", cookie=entered.cookies)
        assert page.status == 200
        assert "No squad yet" in page.text
        assert ask(port, link).status == 410
        assert ask(port, "/", host="evil.example").status == 400
        assert ask(port, "/health/").text == "ok\n"
        site.send_signal(signal.SIGTERM)
        assert site.wait(timeout=20) == 0
    for path in tmp_path.glob("data/*"):
        assert path.stat().st_mode & 0o077 == 0, path


def test_styles_and_scripts_come_from_the_site(tmp_path: Path) -> None:
    with served("serve", "--data", tmp_path / "data") as (_, port, _link):
        page = ask(port, "/sign-in/").text
        parts = re.findall(r'(?:src|href)="(/static/[^"]+)"', page)
        assert len(parts) >= 3
        assert {ask(port, urlsplit(part).path).status for part in parts} == {200}


def test_the_network_is_served_only_with_a_password(tmp_path: Path) -> None:
    assert "choose a password under your name" in refused("--lan", "--data", tmp_path / "data")


WITH_ACCOUNT = """
import sys; from pathlib import Path
from speedloom.cli._site import open_site, options
open_site(options(Path(sys.argv[1]), None))
from speedloom.store.people import make_person
make_person(login="coach", name="Coach", password="a kite above the harbour", keeper=True)
"""


def test_the_network_is_served_with_an_address_and_a_square(tmp_path: Path) -> None:
    if lan_address() is None:
        assert "is in no network now" in refused("--lan", "--data", tmp_path / "data")
        return
    subprocess.run([sys.executable, "-c", WITH_ACCOUNT, str(tmp_path / "data")], check=True)
    with served("serve", "--lan", "--data", tmp_path / "data") as (site, port, link):
        assert site.stdout is not None
        assert site.stdout.readline() == f"For others, who sign in: http://{lan_address()}:{port}/\n"
        square = [site.stdout.readline() for _ in range(12)]
        assert all(set(line) & set("▄▀█") for line in square[2:])
        assert ask(port, "/sign-in/", host=f"{lan_address()}:{port}").status == 200
        assert ask(port, link).status == 302


@pytest.mark.parametrize("address", ["http://speed.example", "speed.example"])
def test_an_address_for_others_is_https(address: str, tmp_path: Path) -> None:
    said = refused("--address", address, "--data", tmp_path / "data")
    assert f"expected https://… as people type it, got {address}" in said


def test_a_port_that_is_taken_is_said(tmp_path: Path) -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = taken.getsockname()[1]
        assert f"Port {port} cannot be used" in refused("--port", port, "--data", tmp_path / "data")


def test_the_demo_serves_its_squad_from_a_data_folder_of_its_own(tmp_path: Path) -> None:
    with served("demo", "--serve", "--out", tmp_path / "demo") as (_site, port, link):
        page = ask(port, "/", cookie=ask(port, link).cookies).text
        assert "Demo squad (invented)" in page
        assert "14 athletes" in page
        assert "Spring build" in page
    assert (tmp_path / "demo" / "session_sheets.pdf").exists()
    with served("serve", "--data", tmp_path / "demo" / "data") as (_site, port, link):
        assert "14 athletes" in ask(port, "/", cookie=ask(port, link).cookies).text

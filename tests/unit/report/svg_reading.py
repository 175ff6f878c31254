"""Reads drawn pictures back."""

from __future__ import annotations

from xml.etree import ElementTree as ET

SVG = "{http://www.w3.org/2000/svg}"


def parsed(picture: str) -> ET.Element:
    """Parse a picture; one that is not well-formed raises."""
    return ET.fromstring(picture)  # noqa: S314  # our own drawing, not a stranger's


def texts(picture: ET.Element) -> list[str]:
    return [found.text or "" for found in picture.iter(f"{SVG}text")]

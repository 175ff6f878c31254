"""Secrets in links: made here, kept only as a hash."""

from __future__ import annotations

from hashlib import sha256
from secrets import choice, token_urlsafe

_PLAIN = "abcdefghjkmnpqrstuvwxyz23456789"
KEY_LENGTH = 10


def new_secret() -> str:
    """Make a secret of 256 bits, fit for a link."""
    return token_urlsafe(32)


def hashed(secret: str) -> str:
    """Hash a secret; it is random and long, so a plain fast hash keeps it."""
    return sha256(secret.encode()).hexdigest()


def new_key() -> str:
    """Make a key for addresses: short, without letters that look alike, and not to be guessed."""
    return "".join(choice(_PLAIN) for _ in range(KEY_LENGTH))

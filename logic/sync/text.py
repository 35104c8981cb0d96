"""The one way that sync writes JSON down: the same value gives the same text on every machine."""

import hashlib
import json
from typing import Any

_encode = json.JSONEncoder(sort_keys=True, separators=(",", ":"), allow_nan=False).encode


def text_of(value: Any) -> str:
    """Canonical JSON in plain ASCII, so that any database holds it. Raises ValueError for NaN."""
    return _encode(value)


def digest(value: Any) -> str:
    """SHA-256 of a JSON value, as hexadecimal digits."""
    return digest_of_text(text_of(value))


def digest_of_text(text: str) -> str:
    """SHA-256 of a value that is written down already."""
    return hashlib.sha256(text.encode()).hexdigest()

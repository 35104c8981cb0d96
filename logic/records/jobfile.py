"""The job file: one job as JSON, the unit of export, import, backup and of the command line.

Quantities are text with a unit ("20 m", "35 g/m^2", "27 paces"). Parts that this version does not know
are let be. A name that stands twice in one object is refused: one of the two would be lost in silence.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Any

from logic.errors import BadValue, BrokenFile, NewerFormat
from logic.numbers import said
from logic.records.nesting import is_deeper

FORMAT = "swardwright-job/1"
LARGEST = 5_000_000
_DEEPEST = 32  # far more than outlines within outlines need, far less than Python's stack holds
_PARTS: tuple[tuple[str, type | tuple[type, ...], str], ...] = (
    ("client", dict, "an object"),
    ("sward", dict, "an object"),
    ("pace", dict, "an object"),
    ("outline", dict, "an object"),
    ("second_outline", dict, "an object"),
    ("levels", dict, "an object"),
    ("readings", list, "a list"),
    ("works", list, "a list"),
)
_TEXTS = ("name", "email", "phone", "address", "kind")  # of client and sward


def loads(text: str | bytes) -> dict[str, Any]:
    """The job in a job file's text. Raises BrokenFile or NewerFormat with one sentence; changes nothing."""
    if len(text) > LARGEST:
        raise BrokenFile("This file is too large to be a job file.")
    try:
        if isinstance(text, bytes):
            text = text.decode("utf-8-sig")
        if is_deeper(text, _DEEPEST):
            raise BrokenFile("This job file is broken: its parts lie too deep within one another.")
        job = json.loads(text, parse_constant=_no_constant, object_pairs_hook=_once_each)
    except ValueError:
        raise BrokenFile("This is not a job file: it is not readable as JSON.") from None
    _refuse_half_characters(job)
    if not isinstance(job, dict) or "format" not in job:
        raise BrokenFile("This is not a job file: it doesn't say its format.")
    _check_format(job["format"])
    for key, kind, words in _PARTS:
        if job.get(key) is not None and not isinstance(job[key], kind):
            raise BrokenFile(f"This job file is broken: “{key}” must be {words}.")
    for part, noun in (("works", "work"), ("readings", "reading")):
        for place, entry in enumerate(job.get(part) or [], start=1):
            if not isinstance(entry, dict):
                raise BrokenFile(f"This job file is broken: {noun} {place} must be an object.")
    for part in ("client", "sward"):
        for key in _TEXTS:
            if isinstance((job.get(part) or {}).get(key), dict | list | bool):
                raise BrokenFile(f"This job file is broken: the {key} of the {part} must be text.")
    return job


def started_of(job: Mapping[str, Any]) -> datetime | None:
    """When the visit of a job was, aware, in the zone it was written in; None when the job doesn't say.

    A time without a zone is local. Raises BadValue.
    """
    written = job.get("started")
    if written is None:
        return None
    try:
        moment = datetime.fromisoformat(written)
        moment = moment if moment.tzinfo else moment.astimezone()
        moment.astimezone(UTC)
    except (TypeError, ValueError, OverflowError):
        raise BadValue(
            "started", "In started: write a date like 2026-05-01, or 2026-05-01T09:30+01:00."
        ) from None
    return moment


def _once_each(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    made = dict(pairs)
    if len(made) < len(pairs):
        keys = [key for key, _ in pairs]
        twice = next(key for key in keys if keys.count(key) > 1)
        raise BrokenFile(f"This job file is broken: “{said(twice)}” is given twice.")
    return made


def _refuse_half_characters(value: Any) -> None:
    """Refuse what JSON can say but nobody can store or print."""
    if isinstance(value, str) and any("\ud800" <= letter <= "\udfff" for letter in value):
        raise BrokenFile("This job file is broken: it has text in it that can't be read.")
    if isinstance(value, dict):
        value = [*value, *value.values()]
    if isinstance(value, list):
        for item in value:
            _refuse_half_characters(item)


def _no_constant(name: str) -> float:
    raise ValueError(name)


def _check_format(written: Any) -> None:
    if written == FORMAT:
        return
    name, _, version = str(written).partition("/")
    if name == FORMAT.partition("/")[0] and version.isdecimal() and len(version) < 10 and int(version) > 1:
        raise NewerFormat(
            f"This job file is of a newer kind (version {version}). "
            "Update Swardwright to read it; nothing was changed."
        )
    raise BrokenFile("This is not a job file of Swardwright's.")


def dumps(job: Mapping[str, Any]) -> str:
    """The text of a job file: UTF-8 JSON with the format first, two spaces a level."""
    return json.dumps(
        {"format": FORMAT, **{k: v for k, v in job.items() if k != "format"}}, ensure_ascii=False, indent=2
    )

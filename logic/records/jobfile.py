"""The job file: one job as JSON, the unit of export, import, backup and of the command line.

Quantities are text with a unit ("20 m", "35 g/m^2", "27 paces"). Parts that this version does not know
are kept as they are.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from logic.errors import BrokenFile, NewerFormat

FORMAT = "swardwright-job/1"
_LARGEST = 5_000_000
_PARTS: tuple[tuple[str, type | tuple[type, ...], str], ...] = (
    ("client", dict, "an object"),
    ("sward", dict, "an object"),
    ("pace", dict, "an object"),
    ("outline", dict, "an object"),
    ("second_outline", dict, "an object"),
    ("levels", dict, "an object"),
    ("works", list, "a list"),
)


def loads(text: str | bytes) -> dict[str, Any]:
    """The job in a job file's text. Raises BrokenFile or NewerFormat with one sentence; changes nothing."""
    if len(text) > _LARGEST:
        raise BrokenFile("This file is too large to be a job file.")
    try:
        if isinstance(text, bytes):
            text = text.decode("utf-8-sig")
        job = json.loads(text, parse_constant=_no_constant)
    except (ValueError, RecursionError):
        raise BrokenFile("This is not a job file: it is not readable as JSON.") from None
    if not isinstance(job, dict) or "format" not in job:
        raise BrokenFile("This is not a job file: it doesn't say its format.")
    _check_format(job["format"])
    for key, kind, words in _PARTS:
        if job.get(key) is not None and not isinstance(job[key], kind):
            raise BrokenFile(f"This job file is broken: “{key}” must be {words}.")
    for place, entry in enumerate(job.get("works") or [], start=1):
        if not isinstance(entry, dict):
            raise BrokenFile(f"This job file is broken: work {place} must be an object.")
    return job


def _no_constant(name: str) -> float:
    raise ValueError(name)


def _check_format(written: Any) -> None:
    if written == FORMAT:
        return
    name, _, version = str(written).partition("/")
    if name == FORMAT.partition("/")[0] and version.isdigit() and int(version) > 1:
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

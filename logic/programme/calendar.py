"""The aftercare as a calendar file (RFC 5545), for the contractor and for the customer."""

from __future__ import annotations

import uuid
from collections.abc import Iterable
from datetime import UTC, datetime, timedelta

from logic.programme.stages import Line

PRODUCT = "-//Swardwright//Aftercare//EN"
_TITLES = {
    "water": "Water",
    "mow": "Mow",
    "feed": "Feed",
    "keep off": "Keep off",
    "visit": "Follow-up visit",
}


def calendar(
    lines: Iterable[Line], stamp: datetime, visit_id: str, sward: str = "", contractor: bool = False
) -> bytes:
    """The .ics file of aftercare lines, whole-day events, the same ids each time so that it can be sent
    again.

    stamp: when it is made, aware. contractor: True for the contractor's own, in which visits take up the day;
    in the customer's nothing does.
    Raises ValueError for a stamp without a zone. Standard: RFC 5545, written by the icalendar library.
    """
    from icalendar import (
        Calendar,
        Event,
    )  # only here: it is large, and most visits to the app make no calendar

    if stamp.tzinfo is None:
        raise ValueError("the stamp must know its zone")
    made = Calendar()
    made.add("prodid", PRODUCT)
    made.add("version", "2.0")
    made.add("method", "PUBLISH")
    for line in lines:
        event = Event()
        event.add("uid", str(uuid.uuid5(uuid.NAMESPACE_OID, f"{visit_id}/{line.key}")))
        event.add("dtstamp", stamp.astimezone(UTC))
        event.add("dtstart", line.first)
        event.add("summary", _title(line, sward))
        event.add("description", line.sentence)
        event.add("transp", "OPAQUE" if line.for_contractor and contractor else "TRANSPARENT")
        if line.every and line.last > line.first:
            event.add("dtend", line.first + timedelta(days=1))
            event.add("rrule", {"freq": "daily", "interval": line.every, "until": line.last})
        else:
            event.add("dtend", line.last + timedelta(days=1))
        made.add_component(event)
    return bytes(made.to_ical())


def _title(line: Line, sward: str) -> str:
    return f"{_TITLES[line.what]}: {sward}" if sward else _TITLES[line.what]

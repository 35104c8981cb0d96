"""The form that answers have."""

from typing import Any

from fastapi.responses import JSONResponse, Response

from logic.sync.text import text_of
from logic.sync.wire import WIRE
from mobile_app.hub.offices import now


def moment() -> str:
    """The hub's time as answers say it."""
    return now().isoformat(timespec="milliseconds")


def reply(content: dict[str, Any]) -> Response:
    """A good answer. Values from phones go out as they came in."""
    return Response(text_of({"wire": WIRE, "now": moment(), **content}), media_type="application/json")


def problem(status: int, code: str, sentence: str, wait: int = 0, **more: Any) -> JSONResponse:
    """A refusal. wait: seconds until it is worth trying again, 0 to say nothing of it."""
    content = {"wire": WIRE, "now": moment(), "error": {"code": code, "sentence": sentence}, **more}
    return JSONResponse(content, status, {"Retry-After": str(wait)} if wait else None)

"""What the hub tells whoever runs it: structured log lines and plain counters, with no personal data."""

import json
import logging
import sys
import threading
from collections import Counter

from mobile_app.hub.offices import now

_LOGGER = logging.getLogger("swardwright.hub")

#: What each number counts, as the page of metrics explains it.
_HELP = {
    "swardwright_requests_total": "Answers given, by route and status.",
    "swardwright_request_seconds_total": "Time spent on answers, by route.",
    "swardwright_changes_total": "Changes pushed, by what became of them.",
    "swardwright_mail_total": "Messages, by what became of them.",
    "swardwright_blob_bytes_total": "Bytes of photos and papers taken in.",
}


def note(what: str, **facts: str | int | float) -> None:
    """Writes one line of JSON. Give it routes, counts and random ids, never what a person typed."""
    line = {"at": now().isoformat(timespec="milliseconds"), "what": what, **facts}
    _LOGGER.info(json.dumps(line))


def log_to_standard_error() -> None:
    """Sends the log lines there, as they are."""
    handler = logging.StreamHandler(sys.stderr)
    handler.setFormatter(logging.Formatter("%(message)s"))
    _LOGGER.handlers[:] = [handler]
    _LOGGER.setLevel(logging.INFO)
    _LOGGER.propagate = False


class Meters:
    """Counters of this process, handed out as plain Prometheus text."""

    def __init__(self) -> None:
        self._counts: Counter[tuple[str, str]] = Counter()
        self._lock = threading.Lock()

    def count(self, name: str, by: float = 1, **labels: str) -> None:
        """Adds to a counter."""
        said = ",".join(f'{key}="{value}"' for key, value in sorted(labels.items()))
        with self._lock:
            self._counts[name, said] += by  # type: ignore[assignment]  # sums of seconds too

    def page(self) -> str:
        """Every counter, as text."""
        with self._lock:
            counts = dict(self._counts)
        lines = []
        for name, text in _HELP.items():
            lines += [f"# HELP {name} {text}", f"# TYPE {name} counter"]
            for (counted, said), value in sorted(counts.items()):
                if counted == name:
                    lines.append(f"{name}{{{said}}} {value:g}" if said else f"{name} {value:g}")
        return "\n".join(lines) + "\n"

"""The copy of one client's data: a zip with a page to read and print, the same as JSON, and the photos."""

from __future__ import annotations

import html
import json
from collections.abc import Iterator, Mapping
from datetime import datetime

from logic.records.backup import zipped
from logic.records.documents import from_doc
from logic.records.privacy import Kept
from logic.records.state import Key
from logic.records.types import KINDS
from logic.records.words import lines_of

_STYLE = (
    "body{font:17px/1.5 system-ui,sans-serif;max-width:46rem;margin:2rem auto;padding:0 1rem;color:#16211a}"
    "h2{margin-top:2rem;border-bottom:2px solid #1e4d2b}dt{font-weight:bold;margin-top:.4rem}dd{margin:0;"
    "white-space:pre-wrap;overflow-wrap:anywhere}img{max-width:100%}@media print{h2{break-after:avoid}}"
)
#: Fields that name other records by their ids, which say nothing to a person.
_LINKS = frozenset(("Client", "Site", "Green", "Visit", "Pace", "Sha256"))


def pack(kept: Kept, firm: str, at: datetime, photos: Mapping[str, bytes]) -> bytes:
    """The zip. firm: who gives the copy; at: when; photos: bytes by hash, those at hand."""
    shown = {sha256: data for sha256, data in photos.items() if data and sha256 in kept.hashes()}
    records = [
        {"table": table, "where": _where(kept, doc_id), "record": doc}
        for (table, doc_id), doc in kept.newest.items()
    ]
    versions = [
        {"saved": moment, "for": why, "table": table, "record": doc}
        for _, moment, why, table, doc in kept.versions
    ]
    data = {"made": at.isoformat(), "by": firm, "records": records, "versions": versions}
    files = {
        "index.html": _page(kept, firm, at, shown).encode("utf-8", "replace"),
        "data.json": json.dumps(data, indent=1, ensure_ascii=True).encode(),
    }
    return zipped({**files, **{f"photos/{sha256}.jpg": data for sha256, data in shown.items()}})


def _page(kept: Kept, firm: str, at: datetime, photos: Mapping[str, bytes]) -> str:
    by = f" by {firm}" if firm else ""
    day = f"{at.astimezone():%d %B %Y}"
    said = f"All that is kept{by}, put together on {day}. Earlier versions are in data.json."
    body = "".join(_sections(kept, photos))
    return (
        '<!doctype html><html lang="en"><meta charset="utf-8"><title>Copy of data</title>'
        f"<style>{_STYLE}</style>"
        f"<h1>Copy of data</h1><p>{html.escape(said)}</p>{body}</html>"
    )


def _sections(kept: Kept, photos: Mapping[str, bytes]) -> Iterator[str]:
    for key, doc in kept.newest.items():
        record = from_doc(KINDS[key[0]], doc)
        label = record.label if record.label.casefold() != record.noun else ""
        noun = {"sward": "green"}.get(record.noun, record.noun).capitalize()
        yield f"<h2>{html.escape(f'{noun} {label}'.strip())}{_aside(kept, key)}</h2><dl>"
        for name, text in lines_of(record):
            if name not in _LINKS:
                yield f"<dt>{html.escape(name)}</dt><dd>{html.escape(text)}</dd>"
        yield "</dl>"
        if doc.get("sha256") in photos:
            yield f'<img src="photos/{doc["sha256"]}.jpg" alt="">'


def _where(kept: Kept, doc_id: str) -> str:
    return "bin" if doc_id in kept.binned else "history" if doc_id in kept.gone else "book"


def _aside(kept: Kept, key: Key) -> str:
    words = {"bin": " (in the bin)", "history": " (deleted, still in the history)", "book": ""}
    return words[_where(kept, key[1])]

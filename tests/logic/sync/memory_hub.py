"""An office in memory: the real rules over a log of dicts, behind requests as a phone sends them."""

from __future__ import annotations

import copy
import hashlib
import json
from collections.abc import Callable, Collection, Mapping, Sequence
from datetime import datetime
from typing import Any

from logic.sync import hub_rules
from logic.sync.calls import Request, Response
from logic.sync.hub_rules import Logged
from logic.sync.registers import BUCKETS, Key, bucket, key_of
from logic.sync.text import text_of
from logic.sync.wire import Json, Pushed, Result, changes_in


class MemoryLog:
    """A `Log` on dicts. States are kept as text, as a database does, so that nothing is shared."""

    def __init__(self) -> None:
        self.epoch = "first"
        self.entries: list[Logged] = []
        self.position = 0
        self.dropped = 0
        self.texts: dict[Key, str] = {}
        self.totals = [0] * BUCKETS

    def last(self) -> int:
        return self.position

    def kept_after(self) -> int:
        return self.dropped

    def results(self, device: str, numbers: Collection[int]) -> Mapping[int, tuple[str, int]]:
        mine = [entry for entry in self.entries if entry.device == device and entry.number in numbers]
        return {entry.number: (entry.hash, entry.position) for entry in mine}

    def states(self, keys: Collection[Key]) -> Mapping[Key, Json]:
        return {key: json.loads(self.texts[key]) for key in keys if key in self.texts}

    def sums(self) -> Sequence[int]:
        return list(self.totals)

    def append(self, entries: Sequence[Logged]) -> None:
        for entry in entries:
            assert entry.position == self.position + 1
            self.position = entry.position
            self.entries.append(entry)

    def put(self, states: Mapping[Key, Json], sums: Mapping[int, int]) -> None:
        self.texts.update({key: text_of(state) for key, state in states.items()})
        for at, total in sums.items():
            self.totals[at] = total

    def after(self, position: int, limit: int, but: str) -> Sequence[Logged]:
        return [e for e in self.entries if e.position > position and e.device != but][:limit]

    def records(self, after: Key | None, limit: int, buckets: Collection[int] | None) -> Sequence[Json]:
        keys = [key for key in sorted(self.texts) if after is None or key > after]
        keys = [key for key in keys if buckets is None or bucket(*key) in buckets]
        return [json.loads(self.texts[key]) for key in keys[:limit]]

    def drop_log(self) -> None:
        """Let go of the changes so far, as a hub does with old ones; their states stay."""
        self.dropped = self.position
        self.entries = []

    def state_hashes(self) -> dict[Key, str]:
        """Every record's state as text."""
        return dict(self.texts)


class MemoryHub:
    """The office behind its requests. `backup` and `restore` as the operator's commands do."""

    def __init__(self, now: Callable[[], datetime]) -> None:
        self.log = MemoryLog()
        self.now = now
        self.revoked: set[str] = set()
        self.refuses: Callable[[Json], str] = lambda change: ""
        self.blobs: dict[str, bytearray] = {}
        self.sizes: dict[str, int] = {}
        self.requests: list[str] = []
        self._epochs = 1

    def backup(self) -> MemoryLog:
        """A copy of everything."""
        return copy.deepcopy(self.log)

    def restore(self, log: MemoryLog) -> None:
        """Back to a copy, as another store."""
        self._epochs += 1
        self.log = copy.deepcopy(log)
        self.log.epoch = f"epoch {self._epochs}"

    def answer(self, request: Request) -> Response:
        """What the office does with a request."""
        self.requests.append(f"{request.method} {request.path}")
        device = request.headers.get("Authorization", "").removeprefix("Bearer ")
        if device in self.revoked:
            return _denied(401, "revoked", "This phone was taken off the list of the office.")
        if request.path.startswith("/blobs/"):
            return self._blob(request)
        said = json.loads(request.body) if request.body else {}
        if request.path == "/sync/push":
            return _json(self._push(device, said))
        query = request.query
        if request.path == "/sync/pull":
            now = self.now().isoformat()
            return _json(
                hub_rules.page(self.log, query["cursor"], int(query["limit"]), device, now).to_json()
            )
        assert request.path == "/sync/snapshot", request.path
        buckets = {int(n) for n in query["buckets"].split(",")} if "buckets" in query else None
        some = hub_rules.snapshot(
            self.log, query["cursor"], query["after"], int(query["limit"]), self.now().isoformat(), buckets
        )
        return _json(some.to_json())

    def _push(self, device: str, said: Json) -> Json:
        results: list[Result] = []
        for change in changes_in(said):
            if isinstance(change, Result):
                results.append(change)
            elif reason := self.refuses(change.to_json()):
                results.append(Result(change.number, False, code="bad-change", reason=reason))
            else:
                results += hub_rules.accept(self.log, device, [change])
        return Pushed(self.log.epoch, self.now().isoformat(), tuple(results)).to_json()

    def _blob(self, request: Request) -> Response:
        key = request.path.split("/")[2]
        have = self.blobs.setdefault(key, bytearray())
        if request.method == "POST":
            self.sizes[key] = json.loads(request.body or b"{}")["size"]
        elif request.method == "PUT":
            if int(request.query["offset"]) != len(have):
                return _json({"have": len(have)}, 409)
            have += request.body or b""
        else:
            if key not in self.sizes or len(have) < self.sizes[key]:
                return _denied(404, "not-found", "Not here yet.")
            offset, limit = int(request.query["offset"]), int(request.query["limit"])
            return Response(200, bytes(have[offset : offset + limit]), {"x-size": str(len(have))})
        whole = len(have) == self.sizes[key]
        if whole and hashlib.sha256(have).hexdigest() != key:
            self.blobs[key] = bytearray()
            return _denied(422, "bad-hash", "This arrived spoilt.")
        return _json({"have": len(have), "done": whole})

    def state(self, key: Key) -> Any:
        """The state of one record."""
        return self.log.states({key}).get(key)


def _json(value: Json, status: int = 200) -> Response:
    return Response(status, text_of(value).encode())


def _denied(status: int, code: str, sentence: str, **headers: str) -> Response:
    body = text_of({"error": {"code": code, "sentence": sentence}}).encode()
    return Response(status, body, {name.replace("_", "-"): value for name, value in headers.items()})


__all__ = ["MemoryHub", "MemoryLog", "key_of"]

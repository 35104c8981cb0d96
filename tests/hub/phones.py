"""Phones for the tests: they speak to a hub as the app does, one call at a time."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from typing import Any

import anyio
import httpx

from mobile_app.hub import devices
from mobile_app.hub.database import Database
from mobile_app.hub.guard import Asgi


class Straight(httpx.BaseTransport):
    """Hands requests to an ASGI application in this process; what it does not catch is raised here."""

    def __init__(self, app: Asgi) -> None:
        self._to = httpx.ASGITransport(app)  # type: ignore[arg-type]

    def handle_request(self, request: httpx.Request) -> httpx.Response:
        request.read()

        async def ask() -> httpx.Response:
            answer = await self._to.handle_async_request(request)
            content = await answer.aread()
            headers = [(name, value) for name, value in answer.headers.items() if name != "content-encoding"]
            return httpx.Response(answer.status_code, headers=headers, content=content)

        # In a thread of its own: the browser driver of the journeys keeps its loop running in this one.
        with ThreadPoolExecutor(max_workers=1) as own:
            return own.submit(anyio.run, ask).result()


def web_of(app: Asgi) -> httpx.Client:
    """A client of an application in this process."""
    return httpx.Client(transport=Straight(app), base_url="http://hub.example.com")


def change(
    device: str, number: int, record: str = "a", table: str = "clients", **fields: Any
) -> dict[str, Any]:
    """A change that writes these fields over what the same device wrote before; a "__" in a name is a "/"."""
    registers = {
        name.replace("__", "/"): {
            "at": {device: number - 1} if number > 1 else {},
            "is": {device: [number, value]},
        }
        for name, value in fields.items()
    }
    delta = {"table": table, "id": record, "fields": registers}
    return {"number": number, "at": "2026-05-04T09:00:00+00:00", "why": "", "records": [delta]}


class Phone:
    """One paired phone."""

    def __init__(self, web: httpx.Client, device: devices.Device, token: str) -> None:
        self.web, self.token = web, token
        self.id, self.business = device.device, device.business

    @classmethod
    def paired(cls, web: httpx.Client, database: Database, business: str, *, admin: bool = False) -> Phone:
        """A phone with a token, got past the web so that it counts towards no limit."""
        code, _ = devices.new_code(database, business, admin=admin)
        return cls(web, *devices.pair(database, code, "A phone"))

    def ask(self, method: str, path: str, **more: Any) -> httpx.Response:
        """One request with this phone's token; a text as `content` is JSON."""
        headers = {"Authorization": f"Bearer {self.token}"}
        if isinstance(more.get("content"), str):
            headers["Content-Type"] = "application/json"
        return self.web.request(method, f"/api{path}", headers=headers, **more)

    def change(self, number: int, record: str = "a", table: str = "clients", **fields: Any) -> dict[str, Any]:
        """A change by this phone."""
        return change(self.id, number, record, table, **fields)

    def push(self, *changes: dict[str, Any]) -> list[dict[str, Any]]:
        """The results of a push."""
        answer = self.ask("POST", "/sync/push", json={"wire": 1, "changes": list(changes)})
        assert answer.status_code == 200, answer.text
        results: list[dict[str, Any]] = answer.json()["results"]
        return results

    def pull(self, cursor: str, **query: Any) -> dict[str, Any]:
        """A page."""
        answer = self.ask("GET", "/sync/pull", params={"cursor": cursor, **query})
        assert answer.status_code == 200, answer.text
        page: dict[str, Any] = answer.json()
        return page

    def snapshot(self, **query: Any) -> dict[str, Any]:
        """A page of whole records."""
        answer = self.ask("GET", "/sync/snapshot", params=query)
        assert answer.status_code == 200, answer.text
        some: dict[str, Any] = answer.json()
        return some

    def start(self) -> str:
        """The cursor of a first meeting."""
        return str(self.snapshot()["cursor"])

    def send_blob(self, sha256: str, data: bytes, piece: int = 200_000) -> dict[str, Any]:
        """Sends a whole blob from where the hub is; the state that was answered last."""
        state: dict[str, Any] = self.ask("POST", f"/blobs/{sha256}", json={"size": len(data)}).json()
        while not state["done"]:
            part = data[state["have"] : state["have"] + piece]
            answer = self.ask("PUT", f"/blobs/{sha256}", params={"offset": state["have"]}, content=part)
            assert answer.status_code == 200, answer.text
            state = answer.json()
        return state

"""The built app's files, beside the hub's own routes."""

from pathlib import Path

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response

from mobile_app.hub.guard import Receive, Scope, Send
from mobile_app.serve import Site


class SiteFiles:
    """Hands out one folder, as the small server for a static site does."""

    def __init__(self, folder: Path) -> None:
        self._site = Site(folder)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answers a GET or HEAD."""
        request = Request(scope)
        if request.method not in ("GET", "HEAD"):
            response: Response = PlainTextResponse("Only files are here", 405, {"Allow": "GET, HEAD"})
        else:
            path, accepts = request.url.path, request.headers.get("accept-encoding", "")
            found = await run_in_threadpool(self._site.answer, path, accepts)
            body = found.body or (b"There is no such page" if found.status == 404 else b"")
            headers = {**dict(found.headers), "Content-Length": str(len(body))}
            response = Response(b"" if request.method == "HEAD" else body, found.status, headers)
        await response(scope, receive, send)

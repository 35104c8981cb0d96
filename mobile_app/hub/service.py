"""The hub as a web service: its routes, what guards them, and the app's own files behind them."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from typing import Any

import anyio.to_thread
from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse, PlainTextResponse, Response
from sqlalchemy import text
from sqlalchemy.exc import DBAPIError, SQLAlchemyError, TimeoutError
from starlette.exceptions import HTTPException
from starlette.middleware.cors import CORSMiddleware
from starlette.middleware.gzip import GZipMiddleware

from logic.errors import FileError, NotFound
from mobile_app.hub.blob_routes import blob_routes
from mobile_app.hub.database import WORKERS
from mobile_app.hub.device_routes import device_routes
from mobile_app.hub.errors import Refused
from mobile_app.hub.guard import Asgi, Guard
from mobile_app.hub.hub import Hub
from mobile_app.hub.replies import problem
from mobile_app.hub.site_files import SiteFiles
from mobile_app.hub.sync_routes import sync_routes

_ABOUT = """What phones of a business share. Errors: `{"wire": 1, "now", "error": {"code", "sentence"}}`;
401 `not-paired` or `revoked`, 403 `bad-code` or `not-admin`, 429 and 503 with `Retry-After`."""


def service(hub: Hub) -> Asgi:
    """The ASGI application of a hub whose database is ready."""
    app = FastAPI(
        title="Swardwright hub",
        description=_ABOUT,
        version="1",
        openapi_url="/api/openapi.json",
        docs_url=None,  # their pages fetch from other hosts
        redoc_url=None,
        lifespan=_lifespan(hub),
    )
    for routes in (device_routes(hub), sync_routes(hub), blob_routes(hub)):
        app.include_router(routes)
    _own_routes(app, hub)
    _answers_to_errors(app)
    if hub.settings.site is not None:
        app.mount("/", SiteFiles(hub.settings.site))
    app.add_middleware(GZipMiddleware, minimum_size=1000, compresslevel=5)
    app.add_middleware(
        CORSMiddleware,
        allow_origins=list(hub.settings.origins),
        allow_methods=["GET", "POST", "PUT", "DELETE"],
        allow_headers=["Authorization", "Content-Type"],
        expose_headers=["Retry-After", "X-Size"],
        max_age=600,
    )
    return Guard(app, hub.meters)


def _lifespan(hub: Hub) -> Any:
    @asynccontextmanager
    async def life(app: FastAPI) -> AsyncIterator[None]:
        anyio.to_thread.current_default_thread_limiter().total_tokens = WORKERS
        hub.start_sender()
        yield
        await anyio.to_thread.run_sync(hub.stop)

    return life


def _own_routes(app: FastAPI, hub: Hub) -> None:
    @app.get("/api/health", summary="Whether the hub can answer: it asks its database")
    def health() -> dict[str, str]:
        with hub.database.engine.connect() as connection:
            connection.execute(text("SELECT 1"))
        return {"health": "ok"}

    @app.get("/metrics", summary="Counters, as Prometheus text", response_class=PlainTextResponse)
    def metrics() -> PlainTextResponse:
        return PlainTextResponse(hub.meters.page(), media_type="text/plain; version=0.0.4; charset=utf-8")


def _answers_to_errors(app: FastAPI) -> None:
    @app.exception_handler(Refused)
    async def refused(request: Request, error: Exception) -> JSONResponse:
        assert isinstance(error, Refused)
        return problem(error.status, error.code, error.sentence, error.wait, **error.more)

    @app.exception_handler(NotFound)
    async def not_found(request: Request, error: Exception) -> JSONResponse:
        return problem(404, "not-found", str(error))

    @app.exception_handler(FileError)
    async def broken(request: Request, error: Exception) -> JSONResponse:
        return problem(400, "bad-request", str(error))

    @app.exception_handler(RequestValidationError)
    async def invalid(request: Request, error: Exception) -> JSONResponse:
        assert isinstance(error, RequestValidationError)
        where = ".".join(str(part) for part in error.errors()[0]["loc"]) if error.errors() else "body"
        return problem(400, "bad-request", f"The request is not as it should be: {where}.")

    @app.exception_handler(HTTPException)
    async def http(request: Request, error: Exception) -> Response:
        assert isinstance(error, HTTPException)
        codes = {400: "bad-request", 404: "not-found", 405: "not-allowed", 413: "too-large"}
        answer = problem(error.status_code, codes.get(error.status_code, "refused"), str(error.detail))
        answer.headers.update(error.headers or {})
        return answer

    @app.exception_handler(SQLAlchemyError)
    async def database(request: Request, error: Exception) -> JSONResponse:
        if isinstance(error, TimeoutError | DBAPIError) and not _is_ours(error):
            return problem(503, "busy", "The office is busy. It will be tried again.", wait=5)
        raise error


def _is_ours(error: Exception) -> bool:
    """Whether it is the fault of this program, not of a database that is away or overrun."""
    return type(error).__name__ in ("ProgrammingError", "DataError", "NotSupportedError", "InterfaceError")

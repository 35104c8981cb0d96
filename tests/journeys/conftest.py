"""Journeys: the built app in a real browser. What a journey may ask for:

site     (session) folder of the built app
build    (session) `build(instead={...}, **options)` → folder of a variant; `instead` replaces archive files,
         e.g. {"mobile_app/main.py": b"..."} for a test page of one's own
host     server of `site` on a free port: host.url, .stop() ("no signal"), .start(), .requests, .sent
serve    `serve(folder, prefix="/")` → another such server
phone    a Phone (see phone.py) with an empty profile: phone.open(), .semantics(), .by_id("…"), .page
         (Playwright's), .reload(), .kill() then .switch_on(), .wait_stored(); at the end no request may have
         left the origin
phones   `phones(host, **context options)` → another phone

Without Chromium journeys are skipped, unless SWARDWRIGHT_NEED_BROWSER is set: then they fail.
"""

import os
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Playwright, sync_playwright

from mobile_app.bundle import Options
from mobile_app.bundle import build as build_site
from tests.journeys.phone import Host, Phone, chromium

Build = Callable[..., Path]
FAST = 1


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    if chromium() is None:
        if os.environ.get("SWARDWRIGHT_NEED_BROWSER"):
            pytest.fail("Chromium is not installed, and SWARDWRIGHT_NEED_BROWSER asks for it.")
        pytest.skip("Chromium is not installed.")
    with sync_playwright() as running:
        yield running


@pytest.fixture(scope="session")
def build(tmp_path_factory: pytest.TempPathFactory) -> Build:
    def make(instead: dict[str, bytes] | None = None, **options: Any) -> Path:
        folder = tmp_path_factory.mktemp("site") / "site"
        build_site(folder, Options(**({"quality": FAST} | options)), instead=instead)
        return folder

    return make


@pytest.fixture(scope="session")
def site(build: Build) -> Path:
    return build()


@pytest.fixture
def serve() -> Iterator[Callable[..., Host]]:
    made: list[Host] = []

    def make(folder: Path, prefix: str = "/", hub: str = "") -> Host:
        made.append(Host(folder, prefix, hub))
        return made[-1]

    yield make
    for host in made:
        host.stop()


@pytest.fixture
def host(site: Path, serve: Callable[..., Host]) -> Host:
    return serve(site)


@pytest.fixture
def phones(playwright: Playwright, tmp_path: Path) -> Iterator[Callable[..., Phone]]:
    made: list[Phone] = []

    def make(host: Host, **options: Any) -> Phone:
        made.append(Phone(playwright, tmp_path / f"profile-{len(made)}", host, **options))
        return made[-1]

    yield make
    for phone in made:
        phone.switch_off()
    for phone in made:
        assert phone.left_the_origin() == []


@pytest.fixture
def phone(phones: Callable[..., Phone], host: Host) -> Phone:
    return phones(host)

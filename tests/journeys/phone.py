"""A phone to make journeys with: Chromium with a profile of its own, and the server that it visits."""

import os
import shutil
import signal
import threading
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from playwright.sync_api import BrowserContext, Locator, Page, Playwright, Request

from mobile_app.serve import SiteServer

FLAGS = (
    "--no-sandbox",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--use-gl=angle",
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
)
SHOWN = "performance.getEntriesByName('sw-first-control').length > 0"


def chromium() -> str | None:
    """Path of an installed Chromium, if there is one."""
    return next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)


def until(true: Callable[[], Any], seconds: float = 30, what: str = "") -> Any:
    """Calls `true` until it gives something true, and returns that; AssertionError when time is up.

    Playwright's own wait_for_function evaluates strings in the page, which the security policy forbids.
    """
    end = time.monotonic() + seconds
    while True:
        found = true()
        if found:
            return found
        assert time.monotonic() < end, f"This did not happen in {seconds} s: {what or true}"
        time.sleep(0.03)


class Host:
    """Serves a built site from a port that stays the same when it stops and starts again."""

    def __init__(self, site: Path, prefix: str = "/", hub: str = "") -> None:
        self.site, self.prefix, self.hub = site, prefix, hub
        self.requests: list[str] = []
        self._port = 0
        self._server: SiteServer | None = None
        self.start()

    @property
    def origin(self) -> str:
        return f"http://127.0.0.1:{self._port}"

    @property
    def url(self) -> str:
        return self.origin + self.prefix

    @property
    def sent(self) -> int:
        """Bytes of bodies sent since the last start, compressed as they were."""
        assert self._server is not None
        return self._server.sent

    def start(self) -> None:
        host = self

        class Recording(SiteServer):
            def note(self, path: str) -> None:
                host.requests.append(path)

        self._server = Recording(("127.0.0.1", self._port), self.site, self.prefix, self.hub)
        self._port = int(self._server.server_address[1])
        threading.Thread(target=self._server.serve_forever, args=(0.02,), daemon=True).start()

    def stop(self) -> None:
        """Takes the server away, open connections too: from here on the phone has no signal."""
        if self._server is not None:
            self._server.shutdown()
            self._server.close_all()
            self._server = None


class Phone:
    """One browser profile with one page. Everything it asked for and everything that went wrong is kept.

    `asked`: addresses requested · `troubles`: errors of the page · `said`: console lines.
    """

    def __init__(self, playwright: Playwright, profile: Path, host: Host, **options: Any) -> None:
        self.playwright, self.profile, self.host, self.options = playwright, profile, host, options
        self.asked: list[Request] = []
        self.troubles: list[str] = []
        self.said: list[str] = []
        self.scripts: list[str] = []
        self.context: BrowserContext
        self.page: Page
        self.switch_on()

    def switch_on(self) -> None:
        """Starts the browser on its profile, with what an earlier run left there."""
        wanted = {"viewport": {"width": 390, "height": 844}, "device_scale_factor": 2, "locale": "en-GB"}
        self.context = self.playwright.chromium.launch_persistent_context(
            self.profile,
            executable_path=chromium(),
            args=list(FLAGS),
            accept_downloads=True,
            **(wanted | self.options),
        )
        for script in self.scripts:
            self.context.add_init_script(script)
        self.context.on("request", lambda request: self.asked.append(request))
        self.page = self.context.pages[0] if self.context.pages else self.context.new_page()
        self.listen(self.page)

    def listen(self, page: Page) -> None:
        page.on("pageerror", lambda error: self.troubles.append(str(error)))
        page.on("console", lambda line: self.said.append(f"{line.type}: {line.text}"))

    def always(self, script: str) -> None:
        """Runs `script` in every page before the page's own, after switching on again too."""
        self.scripts.append(script)
        self.context.add_init_script(script)

    def switch_off(self) -> None:
        self.context.close()

    def kill(self) -> None:
        """kill -9 of the whole browser, as when a phone's battery dies."""
        for process in Path("/proc").iterdir():
            if process.name.isdigit():
                try:
                    command = (process / "cmdline").read_bytes().decode("utf-8", "replace")
                except OSError:
                    continue
                if f"--user-data-dir={self.profile}\0" in command and "--type=" not in command:
                    os.kill(int(process.name), signal.SIGKILL)
        try:
            self.context.close()
        except Exception as gone:  # the browser is dead; whatever Playwright says about it is expected
            self.said.append(f"after the kill: {gone}")
        for lock in self.profile.glob("Singleton*"):
            lock.unlink()

    def open(self, more: str = "", wait: bool = True) -> Page:
        """Goes to the app (`more`: query or #route) and waits until its first page is on the screen."""
        self.page.goto(self.host.url + more)
        if wait:
            self.wait_shown()
        return self.page

    def reload(self) -> Page:
        self.page.reload()
        self.wait_shown()
        return self.page

    def wait_shown(self, seconds: float = 60) -> None:
        try:
            ended = f"{SHOWN} || document.getElementById('sw-recovery') !== null"
            until(lambda: self.ask(ended), seconds, "first control on the screen")
            assert self.ask(SHOWN), "The app did not start."
        except AssertionError as late:
            raise AssertionError("\n".join((str(late), *self.said[-20:], *self.troubles))) from late

    def wait_stored(self, seconds: float = 60) -> None:
        """Waits until the whole app is stored, so that it starts with no signal."""
        ready = "navigator.serviceWorker.getRegistration().then(r => Boolean(r && r.active && !r.installing))"
        until(lambda: self.ask(ready), seconds, "the app is stored")
        until(
            lambda: self.ask("Boolean(navigator.serviceWorker.controller)"),
            seconds,
            "page is controlled",
        )

    def semantics(self) -> None:
        """Turns on the tree for screen readers: then every control is in the DOM with role and label."""
        until(lambda: self.page.locator("flt-semantics-placeholder").count(), 20, "semantics placeholder")
        self.page.locator("flt-semantics-placeholder").evaluate(
            """e => {
                 const r = e.getBoundingClientRect(), x = r.x + r.width / 2, y = r.y + r.height / 2;
                 const at = {bubbles: true, clientX: x, clientY: y, pointerType: "touch"};
                 for (const kind of ["pointerdown", "pointerup"]) e.dispatchEvent(new PointerEvent(kind, at));
                 e.dispatchEvent(new MouseEvent("click", at));
               }"""
        )
        until(lambda: self.page.locator("flt-semantics").count(), 20, "semantics tree")

    def by_id(self, identifier: str) -> Locator:
        """The control wrapped in ft.Semantics(identifier=…)."""
        return self.page.locator(f'[flt-semantics-identifier="{identifier}"]')

    def heard(self, words: str) -> bool:
        """Whether the page's console has said `words` by now."""
        self.page.wait_for_timeout(20)  # lets Playwright take in what the page has sent
        return any(words in line for line in self.said)

    def left_the_origin(self) -> list[str]:
        """Requests that went to another origin. What the security policy stopped never left."""
        outside = [
            r for r in self.asked if not r.url.startswith((self.host.origin, "blob:", "data:", "about:"))
        ]
        return [r.url for r in outside if "csp" not in (r.failure or "")]

    def ask(self, expression: str) -> Any:
        """What `expression` gives in the page; None while the page is on its way to another."""
        try:
            return self.page.evaluate(expression)
        except Exception as navigating:
            if "context was destroyed" in str(navigating) or "navigation" in str(navigating):
                return None
            raise

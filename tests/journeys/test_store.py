"""The store in a real browser: its file system's contract, a held file, a full device, and kills."""

import random
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page, Playwright

from tests.journeys.conftest import Build
from tests.journeys.phone import FLAGS, Host, Phone, chromium, until

QUOTA = 6_000_000  # bytes for the book, beside the stored app


@pytest.fixture(scope="module")
def store_site(build: Build) -> Path:
    page = Path(__file__).with_name("store_page.py").read_bytes()
    return build(instead={"mobile_app/main.py": page})


@pytest.fixture
def store_phone(store_site: Path, serve: Callable[..., Host], phones: Callable[..., Phone]) -> Phone:
    return phones(serve(store_site))


def words(said: list[str]) -> list[str]:
    """What the store page printed."""
    return [line.partition("store: ")[2] for line in said if "store: " in line]


def first_word(said: list[str], page: Page) -> str:
    """The first thing that the store page prints."""

    def heard() -> list[str]:
        page.wait_for_timeout(20)  # Playwright hands over what has come in only while it is asked something
        return words(said)

    return str(until(heard, 60, "a word from the store page")[0])


def outcome(phone: Phone, route: str) -> str:
    """What the page at this route prints."""
    phone.said.clear()
    phone.page.goto("about:blank")
    phone.open(f"#/{route}")
    return first_word(phone.said, phone.page)


def limit(page: Page, origin: str, size: int) -> None:
    session = page.context.new_cdp_session(page)
    session.send("Storage.overrideQuotaForOrigin", {"origin": origin, "quotaSize": size})


def test_the_browsers_files_keep_the_contract(store_phone: Phone) -> None:
    assert outcome(store_phone, "contract") == "contract kept"


def test_files_that_are_held_already_are_refused_until_they_are_given_back(store_phone: Phone) -> None:
    assert outcome(store_phone, "twice") == (
        "Swardwright is already open in another tab or window. Close that one, then try again. Then opened."
    )


def test_a_full_device_says_so_and_loses_nothing(store_phone: Phone) -> None:
    store_phone.open("#/look")
    store_phone.wait_stored()
    used = int(store_phone.page.evaluate("navigator.storage.estimate().then(e => e.usage)"))
    limit(store_phone.page, store_phone.host.origin, used + QUOTA)
    full = outcome(store_phone, "fill")
    assert full.startswith("There is no room left on this device, so the last change was not saved.")
    assert "kept True, low True" in full
    assert outcome(store_phone, "look") == f"found [{full.split()[-2]}] "


def test_a_full_private_window_which_fails_without_an_exception_says_so_too(
    store_site: Path, serve: Callable[..., Host], playwright: Playwright
) -> None:
    host = serve(store_site)
    browser = playwright.chromium.launch(executable_path=chromium(), args=list(FLAGS))
    page = browser.new_context().new_page()
    said: list[str] = []
    page.on("console", lambda line: said.append(line.text))
    page.goto(host.url + "#/look")
    first_word(said, page)
    used = int(page.evaluate("navigator.storage.estimate().then(e => e.usage)"))
    limit(page, host.origin, used + QUOTA)
    for route, expected in (("fill", "There is no room left on this device"), ("look", "found [")):
        said.clear()
        page.goto("about:blank")
        page.goto(host.url + f"#/{route}")
        assert first_word(said, page).startswith(expected)
    browser.close()


def test_a_killed_browser_loses_no_acknowledged_save(store_phone: Phone) -> None:
    chance = random.Random(2)
    there = 0
    for _ in range(4):
        store_phone.said.clear()
        store_phone.open("#/save", wait=False)
        _, found, _, total, *_ = first_word(store_phone.said, store_phone.page).split()
        assert found == total, "no gap"
        assert int(found) >= there
        store_phone.page.wait_for_timeout(chance.uniform(50, 500))
        store_phone.kill()
        saved = [int(line.split()[1]) for line in words(store_phone.said) if line.startswith("saved")]
        there = max([int(found), *saved])
        store_phone.switch_on()
    assert int(outcome(store_phone, "save").split()[1]) >= there > 20

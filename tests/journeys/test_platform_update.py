"""Updates and mishaps of the stored app: builds never mix, the user agrees first, a dead start gets help."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.journeys.conftest import Build
from tests.journeys.hand import Hand
from tests.journeys.pages import app, says
from tests.journeys.phone import Host, Phone, until

Serve = Callable[..., Host]
Phones = Callable[..., Phone]

FORM = """
field = ft.TextField(label="Client", key="client")
page.add(ft.Text("Build one"), field)
"""


@pytest.fixture(scope="module")
def one(build: Build) -> Path:
    return build(app(FORM))


@pytest.fixture(scope="module")
def two(build: Build) -> Path:
    return build(says("Build two"))


def builds(phone: Phone) -> list[str]:
    """Ids of the builds that this phone has stored."""
    names = phone.page.evaluate("caches.keys()")
    return [name.split("build ")[1] for name in names if " build " in name]


def build_of(site: Path) -> str:
    (folder,) = (site / "b").iterdir()
    return folder.name


def shows(phone: Phone, text: str) -> None:
    phone.semantics()
    until(lambda: phone.page.get_by_text(text).count(), what=f"the page shows {text!r}")


def look_for_update(phone: Phone) -> None:
    phone.page.evaluate("navigator.serviceWorker.getRegistration().then(r => r.update())")


def test_an_update_waits_for_the_user_and_then_all_of_it_is_new(
    one: Path, two: Path, serve: Serve, phones: Phones
) -> None:
    host = serve(one)
    phone = phones(host)
    phone.open()
    phone.wait_stored()
    phone.semantics()
    field = phone.page.get_by_label("Client")
    Hand(phone).type("Client", "Ada Green, 3 Orchard Lane")
    host.stop()
    host.site = two
    host.start()
    look_for_update(phone)
    strip = phone.page.get_by_text("Update ready")
    strip.wait_for(timeout=60000)
    assert field.input_value() == "Ada Green, 3 Orchard Lane"
    assert set(builds(phone)) == {build_of(one), build_of(two)}
    phone.page.get_by_role("button", name="Later").click()
    assert strip.count() == 0

    phone.reload()
    shows(phone, "Build one")
    phone.page.get_by_role("button", name="Use it now").click()
    until(lambda: meta(phone) == build_of(two), what="the new build is loaded")
    phone.wait_shown()
    shows(phone, "Build two")
    until(lambda: builds(phone) == [build_of(two)], what="the old build is let go")
    host.stop()
    phone.reload()
    shows(phone, "Build two")


def test_an_update_taken_in_the_middle_of_a_form_loses_nothing(
    site: Path, build: Build, serve: Serve, phones: Phones
) -> None:
    """The real app: a length is typed, the update is taken before the app has paused to save it."""
    other = build({"assets/demo/another.txt": b"another build"})
    host = serve(site)
    phone = phones(host)
    phone.open()
    phone.wait_stored()
    phone.semantics()
    hand = Hand(phone)
    hand.tap("Add your first green")
    hand.type("Name of the green", "Sundial green")
    hand.tap("Save")
    hand.tap("Start a visit")
    hand.box("Length").wait_for(state="attached")
    host.stop()
    host.site = other
    host.start()
    look_for_update(phone)
    phone.page.get_by_text("Update ready").wait_for(timeout=60000)
    hand.type("Length", "12.5 m")
    phone.page.get_by_role("button", name="Use it now").click()
    until(lambda: meta(phone) == build_of(other), what="the new build is loaded")
    phone.wait_shown()
    phone.semantics()
    assert hand.reads("Length") == "12.5"


def meta(phone: Phone) -> Any:
    return phone.ask("document.querySelector('meta[name=sw-build]')?.content")


def test_a_broken_download_changes_nothing(
    one: Path, two: Path, serve: Serve, phones: Phones, tmp_path: Path
) -> None:
    broken = tmp_path / "broken"
    copy(two, broken)
    for path in broken.rglob("app.tar*"):
        path.write_bytes(path.read_bytes()[:-600])
    host = serve(one)
    phone = phones(host)
    phone.open()
    phone.wait_stored()
    host.stop()
    host.site = broken
    host.start()
    look_for_update(phone)
    until(lambda: any("app.tar" in path for path in host.requests[-40:]), what="the update is fetched")
    until(lambda: builds(phone) == [build_of(one)], what="the half-stored build is dropped")
    assert phone.page.get_by_text("Update ready").count() == 0
    host.stop()
    phone.reload()
    shows(phone, "Build one")


def test_only_what_changed_is_fetched_again(one: Path, two: Path, serve: Serve, phones: Phones) -> None:
    host = serve(one)
    phone = phones(host)
    phone.open()
    phone.wait_stored()
    host.stop()
    host.site = two
    host.start()
    host.requests.clear()
    look_for_update(phone)
    phone.page.get_by_text("Update ready").wait_for(timeout=60000)
    fetched = {path.rsplit("/", 1)[-1].split("?")[0] for path in host.requests}
    assert fetched == {"sw.js", "app.tar", "index.html"}


def test_a_new_build_that_does_not_start_can_be_undone(
    one: Path, build: Build, serve: Serve, phones: Phones
) -> None:
    dead = build({"mobile_app/main.py": b"def start():\n    raise RuntimeError('the new build is broken')\n"})
    host = serve(one)
    phone = phones(host)
    phone.open()
    phone.wait_stored()
    host.stop()
    host.site = dead
    host.start()
    look_for_update(phone)
    phone.page.get_by_role("button", name="Use it now").click(timeout=60000)
    phone.page.get_by_text("the new build is broken").wait_for(timeout=60000)
    phone.page.get_by_role("button", name="Go back to the version before").click()
    until(lambda: meta(phone) == build_of(one), what="the old build is back")
    phone.wait_shown()
    shows(phone, "Build one")


def test_a_frozen_start_ends_on_a_page_that_saves_the_records_and_clears_only_the_app(
    build: Build, serve: Serve, phones: Phones
) -> None:
    frozen = build({"mobile_app/main.py": b"def start():\n    while True:\n        pass\n"})
    phone = phones(serve(frozen))
    phone.open("?patience=1500", wait=False)
    phone.page.get_by_text("did not start").wait_for(timeout=60000)
    phone.page.evaluate(
        """async () => {
             const folder = await navigator.storage.getDirectory();
             const file = await folder.getFileHandle('book.journal', {create: true});
             const writer = await file.createWritable();
             await writer.write('three greens');
             await writer.close();
           }"""
    )
    with phone.page.expect_download() as saved:
        phone.page.get_by_role("button", name="Save my records").click()
    assert saved.value.suggested_filename == "swardwright-book.journal"
    assert Path(saved.value.path()).read_bytes() == b"three greens"
    for button in phone.page.locator("#sw-recovery button").all():
        box = button.bounding_box()
        assert box is not None
        assert box["height"] >= 48
    phone.page.get_by_role("button", name="Clear the stored copy").click()
    phone.page.get_by_text("did not start").wait_for(state="detached", timeout=60000)
    phone.page.get_by_text("did not start").wait_for(timeout=60000)
    kept = phone.page.evaluate(
        """async () => {
             const file = await (await navigator.storage.getDirectory()).getFileHandle('book.journal');
             return (await file.getFile()).text();
           }"""
    )
    assert kept == "three greens"


@pytest.mark.parametrize("part", ["main.dart.wasm", "link.js", "app.tar", "flutter_bootstrap.js"])
def test_a_missing_part_is_said_at_once(
    one: Path, serve: Serve, phones: Phones, tmp_path: Path, part: str
) -> None:
    holed = tmp_path / "holed"
    copy(one, holed)
    for path in holed.rglob(f"{part}*"):
        path.unlink()
    phone = phones(serve(holed))
    phone.open(wait=False)
    phone.page.get_by_text("did not start").wait_for(timeout=30000)


def copy(site: Path, to: Path) -> None:
    for path in site.rglob("*"):
        if path.is_file():
            target = to / path.relative_to(site)
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(path.read_bytes())

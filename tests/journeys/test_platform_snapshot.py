"""The memory snapshot: later starts use it, no start depends on it, no two starts share their chance."""

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.journeys.conftest import Build
from tests.journeys.pages import app
from tests.journeys.phone import Host, Phone, until

Serve = Callable[..., Host]
Phones = Callable[..., Phone]

CHANCE = """
import random, secrets, uuid
print("chance", random.random(), random.getrandbits(64), uuid.uuid4(), secrets.token_hex(8))
page.add(ft.Text("Here"))
"""


@pytest.fixture(scope="module")
def chancy(build: Build) -> Path:
    return build(app(CHANCE))


@pytest.fixture
def phone(chancy: Path, serve: Serve, phones: Phones) -> Phone:
    return phones(serve(chancy))


def restored(phone: Phone) -> bool:
    return bool(phone.page.evaluate("swLink.restored()"))


def wait_made(phone: Phone) -> None:
    phone.open()
    until(lambda: phone.ask("performance.getEntriesByName('sw-snapshot-made').length"), 60, "snapshot made")


def chances(phone: Phone) -> list[str]:
    return [word for line in phone.said if line.startswith("log: chance") for word in line.split()[2:]]


def change_snapshot(phone: Phone, how: str) -> None:
    """Puts what the JavaScript `how` makes of `bytes` in the snapshot's place, its stated hash as it was."""
    phone.page.evaluate(
        f"""async () => {{
              const name = (await caches.keys()).find(name => name.endsWith("snapshots"));
              const cache = await caches.open(name);
              const [request] = await cache.keys();
              const old = await cache.match(request);
              const bytes = new Uint8Array(await old.arrayBuffer());
              await cache.put(request, new Response({how}, {{headers: old.headers}}));
            }}"""
    )


def snapshots(phone: Phone) -> list[str]:
    return list(
        phone.page.evaluate(
            """async () => {
                 const name = (await caches.keys()).find(name => name.endsWith("snapshots"));
                 return name ? (await (await caches.open(name)).keys()).map(r => r.url) : [];
               }"""
        )
    )


def test_later_starts_use_it_and_each_has_its_own_chance(phone: Phone) -> None:
    wait_made(phone)
    assert not restored(phone)
    # It holds the whole app: the shortened library of Python lacks nothing that a module imports.
    missing = [line for said in phone.said if "Not in the snapshot" in said for line in said.splitlines()[1:]]
    assert [line for line in missing if "flet_js" not in line] == []
    for _ in range(2):
        phone.reload()
        assert restored(phone)
    drawn = chances(phone)
    assert len(drawn) == 12
    assert len(set(drawn)) == 12


@pytest.mark.parametrize(
    "how",
    [
        "bytes.subarray(0, bytes.length - 70000)",
        "bytes.subarray(0, 100)",
        "new Uint8Array(0)",
        "bytes.fill(7, 0, 64)",
        "bytes.fill(0, 20000000, 30000000)",
        "crypto.getRandomValues(new Uint8Array(65536))",
    ],
    ids=["cut short", "only a head", "empty", "no head", "a hole", "noise"],
)
def test_a_damaged_one_is_dropped_and_the_app_starts(phone: Phone, how: str) -> None:
    wait_made(phone)
    change_snapshot(phone, how)
    phone.reload()
    assert not restored(phone)
    assert phone.heard("Starting without the snapshot")
    until(lambda: phone.ask("performance.getEntriesByName('sw-snapshot-made').length"), 60, "made anew")
    phone.reload()
    assert restored(phone)


def test_one_that_hangs_is_given_up_after_five_seconds(phone: Phone) -> None:
    wait_made(phone)
    phone.page.add_init_script(
        """const Real = Worker;
           globalThis.Worker = class extends Real {
             set onmessage(hear) {
               super.onmessage = event => {
                 if (this.plain || ["restoring", "fetched"].includes(event.data.swardwright)) hear(event);
               };
             }
             constructor(url, options) { super(url, options); this.plain = options.name === "plain"; }
           };"""
    )
    phone.reload()
    assert not restored(phone)
    assert phone.heard("it took too long")


def test_another_builds_one_is_not_used_and_is_removed(
    phone: Phone, build: Build, serve: Serve, chancy: Path
) -> None:
    wait_made(phone)
    old = snapshots(phone)
    phone.wait_stored()
    other = build(app(CHANCE + "\npage.add(ft.Text('other'))"))
    phone.host.stop()
    phone.host.site = other
    phone.host.start()
    phone.page.evaluate("navigator.serviceWorker.getRegistration().then(r => r.update())")
    phone.page.get_by_role("button", name="Use it now").click(timeout=60000)
    build_now = "document.querySelector('meta[name=sw-build]')?.content"
    until(
        lambda: phone.ask(build_now) == next((other / "b").iterdir()).name, what="the other build is loaded"
    )
    phone.wait_shown()
    assert not restored(phone)
    until(lambda: not set(old) & set(snapshots(phone)), what="the old snapshot is removed")


def test_it_can_be_turned_off_by_address_and_by_setting(phone: Phone) -> None:
    wait_made(phone)
    phone.open("?plain=1")
    assert not restored(phone)
    phone.page.evaluate("localStorage.setItem('sw-plain', '1')")
    phone.open()
    assert not restored(phone)
    phone.page.evaluate("localStorage.removeItem('sw-plain')")
    phone.open()
    assert restored(phone)


def test_with_little_room_none_is_made_and_starts_go_on(phone: Phone) -> None:
    phone.open()
    session = phone.context.new_cdp_session(phone.page)
    room = {"origin": phone.host.origin, "quotaSize": 60_000_000}
    session.send("Storage.overrideQuotaForOrigin", room)
    until(lambda: phone.heard("No snapshot was stored"), 60, "making is given up")
    assert snapshots(phone) == []
    phone.reload()
    assert not restored(phone)


def test_a_making_that_is_cut_off_leaves_nothing_behind(phone: Phone) -> None:
    phone.open()
    making = "performance.getEntriesByType('resource').some(entry => entry.name.endsWith('maker.js'))"
    until(lambda: phone.ask(making), 30, "the maker is at work")
    assert snapshots(phone) == []
    phone.kill()
    phone.switch_on()
    wait_made(phone)
    phone.reload()
    assert restored(phone)

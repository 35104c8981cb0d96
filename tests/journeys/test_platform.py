"""The ground that the app stands on: first visit, no signal, one window, odd text, files handed out."""

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.journeys.conftest import Build
from tests.journeys.pages import app, says
from tests.journeys.phone import Host, Phone, until

Serve = Callable[..., Host]
Phones = Callable[..., Phone]

ODD = "漢字 かな 한국어 🌱👩🏽‍🌾 العربية עברית ไทย हिन्दी → ⇒ ≥ ≤ ≈ ½ ⅝ ⅞ √ Ω µ ✓ ☐ 𝛑 𐍈 ￼ €₹₿ \ue000 ﷽ 🇬🇧"

OFFERS = """
from mobile_app.device.offer import offer_file
def hand_out(event):
    data = b"%PDF-1.4 odd\\x00\\xff bytes"
    offer_file("../Green: 7/8?\\u202e.pdf", "application/pdf", data, "Customer summary")
page.add(ft.Semantics(content=ft.Button("Hand out", on_click=hand_out), identifier="hand-out"))
"""

COUNTS = """
count = ft.Text("0 paces")
def step(event):
    count.value = f"{int(count.value.split()[0]) + 1} paces"
    page.update()
field = ft.TextField(label="Client")
page.add(count, ft.Button("Pace", on_click=step), field)
"""


@pytest.fixture(scope="module")
def plain(build: Build) -> Path:
    return build(app(COUNTS))


# What makes the page take the second engine: a browser without this one thing cannot run the first.
NO_WASM_CLIENT = "delete Intl.v8BreakIterator"


@pytest.mark.parametrize("engine", ["wasm", "script"])
def test_first_visit_then_no_signal_then_launch_from_cold(
    plain: Path, serve: Serve, phones: Phones, engine: str
) -> None:
    host = serve(plain)
    phone = phones(host)
    if engine == "script":
        phone.always(NO_WASM_CLIENT)
    phone.open()
    phone.wait_stored()
    host.stop()
    phone.switch_off()
    phone.switch_on()
    phone.open()
    phone.semantics()
    phone.page.get_by_role("button", name="Pace").click()
    until(lambda: phone.page.get_by_text("1 paces").count(), what="the tap is counted")
    assert phone.page.evaluate("swUpdate.engine") == engine
    assert phone.troubles == []


def test_starts_in_a_row_cold_and_warm(plain: Path, serve: Serve, phones: Phones) -> None:
    """Three phones, two starts each; `tests/bench/soak.py` does two hundred."""
    host = serve(plain)
    for _ in range(3):
        phone = phones(host)
        phone.open()
        phone.wait_stored()
        phone.switch_off()
        phone.switch_on()
        phone.open()
        assert phone.troubles == []
        phone.switch_off()


def test_a_warm_launch_asks_the_server_only_for_updates(plain: Path, serve: Serve, phones: Phones) -> None:
    host = serve(plain)
    phone = phones(host)
    phone.open()
    phone.wait_stored()
    host.requests.clear()
    phone.reload()
    phone.page.wait_for_timeout(2000)
    assert {path.split("?")[0] for path in host.requests} <= {"/sw.js"}


def test_the_page_is_not_loaded_again_and_again(plain: Path, serve: Serve, phones: Phones) -> None:
    phone = phones(serve(plain))
    loads: list[str] = []
    phone.page.on("domcontentloaded", lambda page: loads.append(page.url))
    phone.open()
    phone.wait_stored()
    phone.page.wait_for_timeout(4000)
    assert len(loads) == 1


@pytest.mark.parametrize("engine", ["wasm", "script"])
def test_a_page_full_of_odd_text_asks_for_nothing(
    build: Build, serve: Serve, phones: Phones, engine: str
) -> None:
    styles = (
        "for w in (None, ft.FontWeight.BOLD): page.add(ft.Text(ODD, weight=w), ft.Text(ODD, italic=True))"
    )
    field = "page.add(ft.TextField(label=ODD, value=ODD), ft.Button(ODD))"
    host = serve(build(app(f"{styles}\n{field}", more=f"ODD = {ODD!r}")))
    phone = phones(host)
    if engine == "script":
        phone.always(NO_WASM_CLIENT)
    phone.open()
    phone.wait_stored()
    phone.page.wait_for_timeout(3000)
    files = {r.url.removeprefix(host.url) for r in phone.asked if r.url.startswith(host.url)}
    listed = set(
        phone.page.evaluate(
            """async () => { const all = [];
             for (const name of await caches.keys())
               for (const request of await (await caches.open(name)).keys()) all.push(request.url);
             return all; }"""
        )
    )
    listed = {url.removeprefix(host.url) for url in listed}
    assert files - listed - {"", f"sw.js?engine={engine}"} == set()
    assert not any("Noto" in line for line in phone.said)


def test_works_under_a_sub_path(build: Build, serve: Serve, phones: Phones) -> None:
    host = serve(build(says("Under a path"), base_url="/turf/"), prefix="/turf/")
    phone = phones(host)
    phone.open("#/swards")
    phone.wait_stored()
    host.stop()
    phone.reload()
    phone.semantics()
    assert phone.page.get_by_text("Under a path").count() == 1
    assert phone.page.url.startswith(f"{host.origin}/turf/")


def test_a_second_window_is_told_and_can_go_on_later(plain: Path, serve: Serve, phones: Phones) -> None:
    phone = phones(serve(plain))
    phone.open()
    second = phone.context.new_page()
    second.goto(phone.host.url)
    until(lambda: second.get_by_text("is already open").count(), what="the second window is told")
    phone.page.close()
    second.get_by_role("button", name="Try again").click()
    phone.page = second
    phone.wait_shown()
    assert second.get_by_text("is already open").count() == 0


def test_text_can_be_made_larger(plain: Path, serve: Serve, phones: Phones) -> None:
    phone = phones(serve(plain))
    phone.open()
    contents = phone.page.eval_on_selector_all("meta[name=viewport]", "all => all.map(tag => tag.content)")
    assert contents
    assert not any("user-scalable" in content or "maximum-scale" in content for content in contents)


def test_a_file_is_offered_with_a_safe_name_and_saved_byte_for_byte(
    build: Build, serve: Serve, phones: Phones
) -> None:
    phone = phones(serve(build(app(OFFERS))))
    phone.open()
    phone.semantics()
    phone.by_id("hand-out").click()
    sheet = phone.page.get_by_role("dialog", name="Customer summary")
    sheet.wait_for()
    for button in sheet.get_by_role("button").all():
        box = button.bounding_box()
        assert box is not None
        assert box["height"] >= 48
    with phone.page.expect_download() as saved:
        sheet.get_by_role("button", name="Save to this phone").click()
    assert saved.value.suggested_filename == "Green- 7-8-.pdf"
    assert Path(saved.value.path()).read_bytes() == b"%PDF-1.4 odd\x00\xff bytes"
    sheet.get_by_role("button", name="Close").click()
    assert sheet.count() == 0


def test_sharing_hands_the_very_file_over(build: Build, serve: Serve, phones: Phones) -> None:
    phone = phones(serve(build(app(OFFERS))))
    phone.page.add_init_script(
        """navigator.canShare = () => true;
           navigator.share = async ({files, title}) => {
             const fresh = navigator.userActivation.isActive;
             globalThis.shared = [files[0].name, files[0].type, await files[0].text(), title, fresh];
           };"""
    )
    phone.open()
    phone.semantics()
    phone.by_id("hand-out").click()
    phone.page.get_by_role("button", name="Share…").click()
    shared = until(lambda: phone.page.evaluate("globalThis.shared"), what="the file is shared")
    assert shared[0] == "Green- 7-8-.pdf"
    assert shared[1] == "application/pdf"
    assert shared[2].startswith("%PDF-1.4 odd")
    assert shared[3:] == ["Customer summary", True]


def test_a_picked_file_reaches_python(build: Build, serve: Serve, phones: Phones, tmp_path: Path) -> None:
    picks = """
async def pick(event):
    files = await ft.FilePicker().pick_files(with_data=True)
    page.add(ft.Text(f"got {files[0].name} {len(files[0].bytes)} {sum(files[0].bytes)}"))
page.add(ft.Button("Pick", on_click=pick))
"""
    picture = tmp_path / "green.jpg"
    picture.write_bytes(bytes(range(256)) * 40)
    phone = phones(serve(build(app(picks))))
    phone.open()
    phone.semantics()
    with phone.page.expect_file_chooser() as chooser:
        phone.page.get_by_role("button", name="Pick").click()
    chooser.value.set_files(picture)
    expected = f"got green.jpg {256 * 40} {sum(range(256)) * 40}"
    until(lambda: phone.page.get_by_text(expected).count(), what="the picked bytes arrive")


def test_python_is_told_what_the_window_knows(build: Build, serve: Serve, phones: Phones) -> None:
    shows = """
from mobile_app.device.window import window_fact
page.add(ft.Text(f"demo {window_fact('demo')} persisted {type(window_fact('persisted')).__name__}"))
"""
    phone = phones(serve(build(app(shows))))
    phone.open("?demo")
    phone.semantics()
    until(lambda: phone.page.get_by_text("demo True persisted bool").count(), what="facts are shown")

"""Pairing, tokens, and taking a phone off."""

from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from pathlib import Path

import httpx
import pytest

from mobile_app.hub import devices, offices, tries
from mobile_app.hub.errors import Refused
from mobile_app.hub.hub import Hub
from tests.hub.phones import Phone


def join(web: httpx.Client, code: str) -> tuple[int, dict]:
    answer = web.post("/api/pair", json={"wire": 1, "code": code, "name": "Sam's phone"})
    return answer.status_code, answer.json()


def test_a_code_pairs_one_phone_and_is_read_as_people_write_it(
    web: httpx.Client, hub: Hub, business: str
) -> None:
    code, _ = devices.new_code(hub.database, business)
    status, said = join(web, f" {code.lower().replace('-', ' ')} ")
    assert (status, said["business"], said["admin"]) == (200, business, False)
    listed = web.get("/api/devices", headers={"Authorization": f"Bearer {said['token']}"}).json()["devices"]
    assert [(row["name"], row["self"]) for row in listed] == [("Sam's phone", True)]
    status, again = join(web, code)
    assert (status, again["error"]["code"]) == (403, "bad-code")


def test_used_wrong_and_old_codes_are_told_apart_by_nobody(
    web: httpx.Client, hub: Hub, business: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    used, _ = devices.new_code(hub.database, business)
    join(web, used)
    old, _ = devices.new_code(hub.database, business)
    later = offices.now() + timedelta(minutes=10, seconds=1)
    monkeypatch.setattr(devices, "now", lambda: later)
    answers = [join(web, code) for code in (used, old, "AAAA-AAAA", "")]
    assert {status for status, _ in answers} == {403}
    assert len({str(said["error"]) for _, said in answers}) == 1


def test_a_code_is_good_until_its_ten_minutes_are_over(
    web: httpx.Client, hub: Hub, business: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    code, expires = devices.new_code(hub.database, business)
    assert timedelta(minutes=9, seconds=50) < expires - offices.now() <= timedelta(minutes=10)
    monkeypatch.setattr(devices, "now", lambda: expires - timedelta(seconds=1))
    assert join(web, code)[0] == 200


def test_of_many_phones_that_use_one_code_at_once_one_gets_in(hub: Hub, business: str) -> None:
    code, _ = devices.new_code(hub.database, business)

    def use(name: str) -> bool:
        try:
            devices.pair(hub.database, code, name)
        except Refused:
            return False
        return True

    with ThreadPoolExecutor(8) as pool:
        assert sorted(pool.map(use, map(str, range(8)))) == [False] * 7 + [True]


def test_neither_codes_nor_tokens_are_kept_as_they_are(hub: Hub, business: str, tmp_path: Path) -> None:
    code, _ = devices.new_code(hub.database, business)
    unused, _ = devices.new_code(hub.database, business)
    _, token = devices.pair(hub.database, code, "Phone")
    hub.database.close()
    kept = b"".join(path.read_bytes() for path in tmp_path.glob("hub.sqlite*"))
    assert business.encode() in kept
    for secret in (
        token.rpartition(".")[2],
        token,
        code,
        code.replace("-", ""),
        unused,
        unused.replace("-", ""),
    ):
        assert secret.encode() not in kept


def test_one_address_may_try_ten_codes_a_minute(web: httpx.Client, hub: Hub, business: str) -> None:
    statuses = [join(web, "AAAA-AAAA")[0] for _ in range(tries.FROM_ONE_ADDRESS)]
    assert set(statuses) == {403}
    code, _ = devices.new_code(hub.database, business)
    answer = web.post("/api/pair", json={"code": code})
    assert (answer.status_code, answer.json()["error"]["code"]) == (429, "slow-down")
    assert 1 <= int(answer.headers["Retry-After"]) <= 61


def test_all_addresses_together_may_try_sixty(hub: Hub, monkeypatch: pytest.MonkeyPatch) -> None:
    moment = offices.now()
    monkeypatch.setattr(tries, "now", lambda: moment)
    for number in range(tries.FROM_EVERYWHERE):
        tries.count_try(hub.database, f"2001:db8::{number}")
    with pytest.raises(Refused) as refused:
        tries.count_try(hub.database, "2001:db8::ffff")
    assert refused.value.status == 429
    monkeypatch.setattr(tries, "now", lambda: moment + timedelta(seconds=tries.WINDOW))
    tries.count_try(hub.database, "2001:db8::ffff")


def test_a_token_is_good_for_its_own_business_and_device_only(
    web: httpx.Client, hub: Hub, phone: Phone
) -> None:
    other = offices.make_business(hub.database, "Another firm")
    stranger = Phone.paired(web, hub.database, other)
    business, device, secret = phone.token.split(".")
    wrong = [
        "",
        "x",
        f"{business}.{device}.",
        f"{business}.{device}.{secret[:-1]}",
        f"{other}.{device}.{secret}",
        f"{other}.{stranger.id}.{secret}",
        f"{business}.{stranger.id}.{stranger.token.split('.')[2]}",
    ]
    for token in wrong:
        answer = web.get("/api/devices", headers={"Authorization": f"Bearer {token}"})
        assert (answer.status_code, answer.json()["error"]["code"]) == (401, "not-paired"), token
    assert web.get("/api/devices").status_code == 401


def test_only_the_office_pairs_renames_and_takes_off_others(office: Phone, phone: Phone) -> None:
    assert phone.ask("POST", "/devices/code").json()["error"]["code"] == "not-admin"
    assert phone.ask("DELETE", f"/devices/{office.id}").status_code == 403
    assert phone.ask("POST", f"/devices/{office.id}", json={"name": "Mine"}).status_code == 403
    assert phone.ask("POST", f"/devices/{office.id}/rescue", json={"changes": []}).status_code == 403
    assert (
        phone.ask("POST", f"/devices/{phone.id}", json={"name": " Van\nphone "}).json()["device"]["name"]
        == "Van phone"
    )
    invited = office.ask("POST", "/devices/code", json={"admin": True}).json()
    assert join(office.web, invited["code"])[1]["admin"] is True
    assert join(office.web, office.ask("POST", "/devices/code").json()["code"])[1]["admin"] is False
    assert office.ask("DELETE", "/devices/000000000000").status_code == 404


def test_a_phone_taken_off_is_told_so_and_may_no_more(office: Phone, phone: Phone) -> None:
    assert office.ask("DELETE", f"/devices/{phone.id}").json()["device"]["revoked"]
    for method, path in (("GET", "/devices"), ("GET", "/sync/pull"), ("POST", f"/blobs/{'0' * 64}")):
        answer = phone.ask(method, path, json={"size": 1} if method == "POST" else None)
        assert (answer.status_code, answer.json()["error"]["code"]) == (401, "revoked")
        assert "export" in answer.json()["error"]["sentence"]


def test_the_office_takes_in_what_a_phone_taken_off_never_sent(office: Phone, phone: Phone) -> None:
    phone.push(phone.change(1, name="Ann"))
    office.ask("DELETE", f"/devices/{phone.id}")
    unsent = {"wire": 1, "changes": [phone.change(1, name="Ann"), phone.change(2, name="Ann Tarrant")]}
    for _ in range(2):  # twice, as a person would
        answer = office.ask("POST", f"/devices/{phone.id}/rescue", json=unsent)
        assert [(r["result"], r["position"]) for r in answer.json()["results"]] == [
            ("accepted", 1),
            ("accepted", 2),
        ]
    assert office.snapshot()["records"][0]["fields"]["name"]["is"] == {phone.id: [2, "Ann Tarrant"]}
    assert office.ask("POST", "/devices/000000000000/rescue", json=unsent).status_code == 404

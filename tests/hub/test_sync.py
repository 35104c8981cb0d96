"""Push, pull and snapshot through the web: each guarantee of the server's side has a test that needs it."""

import json

import httpx
import pytest
from sqlalchemy import func, select

from logic.sync.registers import BUCKETS, bucket, record_hash
from mobile_app.hub import offices, sync_routes
from mobile_app.hub.hub import Hub
from mobile_app.hub.log import DatabaseLog
from mobile_app.hub.tables import changes
from mobile_app.hub.trim import trim
from tests.hub.phones import Phone, change


def logged(hub: Hub, business: str) -> int:
    with hub.database.tenant(business) as connection:
        return connection.execute(select(func.count()).select_from(changes)).scalar_one()


# --- 1: a push may come again ---------------------------------------------------------------------


def test_a_change_pushed_again_gets_its_stored_result_and_nothing_else_happens(
    hub: Hub, business: str, phone: Phone, office: Phone
) -> None:
    first = phone.push(phone.change(1, name="Ann"), phone.change(2, name="Ann T."))
    office.push(office.change(1, "b", name="Bea"))
    assert phone.push(phone.change(2, name="Ann T."), phone.change(1, name="Ann")) == first[::-1]
    assert [r["position"] for r in first] == [1, 2]
    assert logged(hub, business) == 3


def test_another_change_under_a_number_that_was_used_is_refused_and_others_go_on(phone: Phone) -> None:
    phone.push(phone.change(1, name="Ann"))
    results = phone.push(phone.change(1, name="Somebody else"), phone.change(2, phone="07700 900123"))
    assert [(r["result"], r.get("code")) for r in results] == [("refused", "taken"), ("accepted", None)]
    fields = phone.snapshot()["records"][0]["fields"]
    assert fields["name"]["is"] == {phone.id: [1, "Ann"]}
    assert fields["phone"]["is"] == {phone.id: [2, "07700 900123"]}


def test_changes_records_sums_and_results_are_stored_together_or_not_at_all(
    hub: Hub, business: str, phone: Phone, monkeypatch: pytest.MonkeyPatch
) -> None:
    def dies(*arguments: object) -> None:
        raise RuntimeError("the machine stops here, with everything written but not committed")

    with monkeypatch.context() as broken:
        broken.setattr(sync_routes, "notice", dies)
        with pytest.raises(RuntimeError):
            phone.push(phone.change(1, name="Ann"))
    assert logged(hub, business) == 0
    assert phone.snapshot()["records"] == []
    assert phone.push(phone.change(1, name="Ann"))[0]["position"] == 1
    assert phone.pull(phone.start())["sums"] == sums_of(phone)


def test_numbers_of_different_phones_have_nothing_to_do_with_each_other(phone: Phone, office: Phone) -> None:
    assert phone.push(phone.change(1, name="Ann"))[0]["position"] == 1
    assert office.push(office.change(1, name="Anna"))[0]["position"] == 2
    assert phone.snapshot()["records"][0]["fields"]["name"]["is"] == {
        phone.id: [1, "Ann"],
        office.id: [1, "Anna"],
    }


# --- 2: pull by the hub's own order ---------------------------------------------------------------


def test_pages_follow_each_other_without_gap_or_repeat_and_leave_out_ones_own(
    phone: Phone, office: Phone
) -> None:
    cursor = office.start()
    for number in range(1, 8):
        phone.push(phone.change(number, f"r{number}", name=str(number)))
        office.push(office.change(number, f"o{number}", name=str(number)))
    seen: list[int] = []
    while True:
        page = office.pull(cursor, limit=3)
        seen += [one["position"] for one in page["changes"]]
        assert all(one["device"] == phone.id for one in page["changes"])
        assert ("sums" in page) is not page["more"]
        cursor = page["cursor"]
        if not page["more"]:
            break
    assert seen == [1, 3, 5, 7, 9, 11, 13]
    assert office.pull(cursor)["changes"] == []
    phone.push(phone.change(8, "late", name="late"))
    assert [one["position"] for one in office.pull(cursor)["changes"]] == [15]


def test_a_page_holds_a_large_change_whole_and_stops_at_a_megabyte(phone: Phone, office: Phone) -> None:
    cursor = office.start()
    for number in range(1, 5):
        phone.push(phone.change(number, f"r{number}", note="x" * 400_000))
    page = office.pull(cursor)
    assert (len(page["changes"]), page["more"]) == (2, True)
    assert len(office.pull(page["cursor"])["changes"]) == 2


# --- 3: reset -------------------------------------------------------------------------------------


def test_a_cursor_of_another_life_of_the_hub_or_from_beyond_its_end_means_reset(phone: Phone) -> None:
    phone.push(phone.change(1, name="Ann"))
    epoch, _, position = phone.start().partition(":")
    assert position == "1"
    for cursor in ("", f"{'0' * 32}:1", f"{epoch}:2", f"{epoch}:-1", f"{epoch}:", epoch, "nonsense"):
        page = phone.pull(cursor)
        assert (page["reset"], page["changes"], page["cursor"], page["more"]) == (True, [], "", False), cursor
    assert phone.pull(f"{epoch}:1")["reset"] is False
    assert phone.snapshot(cursor=f"{'0' * 32}:1")["reset"] is True


def test_a_cursor_from_before_the_log_was_trimmed_means_reset_and_numbers_are_still_known(
    hub: Hub, business: str, phone: Phone, office: Phone
) -> None:
    old = office.start()
    first = phone.push(phone.change(1, name="Ann"), phone.change(2, name="Ann T."))
    assert trim(hub.database, business, days=1) == 0
    assert trim(hub.database, business, days=-1) == 2
    assert office.pull(old)["reset"] is True
    fresh = office.start()
    assert office.pull(fresh)["reset"] is False
    assert phone.push(phone.change(2, name="Ann T.")) == first[1:]
    assert phone.push(phone.change(1, name="Other"))[0]["code"] == "taken"
    assert office.snapshot()["records"][0]["fields"]["name"]["is"] == {phone.id: [2, "Ann T."]}
    phone.push(phone.change(3, name="Annie"))
    assert len(office.pull(fresh)["changes"]) == 1
    assert trim(hub.database, business, days=-1) == 1


def test_a_snapshot_goes_by_key_in_pages_and_by_buckets(phone: Phone) -> None:
    names = [f"id {number:02d} é{chr(0x1F33F)}" for number in range(9)]
    for number, name in enumerate(names, start=1):
        phone.push(phone.change(number, name, "swards" if number % 2 else "clients", name=name))
    keys: list[tuple[str, str]] = []
    some = phone.snapshot(limit=4)
    while True:
        keys += [(record["table"], record["id"]) for record in some["records"]]
        if not some["more"]:
            break
        some = phone.snapshot(limit=4, after=some["after"], cursor=some["cursor"])
    assert keys == sorted(keys)
    assert len(keys) == 9
    wanted = {bucket("swards", names[0]), bucket("clients", names[1])}
    found = phone.snapshot(buckets=",".join(map(str, wanted)))["records"]
    assert {bucket(r["table"], r["id"]) for r in found} == wanted
    assert phone.ask("GET", "/sync/snapshot", params={"buckets": "64"}).status_code == 400


# --- 4: sums --------------------------------------------------------------------------------------


def sums_of(phone: Phone) -> list[str]:
    """The sums worked out anew from every record that the hub has."""
    totals = [0] * BUCKETS
    some = phone.snapshot()
    assert not some["more"]
    for record in some["records"]:
        at = bucket(record["table"], record["id"])
        totals[at] = (totals[at] + record_hash(record)) % (1 << 64)
    return [f"{total:016x}" for total in totals]


def test_the_sums_on_the_last_page_are_those_of_the_records(phone: Phone, office: Phone) -> None:
    for number in range(1, 31):
        phone.push(phone.change(number, f"r{number % 7}", name=str(number)))
    assert phone.pull(phone.start())["sums"] == sums_of(phone) != ["0" * 16] * BUCKETS
    office.push(office.change(1, "r1", name="two stand now"))
    assert phone.pull(phone.start())["sums"] == sums_of(phone)


# --- what else the wire promises ------------------------------------------------------------------


def test_what_this_version_does_not_know_is_kept_and_handed_on(phone: Phone, office: Phone) -> None:
    cursor = office.start()
    sent = phone.change(1, name="Ann") | {"mood": {"new": [1, None]}}
    sent["records"][0]["later"] = "kept"
    phone.push(sent)
    got = office.pull(cursor)["changes"][0]
    assert got["mood"] == {"new": [1, None]}
    assert got["records"][0]["later"] == "kept"


def test_odd_values_come_back_as_they_were(phone: Phone, office: Phone) -> None:
    values = ["\x00\u2028 \ud800 é 🌿", 1e300, 0.1, -0.0, 2**60, "", None, True, {"a": [{}]}, "</script>"]
    cursor = office.start()
    body = json.dumps({"wire": 1, "changes": [phone.change(1, name=values)]})
    answer = phone.ask("POST", "/sync/push", content=body)
    assert answer.json()["results"][0]["result"] == "accepted"
    page = json.loads(office.ask("GET", "/sync/pull", params={"cursor": cursor}).content)
    got = page["changes"][0]["records"][0]["fields"]["name"]["is"][phone.id][1]
    assert [repr(value) for value in got] == [repr(value) for value in values]


@pytest.mark.parametrize(
    "body",
    [
        "",
        "[]",
        "{}",
        '{"changes": 1}',
        '{"changes": [{}]}',
        '{"changes": [{"number": 0, "records": []}]}',
        "{" * 5000,
        "[" * 100_000,
        '{"changes": [{"number": ' + "9" * 5000 + ', "records": []}]}',
        '{"wire": 1, "changes": [' + ",".join(['{"number": 1, "records": []}'] * 101) + "]}",
    ],
)
def test_what_is_no_push_is_refused_in_one_sentence(phone: Phone, body: str) -> None:
    answer = phone.ask("POST", "/sync/push", content=body)
    assert answer.status_code == 400
    assert answer.json()["error"]["code"] == "bad-request"


def test_one_bad_change_holds_up_no_other(hub: Hub, business: str, phone: Phone) -> None:
    bad = phone.change(2, name="x")
    bad["records"][0]["table"] = "../etc"
    odd = phone.change(3, name="x")
    odd["records"][0]["fields"]["name"]["is"] = {"0123456789ab": [3, "written by another"]}
    body = json.dumps(
        {
            "changes": [
                phone.change(1, name="Ann"),
                bad,
                odd,
                phone.change(4, name=float("nan")),
                phone.change(5, name="last"),
            ]
        }
    )
    results = phone.ask("POST", "/sync/push", content=body).json()["results"]
    assert [r.get("code") for r in results] == [None, "bad-change", "foreign-dot", "bad-change", None]
    assert all(r["reason"] for r in results if r["result"] == "refused")
    assert logged(hub, business) == 2


def test_a_newer_wire_is_told_which_one_is_spoken_here(phone: Phone) -> None:
    for answer in (
        phone.ask("POST", "/sync/push", json={"wire": 2, "changes": []}),
        phone.ask("GET", "/sync/pull", params={"wire": 2}),
        phone.ask("GET", "/sync/snapshot", params={"wire": 2}),
    ):
        assert (answer.status_code, answer.json()["speaks"]) == (426, [1])


def test_every_answer_says_what_time_it_is_here(phone: Phone, web: httpx.Client) -> None:
    for answer in (
        phone.ask("GET", "/devices"),
        web.get("/api/devices"),
        web.get("/api/nothing"),
        web.post("/api/pair"),
    ):
        assert (
            abs((offices.now() - offices.datetime.fromisoformat(answer.json()["now"])).total_seconds()) < 60
        )


# --- 13: the first wall ---------------------------------------------------------------------------


def test_businesses_see_nothing_of_each_other(hub: Hub, web: httpx.Client, phone: Phone) -> None:
    other = Phone.paired(web, hub.database, offices.make_business(hub.database, "Another firm"), admin=True)
    phone.push(phone.change(1, name="Ann"))
    assert other.snapshot()["records"] == []
    assert other.push(change(other.id, 1, name="Bea"))[0]["position"] == 1
    assert phone.snapshot()["records"][0]["fields"]["name"]["is"] == {phone.id: [1, "Ann"]}
    assert [row["device"] for row in other.ask("GET", "/devices").json()["devices"]] == [other.id]
    assert other.ask("DELETE", f"/devices/{phone.id}").status_code == 404
    assert other.ask("POST", f"/devices/{phone.id}/rescue", json={"changes": []}).status_code == 404
    with hub.database.tenant(phone.business) as connection:
        assert DatabaseLog(connection, phone.business).last() == 1

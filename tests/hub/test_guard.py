"""What guards the hub: limits, headers, whom it lets in from elsewhere, what it logs and counts."""

import json
import logging
import re

import httpx
import pytest

from mobile_app.hub.guard import LARGEST_BODY
from mobile_app.hub.hub import Hub
from mobile_app.hub.service import service
from tests.hub.phones import Phone, web_of


def test_every_answer_has_the_safety_headers(web: httpx.Client, phone: Phone) -> None:
    for answer in (
        web.get("/api/health"),
        web.get("/api/nothing"),
        phone.ask("GET", "/sync/pull"),
        web.get("/metrics"),
    ):
        assert answer.headers["Content-Security-Policy"] == "default-src 'none'; frame-ancestors 'none'"
        assert answer.headers["X-Content-Type-Options"] == "nosniff"
        assert answer.headers["Cache-Control"] == "no-store"
        assert answer.headers["Referrer-Policy"] == "no-referrer"
        assert "Strict-Transport-Security" not in answer.headers
    assert "Strict-Transport-Security" in web.get("https://hub.example.com/api/health").headers


def test_a_body_beyond_the_limit_is_refused_whether_it_says_its_length_or_not(phone: Phone, hub: Hub) -> None:
    big = b"x" * (LARGEST_BODY + 1)

    def unsaid():  # type: ignore[no-untyped-def]
        yield from (big[at : at + 100_000] for at in range(0, len(big), 100_000))

    headers = {"Content-Type": "application/json", "Authorization": f"Bearer {phone.token}"}
    for content in (big, unsaid()):
        answer = phone.web.post("/api/sync/push", content=content, headers=headers)
        assert (answer.status_code, answer.json()["error"]["code"]) == (413, "too-large")


def test_only_origins_that_were_named_may_ask_from_a_page(web: httpx.Client) -> None:
    asked = {"Access-Control-Request-Method": "POST", "Access-Control-Request-Headers": "authorization"}
    good = web.options("/api/sync/push", headers={"Origin": "https://app.example.com", **asked})
    assert good.status_code == 200
    assert good.headers["Access-Control-Allow-Origin"] == "https://app.example.com"
    assert "Access-Control-Allow-Credentials" not in good.headers
    for origin in ("https://evil.example.com", "http://app.example.com", "null"):
        bad = web.options("/api/sync/push", headers={"Origin": origin, **asked})
        assert "Access-Control-Allow-Origin" not in bad.headers
        assert "Access-Control-Allow-Origin" not in web.get("/api/health", headers={"Origin": origin}).headers


def test_logs_are_lines_of_json_with_nothing_of_anybody_in_them(
    phone: Phone, office: Phone, caplog: pytest.LogCaptureFixture
) -> None:
    with caplog.at_level(logging.INFO):
        phone.push(phone.change(1, name="Odile Tarrant", email="odile@example.com"))
        phone.ask("POST", f"/devices/{phone.id}", json={"name": "Ann's phone"})
        phone.ask("GET", "/blobs/" + "0" * 64, params={"offset": 7})
        phone.web.post("/api/pair", json={"code": "ABCD-EFGH", "name": "Odile Tarrant"})
    lines = [json.loads(record.message) for record in caplog.records if record.name == "swardwright.hub"]
    assert [(line["route"], line["status"]) for line in lines] == [
        ("/api/sync/push", 200),
        ("/api/devices/{device}", 200),
        ("/api/blobs/{sha256}", 404),
        ("/api/pair", 403),
    ]
    text = str(lines)
    secrets = (
        "Odile",
        "odile@",
        "Ann",
        "ABCD",
        phone.token,
        phone.token.split(".")[2],
        phone.id,
        "0" * 64,
        "127.0.0.1",
    )
    assert [secret for secret in secrets if secret in text] == []


def test_metrics_count_what_happened_as_prometheus_text(web: httpx.Client, phone: Phone) -> None:
    phone.push(phone.change(1, name="Ann"))
    phone.push(phone.change(1, name="Other"))
    answer = web.get("/metrics")
    assert answer.headers["Content-Type"].startswith("text/plain; version=0.0.4")
    assert 'swardwright_changes_total{outcome="accepted"} 1\n' in answer.text
    assert 'swardwright_changes_total{outcome="taken"} 1\n' in answer.text
    assert 'swardwright_requests_total{route="/api/sync/push",status="200"} 2\n' in answer.text
    # The text format 0.0.4: a comment, or name{labels} value.
    line = re.compile(r'(# (HELP|TYPE) \w+ .+)|(\w+(\{\w+="[^"]*"(,\w+="[^"]*")*\})? [-+.e0-9]+)')
    assert all(line.fullmatch(one) for one in answer.text.splitlines())


def test_every_route_is_described(web: httpx.Client) -> None:
    document = web.get("/api/openapi.json").json()
    routes = [(path, how, said) for path, ways in document["paths"].items() for how, said in ways.items()]
    assert len(routes) >= 14
    assert all(len(said["summary"]) >= 10 for _, _, said in routes)
    open_to_all = {path for path, _, said in routes if "security" not in said}
    assert open_to_all == {"/api/pair", "/api/health", "/metrics"}
    assert web.get("/docs").status_code == 404  # its page would fetch from other hosts


def test_a_database_that_is_away_is_said_to_be_busy(web: httpx.Client, phone: Phone, hub: Hub) -> None:
    with hub.database.engine.begin() as connection:
        connection.exec_driver_sql("ALTER TABLE devices RENAME TO gone")
    answer = phone.ask("GET", "/sync/pull")
    assert (answer.status_code, answer.json()["error"]["code"]) == (503, "busy")
    assert int(answer.headers["Retry-After"]) > 0


def test_the_app_is_served_beside_the_hub(hub: Hub, tmp_path) -> None:  # type: ignore[no-untyped-def]
    site = tmp_path / "site"
    (site / "b" / "1").mkdir(parents=True)
    (site / "index.html").write_text("<p>the app</p>")
    (site / "b" / "1" / "x.js").write_text("1")
    object.__setattr__(hub.settings, "site", site)
    web = web_of(service(hub))
    page = web.get("/")
    assert page.text == "<p>the app</p>"
    assert "script-src 'self'" in page.headers["Content-Security-Policy"]
    assert page.headers["Cache-Control"] == "no-cache"
    assert "immutable" in web.get("/b/1/x.js").headers["Cache-Control"]
    assert web.get("/../hub.sqlite").status_code == 404
    assert web.get("/%2e%2e/hub.sqlite").status_code == 404
    assert web.get("/api/health").json() == {"health": "ok"}
    assert web.post("/").status_code == 405

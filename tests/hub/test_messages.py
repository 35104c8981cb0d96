"""The e-mail made from a message record: what a person typed stays text, whatever it holds."""

import email
import string
from email.policy import default
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from logic.errors import BadValue
from mobile_app.hub.messages import Letter, email_of, letter_of, occasion
from mobile_app.hub.smtp import LARGEST, Server

SERVER = Server(host="mail.example.com", sender="office@turf.example.com", name="Cobb & Daughter, “Turf”")


def letter(**values: Any) -> Letter:
    given_ = {"id": "f" * 32, "to": ("odile@example.com",), "subject": "Your green", "body": "Dear Odile\n"}
    return Letter(**({**given_, "paper_name": "summary.pdf", "paper": ""} | values))


def read_back(made: Any) -> Any:
    """The message as the other side's parser sees it."""
    return email.message_from_bytes(made.as_bytes(), policy=default)


def test_what_is_written_arrives() -> None:
    made, to = email_of(letter(subject="Ihr Grün – 3 m²"), SERVER, b"%PDF-1.7 \x00\xff")
    got = read_back(made)
    assert to == ["odile@example.com"]
    assert got["Subject"] == "Ihr Grün – 3 m²"
    assert got["From"].addresses[0].display_name == SERVER.name
    assert got["Message-ID"] == f"<{'f' * 32}@turf.example.com>"
    assert got.get_body().get_content().splitlines() == ["Dear Odile"]
    (paper,) = got.iter_attachments()
    assert (paper.get_filename(), paper.get_content_type()) == ("summary.pdf", "application/pdf")
    assert paper.get_payload(decode=True) == b"%PDF-1.7 \x00\xff"
    assert all(byte < 128 for byte in made.as_bytes())


ODD = st.text(st.one_of(st.sampled_from('\r\n\0\t:;<>,@"\\ é漢‮'), st.characters()), max_size=60)


@settings(max_examples=60)
@given(subject=ODD, body=ODD, name=ODD, paper=ODD, record=ODD)
def test_no_text_makes_a_header_or_a_recipient_of_its_own(
    subject: str, body: str, name: str, paper: str, record: str
) -> None:
    server = Server(host="mail.example.com", sender="office@example.com", name=name)
    made, to = email_of(letter(subject=subject, body=body, paper_name=paper, id=record), server, b"%PDF")
    head, _, _ = made.as_bytes().partition(b"\r\n\r\n")
    names = [line.split(b":")[0] for line in head.split(b"\r\n") if not line.startswith((b" ", b"\t"))]
    assert sorted(names) == sorted(
        [b"From", b"To", b"Subject", b"Date", b"Message-ID", b"MIME-Version", b"Content-Type"]
    )
    assert to == ["odile@example.com"]
    got = read_back(made)
    assert [one.addr_spec for one in got["To"].addresses] == ["odile@example.com"]
    assert [one.addr_spec for one in got["From"].addresses] == ["office@example.com"]
    assert len(list(got.iter_attachments())) == 1


@example("a@b@c")
@example(".a@b")
@example("a..b@c")
@example("a@")
@example("@a")
@example('"@a')
@given(st.text(st.sampled_from(string.ascii_letters + '\r\n ,;:<>()[]"\\@\0'), min_size=1, max_size=40))
def test_an_address_is_one_address_or_is_refused(text: str) -> None:
    try:
        made, to = email_of(letter(to=(text,)), SERVER, None)
    except BadValue:
        return
    assert to == [text.strip()]
    assert [one.addr_spec for one in read_back(made)["To"].addresses] == to
    assert text.strip().count("@") == 1
    assert not any(ch in text.strip() for ch in "\r\n ,;:<>\0")


@pytest.mark.parametrize(
    ("typed", "sent"),
    [
        # RFC 5891 section 4 and RFC 3492: the A-labels of these names, as published in many places.
        ("odile@bücher.example", "odile@xn--bcher-kva.example"),
        ("odile@BÜCHER.example", "odile@xn--bcher-kva.example"),
        ("odile@faß.example", "odile@xn--fa-hia.example"),
        ("odile@例え.テスト", "odile@xn--r8jz45g.xn--zckzah"),
    ],
)
def test_names_of_hosts_in_any_letters_go_out_as_the_network_writes_them(typed: str, sent: str) -> None:
    assert email_of(letter(to=(typed,)), SERVER, None)[1] == [sent]


def test_a_document_that_is_too_large_is_refused_with_a_sentence() -> None:
    email_of(letter(), SERVER, bytes(LARGEST))
    with pytest.raises(BadValue, match="10 MB"):
        email_of(letter(), SERVER, bytes(LARGEST + 1))


def register(*values: Any, at: dict[str, int] | None = None) -> dict[str, Any]:
    return {"at": at or {}, "is": {f"d{index}": [index + 1, *value] for index, value in enumerate(values)}}


def state(**registers: Any) -> dict[str, Any]:
    fields = {"to": register([["odile@example.com"]]), **registers}
    return {"table": "messages", "id": "m", "fields": {k.replace("__", "/"): v for k, v in fields.items()}}


def test_only_a_wish_that_everybody_agrees_on_counts() -> None:
    assert occasion(state())  # "waiting" is what the field says by itself
    assert occasion(state(state=register(["waiting"])))
    assert occasion(state(state=register(["waiting"], ["waiting"])))
    assert occasion(state(state=register([])))
    assert not occasion(state(state=register(["sent"])))
    assert not occasion(state(state=register(["sent"], ["waiting"])))
    assert not occasion(state(state=register(["queued"], [])))
    assert not occasion({"table": "messages", "id": "m", "fields": {}})  # a draft
    deleted = state()
    deleted["fields"][""] = register([{"deleted": "2026-05-04T09:00:00+00:00"}])
    assert not occasion(deleted)


def test_another_wish_is_another_occasion() -> None:
    one = state(state={"at": {}, "is": {"d0": [4, "waiting"]}})
    two = state(state={"at": {"d0": 4, "hub": 9}, "is": {"d0": [12, "waiting"]}})
    assert len({occasion(one), occasion(two), occasion(state())}) == 3


def test_a_message_that_two_phones_wrote_differently_is_not_guessed_at() -> None:
    with pytest.raises(BadValue, match="Two phones"):
        letter_of(state(subject=register(["One"], ["Two"])))
    assert letter_of(state(subject=register(["Same"], ["Same"]))).subject == "Same"


def test_the_paper_may_be_one_value_or_a_field_for_each_part() -> None:
    whole = letter_of(state(paper=register([{"name": "a.pdf", "sha256": "0" * 64}])))
    parts = letter_of(state(paper__name=register(["a.pdf"]), paper__sha256=register(["0" * 64])))
    assert (whole.paper_name, whole.paper) == (parts.paper_name, parts.paper) == ("a.pdf", "0" * 64)

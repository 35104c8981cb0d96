"""The draft of an e-mail, read back by Python's own parser: heads (RFC 5322), names (RFC 2231), hosts."""

from email import message_from_bytes
from email.message import EmailMessage
from email.policy import default

import pytest

from logic.errors import BadValue
from logic.report.mail import LARGEST, addresses, draft

PDF = b"%PDF-1.4 nothing"


def read(data: bytes) -> EmailMessage:
    """The message as a mail program reads it."""
    found = message_from_bytes(data, policy=default)
    assert isinstance(found, EmailMessage)
    return found


def test_a_draft_has_its_words_and_its_document() -> None:
    data = draft(
        ["ada@example.com"], "Summary: Grün", "Dear Ada,\n½ m²", "Grün.pdf", PDF, "jo@example.com", "Fen"
    )
    message = read(data)
    assert (message["To"], message["Subject"]) == ("ada@example.com", "Summary: Grün")
    assert message["From"].addresses[0].display_name == "Fen"
    assert message["X-Unsent"] == "1"
    body = message.get_body()
    assert body is not None
    assert body.get_content().replace("\r\n", "\n").strip() == "Dear Ada,\n½ m²"
    [paper] = message.iter_attachments()
    assert (paper.get_filename(), paper.get_content_type()) == ("Grün.pdf", "application/pdf")
    assert paper.get_content() == PDF
    data.decode("ascii")


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r", "\u2028", "\x0b", "\x85"])
def test_no_line_break_in_a_subject_name_or_sender_begins_a_head_of_its_own(end: str) -> None:
    evil = f"x{end}Bcc: all@example.com"
    message = read(draft(["ada@example.com"], evil, "", evil, PDF, "jo@example.com", evil))
    assert message["Bcc"] is None
    assert message["Subject"] == "x Bcc: all@example.com"
    with pytest.raises(BadValue):
        draft([f"ada@example.com{end}Bcc: all@example.com"], "", "", "a.pdf", PDF)


def test_hosts_outside_ascii_are_written_as_the_network_wants_them() -> None:
    message = read(draft(["ada@bücher.example"], "", "", "a.pdf", PDF))
    assert message["To"] == "ada@xn--bcher-kva.example"  # the example that everybody gives for RFC 3490


@pytest.mark.parametrize(
    "bad", ["", "ada", "@example.com", "ada@", "a b@example.com,", "a@b@c", "<a@b.example>"]
)
def test_what_is_no_address_is_said(bad: str) -> None:
    with pytest.raises(BadValue):
        addresses(bad)


def test_several_addresses_and_a_document_too_large() -> None:
    assert addresses("a@example.com, b@example.com;c@example.com") == (
        "a@example.com",
        "b@example.com",
        "c@example.com",
    )
    with pytest.raises(BadValue):
        draft(["a@example.com"], "", "", "a.pdf", bytes(LARGEST + 1))

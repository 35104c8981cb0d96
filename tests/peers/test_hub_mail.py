"""Handing mail to a real mail server (aiosmtpd) that fails at every step it can fail at."""

import asyncio
import email
import socket
import ssl
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from email.policy import default
from pathlib import Path
from typing import Any

import pytest
import trustme
from aiosmtpd.controller import Controller
from aiosmtpd.smtp import SMTP, AuthResult, LoginPassword

from mobile_app.hub import smtp
from mobile_app.hub.messages import Letter, email_of
from mobile_app.hub.smtp import Result, Server, deliver

PAPER = b"%PDF-1.7\n.\n..\r\n. \x00\xff"


@dataclass
class Post:
    """What the server is told to do at a step ("drop", "silent" or an answer), and what it took in."""

    plan: dict[str, str] = field(default_factory=dict)
    got: list[Any] = field(default_factory=list)

    async def handle_DATA(self, server: SMTP, session: Any, envelope: Any) -> str:
        self.got.append(envelope)
        planned = self.plan.get("END")
        if planned == "drop":
            server.transport.abort()
        if planned == "silent":
            await asyncio.sleep(60)
        return planned if planned and planned[0].isdigit() else "250 kept as 1"


class Failing(SMTP):
    """A mail server that follows the plan of its Post."""

    async def fails(self, step: str) -> bool:
        planned = self.event_handler.plan.get(step)
        if planned == "drop":
            self.transport.abort()
        elif planned:
            await self.push(planned)
        return planned is not None

    async def smtp_EHLO(self, hostname: str) -> None:
        if not await self.fails("EHLO"):
            await super().smtp_EHLO(hostname)

    async def smtp_HELO(self, hostname: str) -> None:
        if not await self.fails("EHLO"):
            await super().smtp_HELO(hostname)

    async def smtp_MAIL(self, arg: str) -> None:
        if not await self.fails("MAIL"):
            await super().smtp_MAIL(arg)

    async def smtp_RCPT(self, arg: str) -> None:
        if not ("second" in arg and await self.fails("SECOND")) and not await self.fails("RCPT"):
            await super().smtp_RCPT(arg)

    async def smtp_DATA(self, arg: str) -> None:
        if not await self.fails("DATA"):
            await super().smtp_DATA(arg)

    async def smtp_QUIT(self, arg: str) -> None:
        if not await self.fails("QUIT"):
            await super().smtp_QUIT(arg)


Start = Callable[..., tuple[Post, Server]]


@pytest.fixture
def start() -> Iterator[Start]:
    """Starts a server that follows a plan."""
    running: list[Controller] = []

    def begin(
        plan: dict[str, str], tls: ssl.SSLContext | None = None, **settings: Any
    ) -> tuple[Post, Server]:
        post = Post(plan)
        how = {"tls_context": tls, **settings} if tls else settings

        class Here(Controller):
            def factory(self) -> SMTP:
                return Failing(self.handler, hostname="mail.example.com", enable_SMTPUTF8=True, **how)

        port = free_port()
        controller = Here(post, hostname="127.0.0.1", port=port)
        controller.start()
        running.append(controller)
        return post, Server(host="127.0.0.1", port=port, security="none", sender="office@example.com")

    yield begin
    for controller in running:
        controller.stop()


def free_port() -> int:
    """A port that was free a moment ago."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        return int(free.getsockname()[1])


def send(server: Server, *to: str) -> Result:
    letter = Letter(
        "m1", to or ("odile@example.com",), "Ihr Grün", ".\n..\nDear Odile é\n", "summary.pdf", ""
    )
    message, addresses = email_of(letter, server, PAPER)
    return deliver(server, message, addresses)


def test_what_is_sent_is_what_arrives(start: Start) -> None:
    post, server = start({})
    assert send(server, "odile@example.com", "second@example.com") == Result("sent", "kept as 1")
    (envelope,) = post.got
    assert envelope.mail_from == "office@example.com"
    assert envelope.rcpt_tos == ["odile@example.com", "second@example.com"]
    got: Any = email.message_from_bytes(envelope.content, policy=default)
    assert got["Message-ID"] == "<m1@example.com>"
    assert got["Subject"] == "Ihr Grün"
    assert got.get_body().get_content().splitlines() == [".", "..", "Dear Odile é"]
    (paper,) = got.iter_attachments()
    assert paper.get_payload(decode=True) == PAPER


# Of each step: what the server does there, what became of the message, how many it took in.
STEPS = [
    ("EHLO", "550 go away", "refused", 0),
    ("EHLO", "421 too busy", "again", 0),
    ("EHLO", "drop", "again", 0),
    ("MAIL", "550 not from you", "refused", 0),
    ("MAIL", "451 later", "again", 0),
    ("MAIL", "drop", "again", 0),
    ("RCPT", "550 5.1.1 no such mailbox", "refused", 0),
    ("RCPT", "450 grey list", "again", 0),
    ("RCPT", "drop", "again", 0),
    ("SECOND", "550 no such mailbox", "refused", 0),
    ("DATA", "554 no", "refused", 0),
    ("DATA", "451 disk full", "again", 0),
    ("DATA", "drop", "again", 0),
    ("END", "554 looks like spam", "refused", 1),
    ("END", "452 disk full", "again", 1),
    ("END", "drop", "unknown", 1),
    ("QUIT", "500 what", "sent", 1),
    ("QUIT", "drop", "sent", 1),
]


@pytest.mark.parametrize(
    ("step", "does", "outcome", "took"), STEPS, ids=[f"{s}-{d[:4]}" for s, d, _, _ in STEPS]
)
def test_what_became_of_a_message_is_never_guessed(
    start: Start, step: str, does: str, outcome: str, took: int
) -> None:
    post, server = start({step: does})
    result = send(server, "odile@example.com", "second@example.com")
    assert result.outcome == outcome
    assert len(post.got) == took
    if does[0].isdigit() and outcome != "sent":
        assert does[4:] in result.said


def test_silence_once_the_server_has_the_message_is_unknown(
    start: Start, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(smtp, "PATIENCE", 1)
    post, server = start({"END": "silent"})
    assert send(server).outcome == "unknown"
    assert len(post.got) == 1


def test_no_server_at_all_is_a_passing_failure(start: Start) -> None:
    result = send(Server(host="127.0.0.1", port=1, security="none", sender="office@example.com"))
    assert result.outcome == "again"
    assert "cannot be reached" in result.said


def test_addresses_in_other_letters_need_a_server_that_takes_them(
    start: Start, monkeypatch: pytest.MonkeyPatch
) -> None:
    post, server = start({})
    assert send(server, "jörg@bücher.example").outcome == "sent"
    assert post.got[0].rcpt_tos == ["jörg@xn--bcher-kva.example"]
    old, server = start({"EHLO": "250 mail.example.com"})
    assert send(server, "jörg@bücher.example").outcome == "refused"
    assert old.got == []


# --- TLS ------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def authority() -> trustme.CA:
    return trustme.CA()


@pytest.fixture(scope="module")
def served(authority: trustme.CA) -> ssl.SSLContext:
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    authority.issue_cert("127.0.0.1").configure_cert(context)
    return context


@pytest.fixture
def trusted(authority: trustme.CA, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """This process trusts the authority, as the machine's own list would make it."""
    authority.cert_pem.write_to_path(tmp_path / "ca.pem")
    monkeypatch.setenv("SSL_CERT_FILE", str(tmp_path / "ca.pem"))


def authenticator(server: Any, session: Any, envelope: Any, mechanism: str, data: Any) -> AuthResult:
    return AuthResult(success=data == LoginPassword(b"office", b"hunter2"), handled=False)


def over_tls(server: Server, password: str = "hunter2", security: str = "starttls") -> Server:
    given = {"host": server.host, "port": server.port, "sender": server.sender}
    return Server.of({**given, "security": security, "user": "office", "password": password})


@pytest.mark.usefixtures("trusted")
def test_it_goes_out_over_starttls_with_a_password(start: Start, served: ssl.SSLContext) -> None:
    login = {"authenticator": authenticator, "auth_required": True}
    post, server = start({}, served, require_starttls=True, **login)
    assert send(over_tls(server)).outcome == "sent"
    wrong = send(over_tls(server, "wrong"))
    assert (wrong.outcome, wrong.said[:3]) == ("refused", "535")
    assert len(post.got) == 1


def test_a_certificate_that_nobody_vouches_for_gets_neither_password_nor_message(
    start: Start, served: ssl.SSLContext
) -> None:
    asked: list[Any] = []

    def notes(server: Any, session: Any, envelope: Any, mechanism: str, data: Any) -> AuthResult:
        asked.append(data)
        return AuthResult(success=True)

    post, server = start({}, served, authenticator=notes)
    result = send(over_tls(server))
    assert result.outcome == "again"
    assert "certificate" in result.said
    assert (post.got, asked) == ([], [])


def test_a_server_without_starttls_is_not_spoken_to_in_the_clear(start: Start) -> None:
    post, server = start({})
    assert send(over_tls(server)).outcome == "again"
    assert post.got == []


@pytest.mark.usefixtures("trusted")
def test_it_goes_out_over_tls_from_the_first_byte(served: ssl.SSLContext) -> None:
    post = Post()
    port = free_port()
    controller = Controller(post, hostname="127.0.0.1", port=port, ssl_context=served)
    controller.start()
    try:
        server = Server(host="127.0.0.1", port=port, security="tls", sender="office@example.com")
        assert send(server).outcome == "sent"
        assert len(post.got) == 1
    finally:
        controller.stop()

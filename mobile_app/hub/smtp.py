"""One message to one mail server, step by step, so that what became of it is never guessed."""

import smtplib
import socket
import ssl
from collections.abc import Sequence
from dataclasses import dataclass
from email.message import EmailMessage
from email.policy import SMTP as SMTP_POLICY
from typing import Any, Literal

#: What became of a message: "again" means that nothing left the hub and it may try again by itself.
Outcome = Literal["sent", "refused", "again", "unknown"]
LARGEST = 10 * 1024 * 1024
#: Seconds to wait for each answer of a mail server.
PATIENCE = 30


@dataclass(frozen=True, kw_only=True)
class Server:
    """A business's own mail server, and whom its mail comes from."""

    host: str
    port: int = 587
    security: Literal["starttls", "tls", "none"] = "starttls"
    user: str = ""
    password: str = ""
    sender: str = ""
    name: str = ""

    @classmethod
    def of(cls, settings: dict[str, Any]) -> "Server":
        """From the stored settings; what they leave out has its default."""
        return cls(**{key: settings[key] for key in cls.__dataclass_fields__ if key in settings})


@dataclass(frozen=True)
class Result:
    """What became of a message, and the server's words or ours."""

    outcome: Outcome
    said: str


def deliver(server: Server, message: EmailMessage, to: Sequence[str]) -> Result:
    """Hands a message over. All of `to` get it or nobody does.

    Before the server has been given the text nothing was sent: a passing failure is "again", a lasting one
    "refused". Once it has the text, only its own answer says which: without one the outcome is "unknown".
    """
    try:
        session = _connect(server)
    except smtplib.SMTPResponseException as error:
        return _by_code(error.smtp_code, error.smtp_error)
    except (smtplib.SMTPException, OSError) as error:
        return Result("again", f"The mail server cannot be reached: {_reason(error)}")
    try:
        return _hand_over(session, server, message, to)
    except (smtplib.SMTPException, OSError) as error:
        return Result("again", f"The mail server hung up before it had the message: {_reason(error)}")
    finally:
        _leave(session)


def _connect(server: Server) -> smtplib.SMTP:
    context = ssl.create_default_context()
    session: smtplib.SMTP
    if server.security == "tls":
        session = smtplib.SMTP_SSL(server.host, server.port, timeout=PATIENCE, context=context)
    else:
        session = smtplib.SMTP(server.host, server.port, timeout=PATIENCE)
    try:
        session.ehlo_or_helo_if_needed()
        if server.security == "starttls":
            session.starttls(context=context)
            session.ehlo()
        if server.user:
            session.login(server.user, server.password)
    except BaseException:
        session.close()
        raise
    return session


def _hand_over(session: smtplib.SMTP, server: Server, message: EmailMessage, to: Sequence[str]) -> Result:
    wide = not all(address.isascii() for address in (server.sender, *to))
    if wide and not session.has_extn("smtputf8"):
        return Result("refused", "The mail server takes no addresses with letters outside a to z.")
    data = message.as_bytes(policy=SMTP_POLICY.clone(utf8=wide))
    options = [f"size={len(data)}"] if session.has_extn("size") else []
    options += ["SMTPUTF8", "BODY=8BITMIME"] if wide else []
    code, words = session.mail(server.sender, options)
    if code != 250:
        return _by_code(code, words)
    for address in to:
        code, words = session.rcpt(address)
        if code not in (250, 251):
            refused = _by_code(code, words)
            return Result(refused.outcome, f"{address}: {refused.said}")
    code, words = session.docmd("DATA")
    if code != 354:
        return _by_code(code, words)
    return _give(session, data)


def _give(session: smtplib.SMTP, data: bytes) -> Result:
    """Sends the text; from its first byte on, silence means that nobody knows."""
    lines = data.splitlines(keepends=True)
    dotted = b"".join(b"." + line if line.startswith(b".") else line for line in lines)
    ending = b".\r\n" if dotted.endswith(b"\r\n") else b"\r\n.\r\n"
    try:
        session.send(dotted + ending)
        code, words = session.getreply()
    except (smtplib.SMTPException, OSError) as error:
        return Result("unknown", f"The line broke while the mail server had the message: {_reason(error)}")
    return Result("sent", _text(words)) if code == 250 else _by_code(code, words)


def _by_code(code: int, words: bytes | str) -> Result:
    outcome: Outcome = "refused" if 500 <= code < 600 else "again"
    return Result(outcome, f"{code} {_text(words)}")


def _leave(session: smtplib.SMTP) -> None:
    """Says goodbye; how that goes changes nothing."""
    try:
        session.quit()
    except (smtplib.SMTPException, OSError):
        session.close()


def _text(words: bytes | str) -> str:
    text = words.decode("utf-8", "replace") if isinstance(words, bytes) else words
    return " ".join(text.split())[:500]


def _reason(error: Exception) -> str:
    if isinstance(error, TimeoutError | socket.timeout):
        return "no answer in time."
    return _text(str(error)) or type(error).__name__

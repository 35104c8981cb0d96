"""What a message record says, as far as every phone agrees on it, and the e-mail made from it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from email.headerregistry import Address
from email.message import EmailMessage
from email.policy import SMTP
from email.utils import format_datetime
from typing import Any

import idna

from logic.errors import BadValue
from logic.sync.text import digest
from mobile_app.hub.offices import now
from mobile_app.hub.smtp import LARGEST, Server

TABLE = "messages"
#: Not every server takes letters outside ASCII as they are, so the text is wrapped where it has any.
_POLICY = SMTP.clone(cte_type="7bit")


@dataclass(frozen=True)
class Letter:
    """One message as its sender wrote it."""

    id: str
    to: tuple[str, ...]
    subject: str
    body: str
    paper_name: str
    paper: str  # sha256, or "" for none


def occasion(state: Mapping[str, Any]) -> str:
    """Names the wish that stands in a message record: to send it now. "" when there is none.

    There is one only when everything that stands in its state says "waiting", so when the office said
    "sent" beside it a person has to look first.
    """
    register = state["fields"].get("state", {"is": {}})["is"]
    if is_deleted(state) or not state["fields"].get("to", {"is": {}})["is"]:
        return ""
    # "waiting" is what the field says by itself, so a phone may leave it out, or take another word away.
    if any(value[1:] not in ([], ["waiting"]) for value in register.values()):
        return ""
    return digest({device: value[0] for device, value in register.items()})[:32]


def letter_of(state: Mapping[str, Any]) -> Letter:
    """The message in a record. Raises BadValue when it has none that can be sent."""
    paper = _mapping_at(state, "paper")
    to = _one(state, "to")
    if isinstance(to, str):
        to = [to]
    if not isinstance(to, list) or not to or not all(isinstance(one, str) and one.strip() for one in to):
        raise BadValue("to", "There is nobody to send this to.")
    return Letter(
        id=str(state["id"]),
        to=tuple(one.strip() for one in to),
        subject=_text(state, "subject"),
        body=_text(state, "body"),
        paper_name=str(paper.get("name") or "document.pdf"),
        paper=str(paper.get("sha256") or ""),
    )


def email_of(letter: Letter, server: Server, paper: bytes | None) -> tuple[EmailMessage, list[str]]:
    """The e-mail, and the bare addresses that it goes to. Raises BadValue for what cannot be a header."""
    message = EmailMessage(policy=_POLICY)
    sender = _address(server.sender, "from", server.name)
    to = [_address(one, "to") for one in letter.to]
    try:
        message["From"] = sender
        message["To"] = to
        # A line break in a subject would begin a header of its own.
        message["Subject"] = _one_line(letter.subject)
        message["Date"] = format_datetime(now())
        message["Message-ID"] = f"<{_plain(letter.id)}@{sender.domain}>"
    except (ValueError, TypeError, IndexError) as error:
        raise BadValue("subject", "This cannot be the head of an e-mail.") from error
    message.set_content(letter.body.encode("utf-8", "replace").decode())
    if paper is not None:
        if len(paper) > LARGEST:
            raise BadValue("paper", "An e-mail takes up to 10 MB; this document is larger.")
        name = "".join(ch for ch in letter.paper_name if ch.isprintable() and ch not in '/\\"')
        message.add_attachment(paper, maintype="application", subtype="pdf", filename=name or "document.pdf")
    return message, [one.addr_spec for one in to]


def _address(text: str, field: str, shown: str = "") -> Address:
    """One address, its host as the network writes it. Raises BadValue."""
    local, at, host = text.strip().rpartition("@")
    odd = any(not ch.isprintable() or ch in ' ,;<>()[]\\"' for ch in text.strip())
    if not at or not local or not host or odd:
        raise BadValue(field, f"“{text.strip()[:100]}” is no e-mail address.")
    try:
        plain = host if host.isascii() else idna.encode(host, uts46=True).decode()
        made = Address(display_name=_one_line(shown), username=local, domain=plain)
    except (ValueError, IndexError, UnicodeError) as error:
        raise BadValue(field, f"“{text.strip()[:100]}” is no e-mail address.") from error
    if made.addr_spec != f"{local}@{plain}":  # it would have to be quoted: "a@b"@host and the like
        raise BadValue(field, f"“{text.strip()[:100]}” is no e-mail address.")
    return made


def _one_line(text: str) -> str:
    return " ".join("".join(ch if ch.isprintable() else " " for ch in text).split())


def _plain(text: str) -> str:
    return "".join(ch for ch in text if ch.isascii() and (ch.isalnum() or ch in "-_")) or "message"


def is_deleted(state: Mapping[str, Any]) -> bool:
    """Whether a phone has put this record into the bin."""
    whole = state["fields"].get("", {"is": {}})["is"]
    return any(len(value) == 2 for value in whole.values())


def _one(state: Mapping[str, Any], path: str) -> Any:
    """The value that stands at a path, None when there is none."""
    register = state["fields"].get(path, {"is": {}})["is"]
    values = [value[1] if len(value) == 2 else None for value in register.values()]
    if any(value != values[0] for value in values):
        raise BadValue(path, "Two phones wrote different things here. Choose one, then send again.")
    return values[0] if values else None


def _text(state: Mapping[str, Any], path: str) -> str:
    value = _one(state, path)
    return value if isinstance(value, str) else ""


def _mapping_at(state: Mapping[str, Any], path: str) -> dict[str, Any]:
    """A mapping whose members stand each at a path of its own, or all in one value."""
    whole = _one(state, path)
    found: dict[str, Any] = dict(whole) if isinstance(whole, Mapping) else {}
    begins: Sequence[str] = [name for name in state["fields"] if name.startswith(f"{path}/")]
    return found | {name.removeprefix(f"{path}/"): _one(state, name) for name in begins}

"""An e-mail with a document attached, as a draft that any mail program opens and sends.

Addresses and subject come from people: whatever they hold, it stays within its own header line. A host with
letters outside ASCII is written as the network wants it (RFC 3490, Python's own "idna" codec).
"""

from collections.abc import Sequence
from email.headerregistry import Address
from email.message import EmailMessage
from email.policy import SMTP

from logic.errors import BadValue

LARGEST = 10_000_000  # bytes of an attachment; most mail servers take no more
#: Text outside ASCII is wrapped, because not every server takes it as it is.
_POLICY = SMTP.clone(cte_type="7bit")
_ODD = ' ,;<>()[]\\"'


def draft(
    to: Sequence[str], subject: str, body: str, name: str, paper: bytes, sender: str = "", shown: str = ""
) -> bytes:
    """The draft as the bytes of an .eml file, marked as not yet sent.

    to: addresses; name, paper: of the PDF; sender, shown: address and name that it comes from, "" to leave
    that to the mail program. Raises BadValue for an address that is none, or a document that is too large.
    """
    if len(paper) > LARGEST:
        raise BadValue("paper", "An e-mail takes up to 10 MB; this document is larger.")
    message = EmailMessage(policy=_POLICY)
    message["X-Unsent"] = "1"  # opened for writing, not as something received
    if sender.strip():
        message["From"] = address(sender, "from", shown)
    message["To"] = [address(one, "to") for one in to]
    message["Subject"] = one_line(subject)
    message.set_content(body.encode("utf-8", "replace").decode())
    message.add_attachment(paper, maintype="application", subtype="pdf", filename=_file_name(name))
    return message.as_bytes()


def addresses(text: str) -> tuple[str, ...]:
    """The addresses in what was typed, parted by commas, semicolons or spaces. Raises BadValue."""
    found = tuple(part for part in text.replace(";", " ").replace(",", " ").split() if part)
    if not found:
        raise BadValue("to", "Say whom it goes to.")
    for one in found:
        address(one, "to")
    return found


def address(text: str, field: str, shown: str = "") -> Address:
    """One address. Raises BadValue for the field when it is none."""
    bare = text.strip()
    local, _, host = bare.rpartition("@")
    odd = any(not ch.isprintable() or ch in _ODD for ch in bare)
    if not local or not host or odd or "@" in local:
        raise BadValue(field, f"“{bare[:100]}” is no e-mail address.")
    try:
        plain = host if host.isascii() else host.encode("idna").decode()
        return Address(display_name=one_line(shown), username=local, domain=plain)
    except (ValueError, IndexError, UnicodeError) as error:
        raise BadValue(field, f"“{bare[:100]}” is no e-mail address.") from error


def one_line(text: str) -> str:
    """The text in one line: a line break would begin a header of its own."""
    return " ".join("".join(ch if ch.isprintable() else " " for ch in text).split())


def _file_name(name: str) -> str:
    return "".join(ch for ch in name if ch.isprintable() and ch not in '/\\"') or "document.pdf"

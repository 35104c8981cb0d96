"""Clients as vCards, the files in which phones and post programs keep addresses.

Written as RFC 2426 (version 3.0, which every phone reads) or RFC 6350 (4.0); read in both, and in the older
2.1 with its quoted-printable. A contact of a client (a gardener, a second house) goes out as lines of one
group with its label, and comes in as one again. Pictures, birthdays and the rest of a card are left
out.
"""

from __future__ import annotations

import quopri
import re
import uuid
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from logic.errors import BrokenFile
from logic.records.types import Client, new_id

LARGEST = 8_000_000  # bytes of a file
MOST = 5_000  # cards in it
_FOLD = 75  # octets of a line (RFC 6350, 3.2)
_TYPES = ("home", "work", "cell")
_PLAIN_TYPES = frozenset(("pref", "internet", "voice", "x400", "msg", "parcel", "postal", "dom", "intl"))
_LINE = re.compile(
    r"(?:(?P<group>[\w-]+)\.)?(?P<name>[\w-]+)(?P<params>(?:;(?:\"[^\"]*\"|[^\":;])*)*):(?P<value>.*)", re.S
)
_PARAM = re.compile(r";((?:\"[^\"]*\"|[^\";])*)")
_KEYS = {"TEL": "phone", "EMAIL": "email", "ADR": "address"}


@dataclass
class _Card:
    """A card while it is read: what is said once, and (group, key, label, preferred, value) of the rest."""

    said: dict[str, str] = field(default_factory=dict)
    ways: list[tuple[str, str, str, bool, str]] = field(default_factory=list)
    labels: dict[str, str] = field(default_factory=dict)


# --- out --------------------------------------------------------------------------------------


def write(clients: Sequence[Client], version: str = "3.0") -> bytes:
    """The clients as one file of cards. version: "3.0" or "4.0"."""
    return "".join(_fold(line) for client in clients for line in _card(client, version)).encode("utf-8")


def _card(client: Client, version: str) -> Iterator[str]:
    name = client.name.strip() or client.label
    yield "BEGIN:VCARD"
    yield f"VERSION:{version}"
    yield "PRODID:-//Swardwright//Swardwright//EN"
    if _is_id(client.id):
        yield f"UID:urn:uuid:{uuid.UUID(client.id)}"
    yield f"FN:{_escaped(name)}"
    yield f"N:;{_escaped(name)};;;"
    yield from _ways({"phone": client.phone, "email": client.email, "address": client.address}, "", "")
    for number, contact in enumerate(client.contacts, start=1):
        yield from _ways(contact, f"item{number}.", str(contact.get("label", "")))
    if client.note:
        yield f"NOTE:{_escaped(client.note)}"
    yield "END:VCARD"


def _ways(of: Mapping[str, Any], group: str, label: str) -> Iterator[str]:
    kind = f";TYPE={label.lower()}" if label.lower() in _TYPES else ""
    for name, key in _KEYS.items():
        value = _escaped(str(of.get(key, "")).strip())
        if value:
            yield f"{group}{name}{kind}:{f';;{value};;;;' if name == 'ADR' else value}"
    if group:
        yield f"{group}X-ABLABEL:{_escaped(label.strip() or 'other')}"


def _escaped(text: str) -> str:
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    for char, said in (("\\", "\\\\"), ("\n", "\\n"), (",", "\\,"), (";", "\\;")):
        text = text.replace(char, said)
    return "".join(char for char in text if char >= " " or char == "\t")


def _fold(line: str) -> str:
    """The line with its end, in pieces of at most 75 octets; no character is cut."""
    pieces, size = [""], 0
    for char in line:
        octets = len(char.encode("utf-8", "replace"))
        if size + octets > _FOLD:
            pieces.append(" ")
            size = 1
        pieces[-1] += char
        size += octets
    return "\r\n".join(pieces).encode("utf-8", "replace").decode() + "\r\n"


def _is_id(text: str) -> bool:
    return re.fullmatch(r"[0-9a-f]{32}", text) is not None


# --- in ---------------------------------------------------------------------------------------


def read(data: bytes) -> list[Client]:
    """The clients in a file of cards, in its order; a card without any name or way to reach it is left out.

    A client keeps the id that this app once gave its card. Raises BrokenFile with one sentence.
    """
    if len(data) > LARGEST:
        raise BrokenFile("This file of contacts is too large. Nothing was changed.")
    cards: list[_Card] = []
    open_card: _Card | None = None
    for line in _lines(_decoded(data)):
        found = _LINE.fullmatch(line)
        if found is None:
            continue
        name, value = found["name"].upper(), found["value"]
        if name == "BEGIN" and value.strip().upper() == "VCARD":
            open_card = _Card()
        elif name == "END" and value.strip().upper() == "VCARD" and open_card is not None:
            cards.append(open_card)
            open_card = None
        elif open_card is not None:
            _take(open_card, found["group"] or "", name, _params(found["params"]), value)
    if not cards:
        raise BrokenFile("There are no contacts in this file. Nothing was changed.")
    if len(cards) > MOST:
        raise BrokenFile(f"There are more than {MOST} contacts in this file. Nothing was changed.")
    return [client for client in map(_client, cards) if client is not None]


def _decoded(data: bytes) -> str:
    for start, code in ((b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"), (b"", "utf-8-sig")):
        if data.startswith(start):
            try:
                return data.decode(code)
            except UnicodeDecodeError:
                break
    return data.decode("cp1252", "replace")


def _lines(text: str) -> Iterator[str]:
    """The lines, unfolded; those of quoted-printable go on after a "=" at their end."""
    whole = re.sub(r"\r\n?", "\n", text)
    whole = re.sub(r"\n[ \t]", "", whole)
    waiting = ""
    for line in whole.split("\n"):
        line = waiting + line
        head = line.partition(":")[0].upper()
        if line.endswith("=") and "QUOTED-PRINTABLE" in head:
            waiting = line[:-1]
            continue
        waiting = ""
        yield line


def _params(text: str) -> dict[str, list[str]]:
    """Parameters by name in capitals; those without a name (version 2.1) are types. Carets: RFC 6868."""
    found: dict[str, list[str]] = {}
    for part in _PARAM.findall(text):
        name, is_named, value = part.partition("=")
        if not is_named:
            name, value = "TYPE", part
        value = value.replace("^n", "\n").replace("^'", '"').replace("^^", "^")
        found.setdefault(name.strip().upper(), []).extend(
            piece.strip().strip('"').lower() for piece in value.split(",")
        )
    return found


def _take(card: _Card, group: str, name: str, params: Mapping[str, Sequence[str]], value: str) -> None:
    if "quoted-printable" in (*params.get("ENCODING", ()), *params.get("TYPE", ())):
        code = (params.get("CHARSET") or ["utf-8"])[0]
        raw = quopri.decodestring(value.encode("utf-8"))
        try:
            value = raw.decode(code)
        except (LookupError, UnicodeDecodeError):
            value = raw.decode("cp1252", "replace")
        value = value.replace("\r\n", "\n").replace("\n", "\\n")
    if name in _KEYS:
        types = params.get("TYPE", ())
        label = next((kind for kind in types if kind not in _PLAIN_TYPES), "")
        label = {"mobile": "cell", "iphone": "cell"}.get(label, label)
        preferred = "pref" in types or bool(params.get("PREF"))
        if name == "ADR":
            parts = [_plain(part) for part in _split(value)]
            text = "\n".join(part for part in parts if part)
        else:
            text = re.sub(r"^(tel|mailto):", "", _plain(value), flags=re.I)
        if text:
            card.ways.append((group, _KEYS[name], label, preferred, text))
    elif name == "X-ABLABEL" and group:
        card.labels[group] = re.sub(r"^_\$!<(.*)>!\$_$", r"\1", _plain(value))
    elif name in ("N", "ORG"):
        parts = [_plain(part) for part in _split(value)]
        if name == "N":  # family, given, further, before, after
            parts = [parts[place] for place in (3, 1, 2, 0, 4) if place < len(parts)]
        card.said.setdefault(name, " ".join(part for part in parts if part))
    elif name == "NOTE" and card.said.get("NOTE"):
        card.said["NOTE"] += "\n" + _plain(value)
    else:
        card.said.setdefault(name, _plain(value))


def _split(value: str) -> list[str]:
    """Parts of a value between semicolons that are not escaped."""
    return [part[:-1] for part in re.findall(r"(?:\\.|[^;\\]|\\$)*;", value + ";", re.S)]


def _plain(value: str) -> str:
    return re.sub(r"\\(.)", lambda found: "\n" if found[1] in "nN" else found[1], value).strip()


def _client(card: _Card) -> Client | None:
    name = card.said.get("FN") or card.said.get("N") or card.said.get("ORG", "")
    first: dict[str, str] = {}
    more: dict[str, dict[str, str]] = {}
    # Lines of a labelled group are a contact; of the rest the preferred, or the first, is the client's own.
    for group, key, label, _, value in sorted(card.ways, key=lambda way: not way[3]):
        if group not in card.labels and key not in first:
            first[key] = value
            continue
        place = group if group in card.labels else f"{key} {label} {value}"
        if key in more.get(place, {}):
            place = f"{place} {value}"
        more.setdefault(place, {"label": card.labels.get(group, label)})[key] = value
    if not name and not first and not more:
        return None
    uid = re.sub(r"^urn:uuid:|-", "", card.said.get("UID", "").lower())
    return Client(
        id=uid if _is_id(uid) else new_id(),
        name=name or first.get("email", "") or first.get("phone", ""),
        email=first.get("email", ""),
        phone=first.get("phone", ""),
        address=first.get("address", ""),
        note=card.said.get("NOTE", ""),
        contacts=tuple(more.values()),
    )

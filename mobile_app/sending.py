"""Sends a document of a visit by e-mail: through the office, as a draft for a mail program, or by sharing."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, Literal

from logic.records.types import Message, Visit
from logic.report import mail
from mobile_app.app import App
from mobile_app.jobs import DOCUMENTS, file_name

Way = Literal["office", "draft", "share"]


def first_words(app: App, visit: Visit, key: str) -> dict[str, str]:
    """What the form begins with: to, subject, body."""
    sward, own = app.sward_of(visit), app.settings
    client = app.client_of(sward)
    name = {key: name for key, name, _ in DOCUMENTS}[key]
    hello = f"Dear {client.name}," if client and client.name else "Hello,"
    names = "\n".join(filter(None, (own.person, own.firm, own.phone)))
    return {
        "to": client.email if client else "",
        "subject": f"{name}: {sward.name}, {visit.started.astimezone():%d %B %Y}",
        "body": f"{hello}\n\nattached is the {name.lower()} for {sward.name}.\n\n{names}".strip(),
    }


async def send(app: App, visit: Visit, key: str, form: dict[str, str], way: Way) -> None:
    """Make the document and send it on its way."""
    sward, own = app.sward_of(visit), app.settings
    name = file_name(sward.name, key, f"{visit.started.astimezone():%Y-%m-%d}", ending="pdf")

    async def work(progress: Any) -> None:
        to = mail.addresses(form["to"]) if way != "share" else ()
        from mobile_app.paper import make  # reportlab is loaded when it is first needed

        file = (await make(app, visit, key, progress)).file
        if way == "share":
            app.device.offer(name, "application/pdf", file, form["subject"])
        elif way == "draft":
            data = mail.draft(to, form["subject"], form["body"], name, file, own.email, own.firm)
            app.device.offer(f"{name.removesuffix('.pdf')}.eml", "message/rfc822", data, form["subject"])
        else:
            paper = {"kind": key, "name": name, "sha256": await app.shelf.keep(file), "size": str(len(file))}
            subject, body = mail.one_line(form["subject"]), form["body"]
            app.save(
                Message(visit_id=visit.id, to=to, subject=subject, body=body, paper=paper), "e-mail to send"
            )
            app.go("/outbox")

    await app.with_progress("Making the document …", work)


def send_again(app: App, message: Message) -> None:
    """Send a message once more, because a person said so."""
    app.save(replace(message, state="waiting", said=""), "e-mail to send again")


def messages(app: App) -> list[Message]:
    """All messages, the newest first."""
    return sorted(app.book.all(Message), key=lambda message: message.changed, reverse=True)

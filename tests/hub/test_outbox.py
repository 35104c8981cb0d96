"""The outbox: each wish to send goes out once, and the record says what became of it."""

import hashlib
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from email.message import EmailMessage
from typing import Any

import pytest

from mobile_app.hub import offices, outbox
from mobile_app.hub.hub import Hub
from mobile_app.hub.outbox import WAITS, Outbox
from mobile_app.hub.smtp import Result, Server
from tests.hub.phones import Phone

PDF = b"%PDF-1.7 a summary"
PAPER = {"name": "summary.pdf", "sha256": hashlib.sha256(PDF).hexdigest(), "size": str(len(PDF))}


class Post:
    """A mail server that answers as it is told and remembers what it was given."""

    def __init__(self, hub: Hub) -> None:
        self.hub = hub
        self.answer = Result("sent", "250 queued as 1")
        self.got: list[EmailMessage] = []

    def __call__(self, server: Server, message: EmailMessage, to: Sequence[str]) -> Result:
        self.got.append(message)
        return self.answer

    def send(self) -> list[str]:
        return self.hub.outbox.send_due()


@pytest.fixture
def post(hub: Hub, business: str) -> Post:
    settings = {"host": "mail.example.com", "sender": "office@example.com"}
    offices.set_mail(hub.database, business, settings)
    made = Post(hub)
    hub.outbox.hand_over = made
    return made


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> Any:
    """Moves the hub's time on."""

    def move(by: timedelta) -> None:
        moment = outbox.now() + by
        monkeypatch.setattr(outbox, "now", lambda: moment)

    return move


def wish(phone: Phone, number: int, **fields: Any) -> None:
    said = {"to": ["odile@example.com"], "subject": "Your green", "body": "Dear Odile", **fields}
    (result,) = phone.push(phone.change(number, "m1", "messages", **said))
    assert result["result"] == "accepted"


def standing(phone: Phone, path: str) -> list[Any]:
    (record,) = phone.snapshot()["records"]
    return [value[1] for value in record["fields"].get(path, {"is": {}})["is"].values()]


def again(phone: Phone, number: int, **more: dict[str, int]) -> None:
    """The person wishes to send once more, having seen what the record says now."""
    (record,) = phone.snapshot()["records"]
    register = record["fields"]["state"]
    seen = {**register["at"], **{device: value[0] for device, value in register["is"].items()}, **more}
    sent = phone.change(number, "m1", "messages", state="waiting")
    sent["records"][0]["fields"]["state"]["at"] = seen
    assert phone.push(sent)[0]["result"] == "accepted"


def test_a_message_goes_out_once_and_its_record_says_so(post: Post, phone: Phone, office: Phone) -> None:
    cursor = office.start()
    wish(phone, 1)
    assert post.send() == ["sent"]
    assert post.send() == []
    wish(phone, 1)  # the answer was lost, the phone pushes again
    assert post.send() == []
    assert (standing(phone, "state"), standing(phone, "said")) == (["sent"], ["250 queued as 1"])
    assert [one["Message-ID"] for one in post.got] == ["<m1@example.com>"]
    written = [one for one in office.pull(cursor)["changes"] if one["device"] == "hub"]
    states = [one["records"][0]["fields"]["state"]["is"]["hub"][1] for one in written]
    assert states == ["queued", "sent"]


def test_senders_of_several_processes_send_one_message_once(hub: Hub, post: Post, phone: Phone) -> None:
    wish(phone, 1)
    senders = [Outbox(hub.database, hub.blobs, post) for _ in range(6)]
    with ThreadPoolExecutor(6) as pool:
        outcomes = [one for some in pool.map(lambda sender: sender.send_due(), senders) for one in some]
    assert outcomes == ["sent"]
    assert len(post.got) == 1


def test_a_message_waits_for_its_paper_and_goes_when_that_is_whole(post: Post, phone: Phone) -> None:
    wish(phone, 1, paper=PAPER)
    assert post.send() == []
    assert standing(phone, "state") == []
    phone.send_blob(PAPER["sha256"], PDF)
    assert post.send() == ["sent"]
    (paper,) = post.got[0].iter_attachments()
    assert paper.get_payload(decode=True) == PDF


def test_without_a_mail_server_it_waits(
    hub: Hub, business: str, post: Post, phone: Phone, clock: Any
) -> None:
    offices.set_mail(hub.database, business, {})
    wish(phone, 1)
    assert post.send() == []
    assert standing(phone, "state") == []
    offices.set_mail(hub.database, business, {"host": "mail.example.com", "sender": "office@example.com"})
    clock(timedelta(minutes=2))
    assert post.send() == ["sent"]


def test_a_refusal_is_shown_in_the_servers_words_and_only_a_person_tries_again(
    post: Post, phone: Phone
) -> None:
    post.answer = Result("refused", "550 5.1.1 no such mailbox here")
    wish(phone, 1)
    assert post.send() == ["refused"]
    assert standing(phone, "said") == ["550 5.1.1 no such mailbox here"]
    assert post.send() == []
    post.answer = Result("sent", "250 ok")
    again(phone, 2)
    assert post.send() == ["sent"]
    assert len(post.got) == 2


def test_what_nobody_knows_is_not_sent_again_by_itself(post: Post, phone: Phone, clock: Any) -> None:
    post.answer = Result("unknown", "The line broke.")
    wish(phone, 1)
    assert post.send() == ["unknown"]
    clock(timedelta(days=3))
    assert post.send() == []
    assert standing(phone, "state") == ["unknown"]
    again(phone, 2)
    assert post.send() == ["unknown"]
    assert len(post.got) == 2


def test_a_passing_failure_is_tried_again_ever_more_rarely_and_then_given_up(
    post: Post, phone: Phone, clock: Any
) -> None:
    post.answer = Result("again", "421 too busy")
    wish(phone, 1)
    for wait in WAITS:
        assert post.send() == ["again"]
        assert (standing(phone, "state"), standing(phone, "said")) == (["queued"], ["421 too busy"])
        clock(wait - timedelta(seconds=5))
        assert post.send() == []
        clock(timedelta(seconds=6))
    assert post.send() == ["refused"]
    assert "421 too busy" in standing(phone, "said")[0]


def test_a_sender_that_died_leaves_unknown_never_a_second_mail(post: Post, phone: Phone, clock: Any) -> None:
    def dies(server: Server, message: EmailMessage, to: Sequence[str]) -> Result:
        post.got.append(message)
        raise KeyboardInterrupt

    wish(phone, 1)
    post.hub.outbox.hand_over = dies
    with pytest.raises(KeyboardInterrupt):
        post.send()
    assert standing(phone, "state") == ["queued"]
    post.hub.outbox.hand_over = post
    assert post.send() == []
    clock(outbox.DEAD_AFTER + timedelta(seconds=1))
    assert post.send() == ["unknown"]
    assert standing(phone, "state") == ["unknown"]
    assert len(post.got) == 1


def test_a_wish_that_did_not_know_it_was_sent_is_for_a_person_to_look_at(
    post: Post, phone: Phone, office: Phone
) -> None:
    wish(phone, 1)
    assert post.send() == ["sent"]
    (result,) = office.push(office.change(1, "m1", "messages", state="waiting"))
    assert result["result"] == "accepted"
    assert sorted(standing(phone, "state")) == ["sent", "waiting"]
    assert post.send() == []


def test_two_phones_that_wish_the_same_before_it_went_send_one_mail(
    post: Post, phone: Phone, office: Phone
) -> None:
    wish(phone, 1, state="waiting")
    office.push(office.change(1, "m1", "messages", state="waiting"))
    assert sorted(post.send()) == ["dropped", "sent"]
    assert len(post.got) == 1
    assert standing(phone, "state") == ["sent"]


def test_a_message_taken_back_before_it_went_does_not_go(post: Post, phone: Phone, clock: Any) -> None:
    post.answer = Result("again", "421 too busy")
    wish(phone, 1)
    assert post.send() == ["again"]
    gone = phone.change(2, "m1", "messages")
    gone["records"][0]["fields"][""] = {
        "at": {},
        "is": {phone.id: [2, {"deleted": "2026-05-04T09:00:00+00:00"}]},
    }
    phone.push(gone)
    clock(WAITS[0] + timedelta(seconds=1))
    assert post.send() == ["dropped"]
    assert len(post.got) == 1


def test_what_cannot_be_a_mail_is_refused_with_a_sentence(post: Post, phone: Phone) -> None:
    wish(phone, 1, to=["odile@example.com\nBcc: all@example.com"])
    assert post.send() == ["refused"]
    assert "no e-mail address" in standing(phone, "said")[0]
    assert post.got == []


def test_nothing_goes_to_half_of_the_people(post: Post, phone: Phone) -> None:
    wish(phone, 1, to=["odile@example.com", "not an address"])
    assert post.send() == ["refused"]
    assert post.got == []


def test_no_transaction_is_held_while_the_mail_server_is_spoken_to(post: Post, phone: Phone) -> None:
    def pushes_meanwhile(server: Server, message: EmailMessage, to: Sequence[str]) -> Result:
        phone.push(phone.change(2, "c", name="Ann"))
        return Result("sent", "250 ok")

    wish(phone, 1)
    post.hub.outbox.hand_over = pushes_meanwhile
    assert post.send() == ["sent"]

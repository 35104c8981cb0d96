"""Records as the user goes through them, on a real book: forms, contacts, merging, forgetting, one file."""

import io
import json
import zipfile
from dataclasses import replace
from datetime import datetime

import pytest

from logic.records.types import Client, Machine, Photo, Site, Supplier, Sward, Visit
from logic.records.vcard import write
from mobile_app import agreed, records
from mobile_app.notice import Notice
from mobile_app.places import PLACES
from mobile_app.screens.outlines import measured_anew
from mobile_app.screens.records_kinds import KINDS
from tests.mobile_app.stand import Stand, played, stand

SECRET = "Zephyrine"


def type_into(hand: Stand, record: Client | Site | Machine | Supplier, **values: str) -> None:
    """Type into the form that shows the record."""
    now = records.in_form(hand.app, type(record), record.id)
    records.put(hand.app, now, **values)


def test_a_form_is_saved_as_one_change_when_it_is_left_and_undo_takes_it_back() -> None:
    async def story(hand: Stand) -> None:
        ada = hand.app.book.save(Client(name="Ada Fen"))
        hand.app.go(f"/client/{ada.id}")
        for text in ("0", "07", "07700 900123 "):
            type_into(hand, ada, phone=text)
        assert hand.app.book.get(Client, ada.id).phone == ""
        hand.app.arrive("/records/clients")  # the phone's own back button
        assert hand.app.book.get(Client, ada.id).phone == "07700 900123"
        assert hand.said == "Saved: client Ada Fen changed."
        assert hand.app.state.draft is None
        hand.app.undo()
        assert hand.app.book.get(Client, ada.id) == replace(
            ada, changed=hand.app.book.get(Client, ada.id).changed
        )

    played(story)


def test_a_form_that_is_open_when_the_page_goes_away_is_saved() -> None:
    async def story(hand: Stand) -> None:
        place = records.fresh("machine")
        hand.app.go(place)
        machine = records.in_form(hand.app, Machine, place.split("/")[2])
        type_into(hand, machine, name="Corer", vibration="4.2")
        hand.app.leave()
        assert [one.name for one in hand.killed().app.book.all(Machine)] == ["Corer"]

    played(story)


def test_a_new_form_in_which_nothing_was_typed_leaves_no_record() -> None:
    async def story(hand: Stand) -> None:
        for kind in ("client", "site", "supplier", "product", "machine"):
            place = records.fresh(kind)
            hand.app.go(place)
            assert hand.app.state.place == place
            records.in_form(hand.app, PLACES[kind], place.split("/")[2])
            hand.app.go("/records")
        assert sum(hand.app.book.counts().values()) == 0

    played(story)


def test_what_cannot_be_saved_keeps_one_at_the_form_with_all_that_was_typed() -> None:
    async def story(hand: Stand) -> None:
        ada = hand.app.book.save(Client(name="Ada Fen"))
        hand.app.go(f"/client/{ada.id}")
        type_into(hand, ada, phone="07700 900123")
        hand.fill_up()
        hand.app.go("/records")
        assert hand.app.state.place == f"/client/{ada.id}"
        assert "no room" in hand.said
        hand.folder.quota = None
        hand.app.go("/records")
        assert hand.app.book.get(Client, ada.id).phone == "07700 900123"

    played(story)


def test_contacts_come_in_once_however_often_the_file_is_taken_in() -> None:
    async def story(hand: Stand) -> None:
        many = [Client(name=f"Client {number}", phone=f"07700 90012{number}") for number in range(3)]
        hand.device.picks = ("contacts.vcf", write(many))
        await records.bring_contacts(hand.app)
        assert {one.id for one in hand.app.book.all(Client)} == {one.id for one in many}
        assert hand.said == "3 brought in."
        await records.bring_contacts(hand.app)
        assert hand.said == "No new contacts, 3 in the book already."
        assert len(hand.app.book.all(Client)) == 3
        hand.device.picks = ("contacts.vcf", b"nothing of the kind")
        await records.bring_contacts(hand.app)
        assert "no contacts in this file" in hand.said
        records.share_contact(hand.app, many[0])
        name, mime, data, _ = hand.device.offered[-1]
        assert (name, mime, data) == ("Client-0.vcf", "text/vcard", write([many[0]]))

    played(story)


def test_merging_two_clients_is_one_step_for_undo() -> None:
    async def story(hand: Stand) -> None:
        visit = hand.open_visit()
        sward = hand.app.sward_of(visit)
        old = hand.app.book.get(Client, sward.client_id)
        keep = hand.app.book.save(Client(name="Ada Fen-Holm"))
        assert records.make_one(hand.app, keep, old, {"name": "mine"})
        assert hand.app.book.get(Sward, sward.id).client_id == keep.id
        assert [binned.id for binned in hand.app.book.bin()] == [old.id]
        hand.app.undo()
        assert hand.app.book.get(Sward, sward.id).client_id == old.id
        assert hand.app.book.bin() == []
        assert not records.make_one(hand.app, keep, keep, {})
        assert "Only two of a kind" in hand.said

    played(story)


def test_what_is_buried_is_said_for_the_green_of_that_site_only() -> None:
    async def story(hand: Stand) -> None:
        visit = hand.open_visit()
        sward = hand.app.sward_of(visit)
        site = hand.app.book.save(Site(client_id=sward.client_id, buried="gas main", hazards="dog"))
        assert records.site_warnings(hand.app, sward) == ()
        sward = hand.app.book.save(replace(sward, site_id=site.id))
        assert records.site_warnings(hand.app, sward) == ("Buried services: gas main", "Hazards: dog")
        assert records.sites_of(hand.app, sward.client_id) == [site]
        assert records.sites_of(hand.app, "") == []

    played(story)


def test_a_client_is_forgotten_with_photos_and_the_copy_before_has_them() -> None:
    async def story(hand: Stand) -> None:
        visit = hand.open_visit(f"{SECRET} green")
        hand.app.leave_visit()
        sward = hand.app.book.get(Sward, visit.sward_id)
        client = hand.app.book.get(Client, sward.client_id)
        sha256 = await hand.app.shelf.keep(b"\xff\xd8\xff theirs")
        shared = await hand.app.shelf.keep(b"\xff\xd8\xff of both")
        hand.app.book.save(Photo(visit_id=visit.id, sha256=sha256))
        hand.app.book.save(Photo(visit_id=visit.id, sha256=shared))
        other = hand.app.book.save(Sward(name="Other green"))
        elsewhere = hand.app.book.save(Visit(sward_id=other.id))
        hand.app.book.save(Photo(visit_id=elsewhere.id, sha256=shared))
        await records.give_copy(hand.app, client)
        name, _, data, _ = hand.device.offered[-1]
        assert name == "Ada-Fen-all-data.zip"
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            assert archive.read(f"photos/{sha256}.jpg") == b"\xff\xd8\xff theirs"
            assert f"{SECRET} green" in json.dumps(json.loads(archive.read("data.json")))
        await records.forget(hand.app, client)
        assert hand.app.state.place == "/records"
        assert not hand.app.book.has(Client, client.id)
        assert sorted(hand.device.photos.kept) == [shared]
        raw = b"".join(hand.folder.contents().values())
        assert SECRET.encode() not in raw
        assert b"Ada Fen" not in raw

    played(story)


def test_everything_goes_out_in_one_file_and_comes_in_again_once() -> None:
    async def story(hand: Stand) -> None:
        visit = hand.open_visit()
        sha256 = await hand.app.shelf.keep(b"\xff\xd8\xff kept")
        hand.app.book.save(Photo(visit_id=visit.id, sha256=sha256))
        hand.fill_up()  # a full phone can still give everything out
        await records.export_everything(hand.app)
        name, mime, data, _ = hand.device.offered[-1]
        assert (mime, name.endswith(".zip")) == ("application/zip", True)

        async def other_phone(other: Stand) -> None:
            other.device.picks = (name, data)
            await records.import_everything(other.app)
            assert "4 added" in other.said
            assert other.app.book.get(Visit, visit.id).sward_id == visit.sward_id
            assert await other.app.shelf.read(sha256) == b"\xff\xd8\xff kept"
            await records.import_everything(other.app)
            assert other.said == "Taken in: 4 the same already."
            other.device.picks = ("x.zip", b"PK no zip")
            await records.import_everything(other.app)
            assert "Nothing was changed" in other.said

        await other_phone(stand())

    played(story)


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_every_list_teaches_when_it_is_empty_and_draws_any_record_of_its_kind(kind) -> None:  # type: ignore[no-untyped-def]
    async def story(hand: Stand) -> None:
        assert kind.head.startswith("No ")
        assert len(kind.teach) > 60
        record = hand.app.book.save(kind.record())
        drawn = kind.slip(hand.app, record)
        assert drawn.label.strip(", ")
        for test in kind.filters.values():
            assert test(hand.app, record) in (True, False)

    played(story)


def test_what_was_agreed_and_signed_has_name_and_time_survives_a_kill_and_can_be_taken_back() -> None:
    async def story(hand: Stand) -> None:
        hand.open_visit()
        assert agreed.customer(hand.app) == "Ada Fen"
        assert not agreed.note(hand.app, "  ", "Ada Fen")
        assert agreed.note(hand.app, " Extra pass, £40 ", "Ada Fen")
        assert agreed.note(hand.app, "Leave the corner", "Ada's son")
        agreed.sign(hand.app, (((0.1, 0.2), (0.3, 0.1)), ((0.5, 0.4),)), "Ada Fen")
        kept = hand.stored()
        assert [(told["words"], told["name"]) for told in kept.agreed] == [
            ("Extra pass, £40", "Ada Fen"),
            ("Leave the corner", "Ada's son"),
        ]
        assert all(datetime.fromisoformat(told["at"]).tzinfo for told in (*kept.agreed, kept.signature))
        assert kept.signature["strokes"] == [[[0.1, 0.2], [0.3, 0.1]], [[0.5, 0.4]]]
        agreed.take_out(hand.app, 0)
        assert [told["words"] for told in hand.app.visit_in_hand().agreed] == ["Leave the corner"]
        hand.app.undo()
        agreed.unsign(hand.app)
        assert hand.app.visit_in_hand().signature == {}
        hand.app.undo()
        assert hand.app.visit_in_hand().signature == kept.signature
        assert hand.app.visit_in_hand().agreed == kept.agreed

    played(story)


def test_a_way_back_goes_along_for_one_page_and_what_is_serious_until_put_away() -> None:
    async def story(hand: Stand) -> None:
        hand.app.delete(hand.app.book.save(Client(name="Ada Fen")))
        hand.app.go("/records/clients")
        assert "is in the bin" in hand.said
        hand.app.go("/records")
        assert hand.said == ""
        hand.app.change(notice=Notice("Nearly full.", serious=True))
        for place in ("/bin", "/", "/settings"):
            hand.app.go(place)
            assert hand.said == "Nearly full."

    played(story)


def test_the_outline_history_shows_the_visits_that_measured_anew() -> None:
    one, two = ({"method": "circle", "drafts": {"circle": {"diameter": d}}} for d in ("9 m", "9.2 m"))
    newest, again, first = Visit(outline=two), Visit(outline=one), Visit(outline=one)
    assert measured_anew([newest, again, first, Visit()]) == [newest, first]
    assert measured_anew([]) == []

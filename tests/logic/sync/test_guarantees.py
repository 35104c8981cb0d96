"""What the sync promises about changes, one test a promise: each fails when its rule is taken out."""

from dataclasses import replace

import pytest

from logic.errors import StorageError
from logic.records.types import Client, Settings, Sward, Visit
from logic.sync import hub_rules
from logic.sync.conflicts import DELETE, conflicts, count, decide
from logic.sync.wire import Change
from tests.logic.sync.memory_hub import MemoryLog
from tests.logic.sync.simulator import Phone, World


def pair() -> tuple[World, Phone, Phone, Client]:
    """Two phones that have one client in common."""
    world = World()
    ann, bob = world.phone("ann"), world.phone("bob")
    client = ann.book.save(Client(id="c1", name="Ada Fen", note="gate code 12"))
    assert ann.sync()
    assert bob.sync()
    return world, ann, bob, client


def edit(on: Phone, **fields: str) -> None:
    """Change the client on a phone."""
    on.book.save(replace(on.book.get(Client, "c1"), **fields))


def meet(*phones: Phone) -> None:
    """Everybody hears of everybody."""
    for phone in (*phones, *phones):
        assert phone.sync(), phone.engine.line.trouble


def change(number: int, value: str) -> Change:
    """A change of a phone called ann."""
    fields = {"note": {"at": {}, "is": {"ann": [number, value]}}}
    return Change(number, "2026-05-01T08:00:00Z", "", ({"table": "clients", "id": "c1", "fields": fields},))


# --- 1: idempotent push ---------------------------------------------------------------------------


def test_a_push_sent_twice_counts_once_and_says_the_same() -> None:
    log = MemoryLog()
    first = hub_rules.accept(log, "ann", [change(1, "wet")])
    again = hub_rules.accept(log, "ann", [change(1, "wet")])
    assert again == first
    assert first[0].accepted
    assert len(log.entries) == log.last() == 1


def test_another_payload_under_the_same_number_is_refused_and_the_rest_goes_on() -> None:
    log = MemoryLog()
    hub_rules.accept(log, "ann", [change(1, "wet")])
    other, fresh = hub_rules.accept(log, "ann", [change(1, "dry"), change(2, "mown")])
    assert (other.accepted, other.code) == (False, "taken")
    assert fresh.accepted
    assert fresh.position == 2
    assert log.states({("clients", "c1")})["clients", "c1"]["fields"]["note"]["is"] == {"ann": [2, "mown"]}


def test_a_change_that_names_another_phone_as_its_writer_is_refused() -> None:
    assert hub_rules.accept(MemoryLog(), "bob", [change(1, "wet")])[0].code == "foreign-dot"


def test_an_answer_that_was_lost_is_asked_for_again_and_nothing_doubles() -> None:
    world, ann, bob, _ = pair()
    edit(ann, note="new gate")
    world.fates = iter(["cut"]).__next__
    assert not ann.sync()
    assert len(ann.ledger.unsent()) == 1
    world.fates = lambda: "twice"
    meet(ann, bob)
    assert [entry.number for entry in world.hub.log.entries if entry.device == "ann"] == [1, 2]
    assert bob.book.get(Client, "c1").note == "new gate"


# --- 2: pull by the office's cursor ---------------------------------------------------------------


@pytest.mark.parametrize("step", range(8))
def test_a_page_and_its_cursor_are_stored_together_or_not_at_all(step: int) -> None:
    _, ann, bob, _ = pair()
    edit(ann, note="new gate")
    assert ann.sync()
    cursor = bob.ledger.info["cursor"]
    bob.folder.fail_at = {len(bob.folder.steps) + step}
    bob.sync()
    bob.kill()
    has_moved = bob.ledger.info["cursor"] != cursor
    assert (bob.book.get(Client, "c1").note == "new gate") == has_moved
    meet(bob)
    assert bob.book.get(Client, "c1").note == "new gate"


def test_a_cursor_misses_nothing_however_small_the_pages() -> None:
    log = MemoryLog()
    hub_rules.accept(log, "ann", [change(n, f"note {n}") for n in range(1, 8)])
    cursor, seen = f"{log.epoch}:0", []
    while True:
        page = hub_rules.page(log, cursor, 2, "bob", "")
        seen += [one.position for one in page.changes]
        cursor = page.cursor
        assert bool(page.sums) == (not page.more)
        if not page.more:
            break
    assert seen == list(range(1, 8))


# --- 3: reset -------------------------------------------------------------------------------------


def test_a_cursor_of_another_store_too_old_or_too_new_is_answered_with_a_reset() -> None:
    log = MemoryLog()
    hub_rules.accept(log, "ann", [change(1, "wet"), change(2, "dry")])
    log.drop_log()
    hub_rules.accept(log, "ann", [change(3, "mown")])
    answers = {
        at: hub_rules.page(log, at, 9, "bob", "").reset for at in ("", "first:1", "other:3", "first:4")
    }
    assert all(answers.values()), answers
    assert not hub_rules.page(log, "first:2", 9, "bob", "").reset


@pytest.mark.parametrize("how", ["log dropped", "hub restored"])
def test_a_phone_whose_cursor_is_of_no_use_begins_anew_and_keeps_what_it_has_not_sent(how: str) -> None:
    world, ann, bob, _ = pair()
    backup = world.hub.backup()
    edit(ann, note="new gate")
    ann.book.save(Sward(id="s1", name="Back green", client_id="c1"))
    assert ann.sync()  # the backup has not heard of this
    edit(bob, address="2 Fen Road")
    if how == "hub restored":
        world.hub.restore(backup)
    else:
        world.hub.log.drop_log()
    meet(ann, bob)
    for phone in (ann, bob):
        client = phone.book.get(Client, "c1")
        assert (client.note, client.address) == ("new gate", "2 Fen Road")
        assert phone.book.has(Sward, "s1")
        assert not phone.ledger.unsent()
    world.check()


def test_an_office_that_keeps_beginning_anew_is_not_followed_round_and_round() -> None:
    world, ann, *_ = pair()
    answer = world.hub.answer

    def restless(request: object) -> object:
        world.hub.restore(world.hub.backup())
        return answer(request)

    world.hub.answer = restless
    edit(ann, note="new gate")
    before = len(world.hub.requests)
    assert not ann.sync()
    assert len(world.hub.requests) - before < 10
    assert "beginning anew" in ann.engine.line.trouble
    assert ann.engine.wait()
    world.hub.answer = answer
    assert ann.sync()


# --- 4: checksums ---------------------------------------------------------------------------------


def test_a_record_that_a_phone_lost_is_found_out_and_put_back() -> None:
    _, _ann, bob, _ = pair()
    bob.book.take_in({("clients", "c1"): None, ("dots", "clients c1"): None}, "a fault")
    assert not bob.book.has(Client, "c1")
    assert bob.sync()
    assert bob.engine.line.mended == 1
    assert bob.book.get(Client, "c1").note == "gate code 12"
    assert bob.sync()
    assert bob.engine.line.mended == 0


def test_a_record_that_the_office_lost_is_sent_again() -> None:
    world, ann, bob, _ = pair()
    del world.hub.log.texts["clients", "c1"]
    world.hub.log.totals = [0] * len(world.hub.log.totals)
    assert ann.sync()
    assert ann.engine.line.mended == 1
    meet(ann, bob)
    world.check()
    assert world.hub.state(("clients", "c1"))["fields"]["note"]["is"] == {"ann": [1, "gate code 12"]}


# --- 5: deletes -----------------------------------------------------------------------------------


def test_a_deletion_reaches_the_others_bin_and_nothing_stale_brings_the_record_back() -> None:
    world, ann, bob, _ = pair()
    edit(ann, note="new gate")
    world.fates = iter(["late"]).__next__  # a push is under way for a long time
    ann.sync()
    world.fates = lambda: "arrives"
    assert ann.sync()
    ann.book.delete(ann.book.get(Client, "c1"))
    meet(ann, bob)
    world.deliver_late()
    meet(ann, bob)
    for phone in (ann, bob):
        assert not phone.book.has(Client, "c1")
        assert count(phone.book, phone.ledger) == 0
        assert [binned.label for binned in phone.book.bin()] == ["Ada Fen"]


@pytest.mark.parametrize("choice", [0, 1])
def test_an_edit_against_a_delete_is_a_conflict_and_stays_as_decided(choice: int) -> None:
    world, ann, bob, client = pair()
    ann.book.delete(client)
    edit(bob, note="new gate")
    meet(ann, bob)
    for phone in (ann, bob):
        assert [one.kind for one in conflicts(phone.book, phone.ledger)] == ["deleted"]
        assert phone.book.get(Client, "c1").note == "new gate"  # nothing lost, and marked
    [conflict] = conflicts(ann.book, ann.ledger)
    decide(ann.book, ann.ledger, conflict, conflict.choices[choice])
    meet(ann, bob)
    deleted = conflict.choices[choice].value == DELETE
    for phone in (ann, bob):
        assert phone.book.has(Client, "c1") == (not deleted)
        assert count(phone.book, phone.ledger) == 0
    world.check()


def test_a_visit_added_to_a_green_deleted_elsewhere_is_a_conflict_too() -> None:
    _, ann, bob, _client = pair()
    green = ann.book.save(Sward(id="s1", name="Back green", client_id="c1"))
    meet(ann, bob)
    ann.book.delete(green)
    bob.book.save(Visit(id="v1", sward_id="s1", notes="thin"))
    meet(ann, bob)
    [conflict] = conflicts(ann.book, ann.ledger)
    assert (conflict.kind, conflict.key) == ("orphan", ("visits", "v1"))
    assert count(ann.book, ann.ledger) == 1
    decide(ann.book, ann.ledger, conflict, conflict.choices[0])
    meet(ann, bob)
    assert bob.book.get(Sward, "s1").name == "Back green"
    assert count(bob.book, bob.ledger) == 0


def test_an_emptied_bin_is_empty_everywhere() -> None:
    world, ann, bob, client = pair()
    ann.book.delete(client)
    meet(ann, bob)
    bob.book.empty_bin()
    meet(bob, ann)
    assert ann.book.bin() == []
    assert "gate code 12" not in world.hub.log.texts["clients", "c1"]
    world.check()


# --- 6: clocks ------------------------------------------------------------------------------------


@pytest.mark.parametrize("skew", [-90_000_000.0, 90_000_000.0])
def test_what_was_written_having_seen_the_other_wins_whatever_the_clocks_say(skew: float) -> None:
    world = World()
    ann, bob = world.phone("ann"), world.phone("bob", skew)
    ann.book.save(Client(id="c1", name="Ada Fen", note="first"))
    meet(ann, bob)
    edit(bob, note="second")
    meet(bob, ann)
    edit(ann, note="third")
    meet(ann, bob)
    assert [phone.book.get(Client, "c1").note for phone in (ann, bob)] == ["third", "third"]
    assert count(ann.book, ann.ledger) == 0


@pytest.mark.parametrize(("skew", "shown"), [(119, False), (121, True), (-121, True), (0, False)])
def test_a_clock_more_than_two_minutes_off_is_told(skew: float, shown: bool) -> None:
    phone = World().phone("ann", skew)
    assert phone.sync()
    assert phone.engine.line.skew == (skew if shown else 0.0)


# --- 7: merging -----------------------------------------------------------------------------------


def test_different_fields_merge_without_a_word() -> None:
    _, ann, bob, _ = pair()
    edit(ann, note="new gate")
    edit(bob, phone="01632 960001")
    meet(ann, bob)
    for phone in (ann, bob):
        client = phone.book.get(Client, "c1")
        assert (client.note, client.phone) == ("new gate", "01632 960001")
        assert count(phone.book, phone.ledger) == 0


def test_the_same_field_keeps_both_side_by_side_until_one_is_chosen_offline() -> None:
    world, ann, bob, _ = pair()
    edit(ann, note="green gate")
    edit(bob, note="red gate")
    meet(ann, bob)
    for phone in (ann, bob):
        [conflict] = conflicts(phone.book, phone.ledger)
        assert {choice.value for choice in conflict.choices} == {"green gate", "red gate"}
        assert {choice.device for choice in conflict.choices} == {"ann", "bob"}
        assert (conflict.field, count(phone.book, phone.ledger)) == ("note", 1)
    world.fates = lambda: "lost"
    decide(bob.book, bob.ledger, conflict, next(c for c in conflict.choices if c.value == "green gate"))
    assert count(bob.book, bob.ledger) == 0
    assert len(bob.ledger.unsent()) == 1
    world.fates = lambda: "arrives"
    meet(bob, ann)
    assert ann.book.get(Client, "c1").note == "green gate"
    assert count(ann.book, ann.ledger) == 0
    told = [version.record.note for version in bob.book.history(Client, "c1") if version.record]
    assert {"gate code 12", "red gate", "green gate"} <= set(told)


def test_editing_a_field_in_conflict_overwrites_only_what_was_on_the_screen() -> None:
    _, ann, bob, _ = pair()
    edit(ann, note="green gate")
    edit(bob, note="red gate")
    meet(ann, bob)
    edit(bob, note="red gate, rusty")  # bob saw his own
    meet(bob, ann)
    [conflict] = conflicts(ann.book, ann.ledger)
    assert {choice.value for choice in conflict.choices} == {"green gate", "red gate, rusty"}


def test_readings_taken_on_two_phones_come_together() -> None:
    _, ann, bob, _ = pair()
    ann.book.save(Visit(id="v1", readings=({"id": "r0", "kind": "moisture"},)))
    meet(ann, bob)
    for phone, name in ((ann, "ra"), (bob, "rb")):
        visit = phone.book.get(Visit, "v1")
        phone.book.save(replace(visit, readings=(*visit.readings, {"id": name, "kind": "firmness"})))
    meet(ann, bob)
    for phone in (ann, bob):
        assert sorted(one["id"] for one in phone.book.get(Visit, "v1").readings) == ["r0", "ra", "rb"]
        assert count(phone.book, phone.ledger) == 0


def test_the_history_says_who_made_a_change_elsewhere() -> None:
    _, ann, bob, _ = pair()
    bob.ledger.note(names={"ann": "Ann's phone"})
    edit(ann, note="new gate")
    meet(ann, bob)
    newest, *_ = bob.book.history(Client, "c1")
    assert (newest.who, newest.why) == ("Ann's phone", "client Ada Fen changed")


def test_undo_is_a_change_that_takes_back_only_ones_own() -> None:
    world, ann, bob, _ = pair()
    edit(ann, note="new gate")
    meet(ann, bob)
    edit(bob, phone="01632 960001")
    meet(bob, ann)
    ann.book.undo()
    meet(ann, bob)
    for phone in (ann, bob):
        client = phone.book.get(Client, "c1")
        assert (client.note, client.phone) == ("gate code 12", "01632 960001")
    world.check()


# --- joining an office with a book of one's own ----------------------------------------------------


def test_two_books_that_were_apart_become_one_and_equal_records_make_no_conflict() -> None:
    world, ann, bob, _ = pair()
    cyd = world.phone("cyd", paired=False)
    cyd.book.save(Client(id="c2", name="Bert Moss"))
    cyd.book.save(Client(id="c1", name="Ada Fen", note="blue gate"))  # out of an old backup
    cyd.book.save(Settings(firm="", person="Cyd", theme="dark"))
    ann.book.save(Settings(firm="Fen Turf", person="Ann"))
    cyd.pair()
    meet(ann, cyd, bob)
    assert cyd.book.settings.firm == "Fen Turf"
    assert (cyd.book.settings.person, cyd.book.settings.theme) == ("Cyd", "dark")
    assert bob.book.get(Client, "c2").name == "Bert Moss"
    assert [one.field for one in conflicts(bob.book, bob.ledger)] == ["note"]
    world.check()


def test_a_book_opened_without_its_ledger_takes_no_change_that_nobody_notes() -> None:
    _, ann, *_ = pair()
    ann.book.follow(None)
    with pytest.raises(StorageError):
        edit(ann, note="unnoted")

"""The book: the one store of a business's records. Everything that a screen needs from the store is here.

    book = Book.open(folder, known=False)       never fails on damage; raises StorageError or NewerFormat only
        known: True when this device has had a book before, so that an empty store is a loss worth telling
    book.recovery.sentence                      "" or what was found damaged, cleared or cut off at the opening
    book.running_low                            True once the reserve had to be used: tell the user to free space

    book.save(record, why="") -> record         one journal entry, flushed; the record as stored (Visit.changed set);
                                                nothing is written when nothing differs from what is stored
    book.save_all(records, why="") -> records   the same for several records in one entry: all or none
    book.get(Visit, id) -> Visit                raises NotFound
    book.has(Visit, id) -> bool
    book.all(Client) -> list[Client]            in the order they were first saved
    book.settings -> Settings                   the stored ones or the defaults
    book.counts() -> {"clients": 3, …}

    book.swards_of(client_id) -> list[Sward]    by name
    book.visits_of(sward_id) -> list[Visit]     newest first
    book.latest_visit(sward_id) -> Visit | None
    book.search(text, limit=None) -> list[Sward]            every word somewhere in the client's or sward's name,
                                                            address, kind or notes; latest visited first; "" is all
    book.search_clients(text, limit=None) -> list[Client]   by name

    book.delete(record, why="")                 into the bin, with the swards and visits that hang on it
    book.bin() -> list[Binned]                  newest first: id, noun, label, deleted, count of records
    book.restore(id) -> Record                  id of the Binned; raises Conflict when what it hangs on is gone
    book.empty_bin(id=None)                     for good, one or all
    book.undoable -> str                        what undo() would take back ("" when nothing), for the button
    book.undo() -> str                          takes the last save or delete back, again and again up to 20; its words
    book.history(Visit, id) -> list[Version]    newest first: number, at, why, record (None: was deleted then)

    book.export_all() -> bytes                  one zip: records, bin, manifest with hashes
    book.import_all(data) -> Imported           added, updated, unchanged, kept; raises BrokenFile, NewerFormat
    book.raw() -> bytes, raw_copy(folder)       a zip of the store's own files, also when opening fails
    book.tidy() -> bool                         call when idle and on leaving: rewrites the journal when half is waste
    book.close()

Every method that writes raises StorageFull, StorageTorn or another StorageError and then has changed nothing.
Records are frozen: change one with `dataclasses.replace` and save it.
"""

"""`swardwright hub …`: what whoever runs the hub does at its console."""

import argparse
import os
import sys
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from mobile_app.hub.hub import Hub

Command = Callable[[argparse.Namespace, "Hub"], None]


def add_hub(parser: argparse.ArgumentParser, data: Path) -> argparse._SubParsersAction:  # type: ignore[type-arg]
    """Adds the commands of the hub but for `serve`, which the console command shares; returns where."""
    commands = parser.add_subparsers(required=True, metavar="COMMAND")

    def add(name: str, help: str, do: Command) -> argparse.ArgumentParser:
        made: argparse.ArgumentParser = commands.add_parser(name, help=help, description=help)
        add_places(made, data)
        made.set_defaults(command=lambda options: _carry_out(options, do))
        return made

    init = add("init", "make a business and print a code for its first phone", _init)
    init.add_argument("--name", default="My business", help="what the phones call it")
    init.add_argument("--address", default="", help="address that the phones open, for the QR code")
    pair = add("pair", "print a code for a phone, good once within ten minutes", _pair)
    _of(pair)
    pair.add_argument("--admin", action="store_true", help="the phone may pair and take off others")
    pair.add_argument("--address", default="", help="address that the phones open, for the QR code")
    devices = add("devices", "list the phones of a business, rename one, or take one off", _devices)
    _of(devices)
    devices.add_argument("what", choices=("list", "rename", "revoke"), nargs="?", default="list")
    devices.add_argument("device", nargs="?", default="", help="id of a phone, as the list shows it")
    devices.add_argument("name", nargs="?", default="", help="its new name")
    mail = add("mail", "say through which mail server a business sends; alone, show what is set", _mail)
    _of(mail)
    mail.add_argument("--host", help="mail server; give an empty one to send no more")
    mail.add_argument("--port", type=int, help="default: 587, or 465 with --security tls")
    mail.add_argument("--security", choices=("starttls", "tls", "none"), default="starttls")
    mail.add_argument("--user", default="", help="whom to log in as")
    mail.add_argument("--password-file", type=Path, help="file that holds the password")
    mail.add_argument("--sender", default="", help="address that the mail comes from")
    mail.add_argument("--name", default="", help="name beside that address")
    add("backup", "write everything into one file, while the hub works", _backup).add_argument(
        "file", type=Path
    )
    restore = add("restore", "fill a new, empty hub from a backup", _restore)
    restore.add_argument("file", type=Path)
    trim = add("trim", "drop the text of old changes; phones away for longer begin anew", _trim)
    _of(trim)
    trim.add_argument("--days", type=int, default=400, help="keep what is younger (default: %(default)s)")
    return commands


def add_places(parser: argparse.ArgumentParser, data: Path) -> None:
    """Adds the options that say where a hub keeps its records."""
    url = os.environ.get("SWARDWRIGHT_DATABASE_URL", "")
    blobs = os.environ.get("SWARDWRIGHT_BLOBS", "")
    add = parser.add_argument
    add(
        "--data",
        type=Path,
        default=data,
        help="folder of the built app and the records (default: %(default)s)",
    )
    add("--database-url", default=url, help="postgresql://… instead of SQLite in the folder")
    add("--blobs", type=Path, default=blobs or None, help="folder for photos and papers, not the database")


def open_from(options: argparse.Namespace, **more: Any) -> "Hub":
    """The hub that the options mean. Raises StorageError and OSError."""
    from mobile_app.hub.hub import Settings, open_hub

    url = options.database_url
    if not url:
        folder = options.data / "hub"
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        url = f"sqlite:///{folder / 'hub.sqlite'}"
    return open_hub(Settings(url, folder=options.blobs, **more))


def show_code(code: str, address: str) -> None:
    """Prints a pairing code, and as a QR code when the address of the app is known."""
    print(f"Code for a phone, good once within ten minutes: {code}", flush=True)
    if address:
        import segno

        segno.make(f"{address}#pair={code}", error="m").terminal(compact=True)
        print(f"or open {address}#pair={code}", flush=True)


def _carry_out(options: argparse.Namespace, do: Command) -> int:
    from sqlalchemy.exc import SQLAlchemyError

    from logic.errors import SwardError

    try:
        hub = open_from(options)
        try:
            hub.database.upgrade()
            do(options, hub)
        finally:
            hub.database.close()
    except SwardError as error:
        return _refuse(error.sentence)
    except SQLAlchemyError as error:
        return _refuse(f"The database does not answer as it should: {type(error).__name__}.")
    except OSError as error:
        return _refuse(str(error))
    return 0


def _init(options: argparse.Namespace, hub: "Hub") -> None:
    from mobile_app.hub.devices import new_code
    from mobile_app.hub.offices import make_business

    business = make_business(hub.database, options.name)
    print(f"Made business {business}")
    show_code(new_code(hub.database, business, admin=True)[0], options.address)


def _pair(options: argparse.Namespace, hub: "Hub") -> None:
    from mobile_app.hub.devices import new_code

    code, _ = new_code(hub.database, _business(options, hub), admin=options.admin)
    show_code(code, options.address)


def _devices(options: argparse.Namespace, hub: "Hub") -> None:
    from mobile_app.hub import devices

    business = _business(options, hub)
    if options.what == "rename":
        devices.rename(hub.database, business, options.device, options.name)
    elif options.what == "revoke":
        devices.revoke(hub.database, business, options.device)
    with hub.database.tenant(business) as connection:
        for row in devices.every_device(connection, business):
            state = "taken off" if row["revoked"] else "runs the office" if row["admin"] else ""
            print(f"{row['device']}  {_day(row['paired'])}  seen {_day(row['seen'])}  {row['name']}  {state}")


def _mail(options: argparse.Namespace, hub: "Hub") -> None:
    from mobile_app.hub.offices import business_row, set_mail

    business = _business(options, hub)
    if options.host is not None:
        port = options.port or (465 if options.security == "tls" else 587)
        password = options.password_file.read_text("utf-8").strip() if options.password_file else ""
        given = {name: getattr(options, name) for name in ("host", "security", "user", "sender", "name")}
        settings = {**given, "port": port, "password": password} if options.host else {}
        set_mail(hub.database, business, settings)
    with hub.database.tenant(business) as connection:
        kept = business_row(connection, business).mail
    shown = {key: value for key, value in kept.items() if key != "password"}
    print("\n".join(f"{key}: {value}" for key, value in shown.items()) or "No mail server is set.")


def _backup(options: argparse.Namespace, hub: "Hub") -> None:
    from mobile_app.hub.backup import back_up

    _print_counts("Wrote", back_up(hub.database, hub.blobs.kept, options.file))


def _restore(options: argparse.Namespace, hub: "Hub") -> None:
    from mobile_app.hub.backup import restore

    _print_counts("Restored", restore(hub.database, hub.blobs.kept, options.file))


def _trim(options: argparse.Namespace, hub: "Hub") -> None:
    from mobile_app.hub.trim import trim

    print(f"Dropped the text of {trim(hub.database, _business(options, hub), options.days)} changes")


def _print_counts(did: str, counts: dict[str, int]) -> None:
    print(f"{did} {', '.join(f'{count} {name}' for name, count in counts.items())}")


def _of(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--business", default="", help="id, when the hub has more than one")


def _business(options: argparse.Namespace, hub: "Hub") -> str:
    from mobile_app.hub.offices import the_business

    return the_business(hub.database, options.business)


def _day(moment: datetime | None) -> str:
    return f"{moment:%Y-%m-%d}" if moment else "never"


def _refuse(sentence: str) -> int:
    print(f"swardwright: {sentence}", file=sys.stderr)
    return 2

"""The console command: serve app and hub, write the app out for a host, reckon a job file."""

import argparse
import os
import sys
import webbrowser
from collections.abc import Callable, Sequence
from pathlib import Path

from mobile_app.hub.command import add_hub, add_places, open_from, show_code


def main(arguments: Sequence[str] | None = None) -> int:
    """Runs one command and returns the exit status: 0, or 2 with one clear line on a bad request."""
    options = _parser().parse_args(arguments)
    command: Callable[[argparse.Namespace], int] = options.command
    return command(options)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="swardwright", description="Fine-turf renovation, worked out with no signal."
    )
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    _add_serve(commands.add_parser("serve", help="build the web app if need be; serve it and the records"))
    _add_bundle(commands.add_parser("bundle", help="write the web app as a static site for any HTTPS host"))
    _add_reckon(commands.add_parser("reckon", help="work out a job file: figures as JSON, a summary as PDF"))
    hub = commands.add_parser("hub", help="run the hub for several phones, pair them, back it up")
    _add_hub_serve(add_hub(hub, default_data()).add_parser("serve", help="serve the records, and the app"))
    return parser


def _add_serve(parser: argparse.ArgumentParser) -> None:
    parser.epilog = "Example: swardwright serve --port 8700 --demo"
    _add_listening(parser)
    parser.add_argument("--no-browser", action="store_true", help="do not open a browser")
    parser.add_argument(
        "--demo", action="store_true", help="open the app with an invented contractor's records"
    )
    parser.set_defaults(command=serve, app=True, log=False)


def _add_hub_serve(parser: argparse.ArgumentParser) -> None:
    parser.epilog = (
        "Example: swardwright hub serve --database-url postgresql://hub@localhost/hub --behind-proxy"
    )
    _add_listening(parser)
    add = parser.add_argument
    add("--app", action=argparse.BooleanOptionalAction, default=True, help="serve the web app too")
    parser.set_defaults(command=serve, log=True, no_browser=True, demo=False)


def _add_listening(parser: argparse.ArgumentParser) -> None:
    add_places(parser, default_data())
    add = parser.add_argument
    add("--host", default="127.0.0.1", help="address to listen on (default: this machine only)")
    add("--port", type=int, default=8600, help="port to listen on (default: 8600)")
    add("--address", default="", help="address that phones open, e.g. https://turf.example.com/")
    add("--tls-cert", type=Path, help="certificate file, with those it rests on")
    add("--tls-key", type=Path, help="key file of the certificate")
    add("--behind-proxy", action="store_true", help="believe what a proxy says of who asks, and of TLS")
    add("--origin", action="append", default=[], help="another origin that hosts the app; may be repeated")


def _add_bundle(parser: argparse.ArgumentParser) -> None:
    parser.epilog = "Example: swardwright bundle --out site --base-url /turf/"
    add = parser.add_argument
    add("--out", type=Path, required=True, help="folder to write; new, empty, or an earlier build")
    add("--base-url", default="", help="path that the site will be served under, e.g. /turf/")
    add("--hub", default="", help="origin of the hub that the app may talk to, e.g. https://hub.example.com")
    add("--fast", action="store_true", help="compress quickly rather than well")
    parser.set_defaults(command=bundle)


def _add_reckon(parser: argparse.ArgumentParser) -> None:
    from mobile_app.reckon_command import EPILOG

    parser.epilog, parser.formatter_class = EPILOG, argparse.RawDescriptionHelpFormatter
    add = parser.add_argument
    add("job", metavar="JOB.json", help="the job file; - for standard input")
    add("--pdf", type=Path, metavar="FILE", help="write the customer summary there too")
    parser.set_defaults(command=reckon)


def default_data() -> Path:
    """Where the built app and the hub's records go when nothing else is said: the user's data folder."""
    return Path(os.environ.get("XDG_DATA_HOME") or Path.home() / ".local" / "share") / "swardwright"


def serve(options: argparse.Namespace) -> int:
    """Builds the app into the data folder when it is missing or stale, then serves it and the hub."""
    from sqlalchemy.exc import SQLAlchemyError

    from logic.errors import StorageError
    from mobile_app.bundle import BundleError, build, is_stale
    from mobile_app.hub.meters import log_to_standard_error
    from mobile_app.hub.run import Listening, run

    site = options.data / "site"
    try:
        if options.app and is_stale(site):
            build(site, progress=_bar)
        hub = open_from(options, origins=tuple(options.origin), site=site if options.app else None)
    except (BundleError, StorageError, OSError) as error:
        return _refuse(str(error))
    if options.log:
        log_to_standard_error()
    where = (options.host, options.port, options.tls_cert, options.tls_key, options.behind_proxy)
    listening = Listening(*where)

    def started(code: str) -> None:
        address = options.address or listening.address
        opened = address + ("?demo" if options.demo else "")
        print(f"Swardwright is at {opened}  (Ctrl+C stops it)", flush=True)
        if code:
            show_code(code, address if sys.stdout.isatty() else "")
        if not options.no_browser:
            webbrowser.open(opened)

    try:
        run(hub, listening, started)
    except KeyboardInterrupt:
        print()
    except StorageError as error:
        return _refuse(error.sentence)
    except SQLAlchemyError as error:
        return _refuse(f"The database does not answer as it should: {type(error).__name__}.")
    except (OSError, OverflowError) as error:
        return _refuse(f"Port {options.port} on {options.host} cannot be used: {error}")
    return 0


def bundle(options: argparse.Namespace) -> int:
    """Writes the static site."""
    from mobile_app.bundle import BundleError, Options, build

    wanted = Options(base_url=options.base_url, hub=options.hub, quality=5 if options.fast else 11)
    try:
        made = build(options.out, wanted, progress=_bar)
    except BundleError as error:
        return _refuse(str(error))
    print(f"Wrote build {made} to {options.out}")
    return 0


def reckon(options: argparse.Namespace) -> int:
    """Prints the figures of a job file as JSON."""
    from logic.errors import SwardError
    from mobile_app.reckon_command import answer

    try:
        text = answer(options.job, options.pdf)
    except SwardError as error:
        return _refuse(error.sentence)
    sys.stdout.buffer.write(f"{text}\n".encode())  # JSON is UTF-8 whatever the terminal's language
    sys.stdout.flush()
    return 0


def _bar(step: str, share: float) -> None:
    """One line that fills up on a terminal, one line a step elsewhere."""
    if sys.stderr.isatty():
        filled = round(30 * share)
        ending = "\n" if share >= 1 else ""
        print(f"\r[{'#' * filled}{'.' * (30 - filled)}] {step:<24}", end=ending, file=sys.stderr, flush=True)
    else:
        print(f"{round(100 * share):3d} % {step}", file=sys.stderr, flush=True)


def _refuse(sentence: str) -> int:
    print(f"swardwright: {sentence}", file=sys.stderr)
    return 2


if __name__ == "__main__":
    sys.exit(main())

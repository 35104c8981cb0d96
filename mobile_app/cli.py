"""The console command: serve the app on this machine, write it out for a host, reckon a job file."""

import argparse
import os
import sys
import webbrowser
from collections.abc import Callable, Sequence
from pathlib import Path


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
    _add_serve(commands.add_parser("serve", help="build the web app if need be and serve it on this machine"))
    _add_bundle(commands.add_parser("bundle", help="write the web app as a static site for any HTTPS host"))
    _add_reckon(commands.add_parser("reckon", help="work out a job file: figures as JSON, a summary as PDF"))
    return parser


def _add_serve(parser: argparse.ArgumentParser) -> None:
    parser.epilog = "Example: swardwright serve --port 8700 --demo"
    add = parser.add_argument
    add("--host", default="127.0.0.1", help="address to listen on (default: this machine only)")
    add("--port", type=int, default=8600, help="port to listen on (default: 8600)")
    add("--data", type=Path, default=default_data(), help="folder for the built app (default: %(default)s)")
    add("--no-browser", action="store_true", help="do not open a browser")
    add("--demo", action="store_true", help="open the app with an invented contractor's records")
    parser.set_defaults(command=serve)


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
    """Where built files go when nothing else is said: the user's cache folder."""
    return Path(os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache") / "swardwright"


def serve(options: argparse.Namespace) -> int:
    """Builds the app into the data folder when it is missing or stale, then serves it until interrupted."""
    from mobile_app.bundle import BundleError, build, is_stale
    from mobile_app.serve import SiteServer

    site = options.data / "site"
    try:
        if is_stale(site):
            build(site, progress=_bar)
        server = SiteServer((options.host, options.port), site)
    except BundleError as error:
        return _refuse(str(error))
    except (OSError, OverflowError) as error:
        return _refuse(f"Port {options.port} on {options.host} cannot be used: {error}")
    address = server.url + ("?demo" if options.demo else "")
    print(f"Swardwright is at {address}  (Ctrl+C stops it)", flush=True)
    if not options.no_browser:
        webbrowser.open(address)
    try:
        server.serve_forever()
    except KeyboardInterrupt:
        print()
    finally:
        server.server_close()
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

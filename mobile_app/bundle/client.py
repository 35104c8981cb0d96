"""The compiled Flutter client and Pyodide, from the installed flet-web package, freed of their traps."""

import json
import re
from pathlib import Path

from flet_web import get_package_web_dir

# The client comes compiled twice, and a browser's service worker stores the one that it runs: "wasm" where it
# can (it starts in about half the time), "script" elsewhere.
ENGINES = {
    "main.dart.mjs": "wasm",
    "main.dart.wasm": "wasm",
    "canvaskit/skwasm.js": "wasm",
    "canvaskit/skwasm.wasm": "wasm",
    "main.dart.js": "script",
    "canvaskit/canvaskit.js": "script",
    "canvaskit/canvaskit.wasm": "script",
}

CLIENT = (
    *ENGINES,
    "assets/AssetManifest.bin",
    "assets/AssetManifest.bin.json",
    "assets/fonts/MaterialIcons-Regular.otf",
    "assets/shaders/ink_sparkle.frag",
    "assets/shaders/stretch_effect.frag",
    "assets/packages/wakelock_plus/assets/no_sleep.js",
    "version.json",
    "pyodide/pyodide.mjs",
    "pyodide/pyodide.asm.mjs",
    "pyodide/pyodide.asm.wasm",
)

# Shipped, because the licences ask for it, but not stored for use without a signal.
REFERENCE = ("assets/NOTICES",)


class TrapError(Exception):
    """The installed flet-web differs from what this bundler knows how to make safe."""


def web_dir() -> Path:
    """The folder of the installed client."""
    return Path(get_package_web_dir())


def client_files() -> dict[str, bytes]:
    """Path in the build → bytes, for all that is taken over as it is."""
    web = web_dir()
    files = {}
    for name in (*CLIENT, *REFERENCE):
        if not (web / name).is_file():
            if name == "version.json":
                continue
            raise TrapError(f"The installed flet-web has no {name}.")
        files[name] = (web / name).read_bytes()
    files["pyodide/pyodide.mjs"] = _without_source_map(files["pyodide/pyodide.mjs"])
    return files


def bootstrap() -> bytes:
    """The client's loader without its own service worker, which would unregister ours and reload for ever.

    It is also told to use the one script engine that is shipped. Raises TrapError when either place is not
    there exactly once.
    """
    text = (web_dir() / "flutter_bootstrap.js").read_text("utf-8")
    text, count = re.subn(r"\s*serviceWorkerSettings:\s*\{[^}]*\},", "", text)
    if count != 1:
        raise TrapError(f"flutter_bootstrap.js has {count} service worker settings; one was expected.")
    text, count = re.subn(r"(assetBase: flet\.assetBase)\n", r'\1,\n    canvasKitVariant: "full"\n', text)
    if count != 1:
        raise TrapError(
            f"flutter_bootstrap.js has {count} places for the engine's variant; one was expected."
        )
    return _without_source_map(text.encode())


def font_manifest(regular: str, bold: str, icons: str = "fonts/MaterialIcons-Regular.otf") -> bytes:
    """The engine's list of fonts: ours under its own name and as the default family, and the icons.

    A code point that no listed font has would send the engine to fetch others for ever, so the default
    family, which the client asks for when none is named, must be ours too.
    """
    faces = [{"asset": regular, "weight": 400}, {"asset": bold, "weight": 700}]
    families: list[dict[str, object]] = [{"family": "MaterialIcons", "fonts": [{"asset": icons}]}]
    families += [{"family": name, "fonts": faces} for name in ("Sward", "Roboto")]
    return json.dumps(families).encode()


def lock_file() -> str:
    """A lock file with no packages: everything comes from our archive, nothing is ever looked up."""
    whole = json.loads((web_dir() / "pyodide" / "pyodide-lock.json").read_text("utf-8"))
    return json.dumps({"info": whole["info"], "packages": {}})


def _without_source_map(data: bytes) -> bytes:
    return re.sub(rb"\n//# sourceMappingURL=[^\n]*", b"", data)

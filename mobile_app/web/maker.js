// Makes the memory snapshot for later starts, in a worker of its own and out of the way: a fresh Python imports what
// the running app has loaded and the rest of the app, and its memory is stored.

import { HOME, plainStart, storeSnapshot } from "./python.js";

const IMPORT = `
import gc, importlib, pathlib, sys

def everything(modules):
    """Import what the app had loaded, then the rest of the app; what needs the page is left for the start itself."""
    own = [path.relative_to("${HOME}").with_suffix("").as_posix().replace("/", ".").removesuffix(".__init__")
           for folder in ("logic", "mobile_app") for path in pathlib.Path("${HOME}", folder).rglob("*.py")]
    left = []
    for name in [*modules, *sorted(own)]:
        if name not in sys.modules:
            try:
                importlib.import_module(name)
            except Exception as error:
                left.append(f"{name}: {error}")
    gc.collect()
    return "\\n".join(left)
`;

self.onmessage = async ({ data: { modules } }) => {
  try {
    const python = await plainStart({ _makeSnapshot: true });
    python.runPython(IMPORT);
    const left = python.runPython(`everything(${JSON.stringify(modules)})`);
    if (left) console.debug(`Not in the snapshot:\n${left}`);
    python.runPython("del everything");
    const bytes = python.makeMemorySnapshot();
    await storeSnapshot(bytes);
    self.postMessage({ made: bytes.length });
  } catch (error) {
    self.postMessage({ failed: String(error?.message || error) });
  }
};

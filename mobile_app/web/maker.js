// Makes the memory snapshot for later starts, in a worker of its own and out of the way: a fresh Python imports what
// the running app has loaded and the rest of the app, and its memory is stored.

import { plainStart, storeSnapshot } from "./python.js";

const IMPORT = `
import gc, importlib, sys
from mobile_app import later

def everything(modules):
    """Import what the app had loaded, then the rest of the app; what needs the page is left for the start itself."""
    left = []
    for name in [*modules, *later.names()]:
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

// Python's worker: wakes Pyodide, lays out the app's files, runs the app when the window says "go".

import { loadPyodide } from "./pyodide/pyodide.mjs";
import { unpack } from "./archive.js";

const root = new URL(".", import.meta.url);
const HOME = "/app";
const say = (kind, more = {}) => self.postMessage({ swardwright: kind, ...more });
const bytesOf = async (path) => {
  const response = await fetch(new URL(path, root));
  if (!response.ok) throw new Error(`${path}: ${response.status}`);
  return new Uint8Array(await response.arrayBuffer());
};

// For the app: what the window knows (persisted, build, hub, demo, standalone), and three hooks that it may set.
self.swardwright = {};
self.swardwrightClose = null; // () => void: release the book's files, the page is going
self.swardwrightNote = null; // (kind) => void: "facts" changed, "update-ready"
self.flet_js = { documentUrl: "", args: null };

let go;
const mayRun = new Promise((resolve) => { go = resolve; });
const early = [];

self.onmessage = ({ data }) => {
  if (data instanceof Uint8Array) {
    if (typeof self.flet_js.send === "function") self.flet_js.send(data);
    else early.push(data);
    return;
  }
  switch (data.swardwright) {
    case "go": Object.assign(self.swardwright, data.facts); go(); break;
    case "facts": Object.assign(self.swardwright, data.facts); self.swardwrightNote?.("facts"); break;
    case "update-ready": self.swardwright.updateReady = true; self.swardwrightNote?.("update-ready"); break;
    case "close": self.swardwrightClose?.(); break;
  }
};

function toClient(message) {
  const bytes = message.toJs();
  self.postMessage(bytes, [bytes.buffer]);
}

async function start() {
  const archive = bytesOf("app.tar");
  const python = await loadPyodide({
    indexURL: new URL("pyodide/", root).href,
    lockFileContents: {{lock}},
    packageBaseUrl: new URL("pyodide/", root).href,
    stdout: (text) => console.log(text),
    stderr: (text) => console.error(text),
  });
  say("runtime");
  unpack(await archive, python.FS, HOME);
  say("packages");
  python.runPython(`import sys; sys.path[:0] = ["${HOME}", "${HOME}/__pypackages__"]`);
  python.registerJsModule("flet_js", self.flet_js);
  await mayRun;
  say("app");
  python.runPython("import mobile_app.main; mobile_app.main.start()");
  await self.flet_js.start_connection(toClient);
  for (const packet of early.splice(0)) self.flet_js.send(packet);
  say("initialized");
}

start().catch((error) => say("failed", { reason: String(error?.message || error) }));

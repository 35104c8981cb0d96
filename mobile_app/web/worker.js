// Python's worker: wakes Python, from a snapshot when there is one, and runs the app when the window says "go".

import { countBytes, dropSnapshot, plainStart, restoredStart, storedSnapshot } from "./python.js";

const say = (kind, more = {}) => self.postMessage({ swardwright: kind, ...more });

// For the app: what the window knows (persisted, build, hub, demo, standalone), and three hooks that it may set.
self.swardwright = {};
self.swardwrightClose = null; // () => void: release the book's files, the page is going
self.swardwrightMotion = null; // (message) => void: samples of the motion sensor, or why there are none
self.swardwrightFiles = null; // ({files}) => void: the files that were asked for
self.swardwrightNote = null; // (kind) => void: "facts" changed, "update-ready", "online", "visible"
self.swardwrightMakeRoom = dropSnapshot; // for the app when its records run out of room
self.flet_js = { documentUrl: self.location.href, args: null };

let python = null;
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
    case "go":
      self.flet_js.documentUrl = data.documentUrl;
      Object.assign(self.swardwright, data.facts);
      go();
      break;
    case "facts": Object.assign(self.swardwright, data.facts); self.swardwrightNote?.("facts"); break;
    case "update-ready": self.swardwright.updateReady = true; self.swardwrightNote?.("update-ready"); break;
    case "online": case "visible": self.swardwrightNote?.(data.swardwright); break;
    case "motion": self.swardwrightMotion?.(data); break;
    case "files": self.swardwrightFiles?.(data); break;
    case "close": self.swardwrightClose?.(); break;
    case "modules?": say("modules", { modules: loadedModules() }); break;
  }
};

function loadedModules() {
  return python.runPython("import sys; '\\n'.join(sys.modules)").split("\n");
}

function toClient(message) {
  const bytes = message.toJs();
  self.postMessage(bytes, [bytes.buffer]);
}

// Any doubt about a snapshot ends here: it is dropped, and the window starts a fresh worker the plain way.
async function wake() {
  const snapshot = self.name === "plain" ? null : await storedSnapshot().catch(() => null);
  if (!snapshot) return plainStart({}, () => say("runtime"));
  try {
    say("restoring");
    const restored = await restoredStart(snapshot.bytes, () => say("runtime"));
    if (!(await snapshot.sound)) throw new Error("the snapshot's bytes have changed");
    return restored;
  } catch (error) {
    await dropSnapshot();
    say("start-plainly", { reason: String(error?.message || error) });
    return null;
  }
}

async function start() {
  python = await wake();
  if (!python) return;
  say("packages");
  python.registerJsModule("flet_js", self.flet_js);
  await mayRun;
  say("app");
  python.runPython("import mobile_app.main; mobile_app.main.start()");
  await self.flet_js.start_connection(toClient);
  for (const packet of early.splice(0)) self.flet_js.send(packet);
  say("initialized");
}

countBytes((bytes) => say("fetched", { bytes }));
start().catch((error) => say("failed", { reason: String(error?.message || error) }));

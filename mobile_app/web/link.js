// The wire between the Flutter client and Python: the client's three functions, and our own messages beside them.
// Python starts at once, before the client is up; whatever arrives early waits here.

const root = new URL(".", import.meta.url);
const RESTORE_MS = 5000;
const listeners = new Map();
let worker;
let started; // what the first worker was told, for one that has to take its place
let restored = false;
let patience = null;
let toClient = null;
let early = [];
let pythonIsUp;
let pythonFailed;
const python = new Promise((resolve, reject) => { pythonIsUp = resolve; pythonFailed = reject; });
python.catch(() => {});

/** Whether the person or the address asks for starts without a snapshot. */
export const plainWanted = new URLSearchParams(location.search).has("plain") || localStorage.getItem("sw-plain") === "1";

/** Calls `action(message)` for each message of the worker of the kind `kind`. */
export function on(kind, action) {
  listeners.set(kind, action);
}

/** Sends one of our own messages to the worker: an object whose `swardwright` names its kind. */
export function tell(kind, more = {}) {
  const message = { swardwright: kind, ...more };
  if (kind === "go") started = message;
  worker.postMessage(message);
}

function startPlainly(reason) {
  clearTimeout(patience);
  console.warn(`Starting without the snapshot: ${reason}`);
  worker.terminate();
  restored = false;
  spawn("plain");
  if (started) worker.postMessage(started);
}

function hear({ data }) {
  if (data instanceof Uint8Array) {
    if (toClient) toClient(data);
    else early.push(data);
    return;
  }
  switch (data.swardwright) {
    case "restoring":
      restored = true;
      patience = setTimeout(() => startPlainly("it took too long"), RESTORE_MS);
      break;
    case "packages": clearTimeout(patience); break;
    case "start-plainly": startPlainly(data.reason); return;
    case "initialized": pythonIsUp(); break;
    case "failed":
      if (restored) {
        startPlainly(data.reason);
        return;
      }
      pythonFailed(new Error(data.reason));
  }
  listeners.get(data.swardwright)?.(data);
}

function spawn(name) {
  worker = new Worker(new URL("worker.js", root), { type: "module", name });
  worker.onmessage = hear;
  worker.onerror = (event) => {
    const reason = event.message || "The worker could not be loaded.";
    if (restored) {
      startPlainly(reason);
      return;
    }
    pythonFailed(new Error(reason));
    globalThis.swRecovery.show(reason);
  };
}

// Called by the client on connecting, sending, leaving. There is one app a page, so the id is not needed.
globalThis.jsConnect = async (appId, args, dartOnMessage) => {
  await python;
  toClient = dartOnMessage;
  for (const packet of early) dartOnMessage(packet);
  early = [];
};
globalThis.jsSend = async (appId, data) => worker.postMessage(data, [data.buffer]);
globalThis.jsDisconnect = async () => {};
globalThis.swLink = { stop: () => worker.terminate(), restored: () => restored };

spawn(plainWanted ? "plain" : "swardwright");

// The wire between the Flutter client and Python: the client's three functions, and our own messages beside them.
// Python starts at once, before the client is up; whatever arrives early waits here.

const root = new URL(".", import.meta.url);
const worker = new Worker(new URL("worker.js", root), { type: "module", name: "swardwright" });
const listeners = new Map();
let toClient = null;
let early = [];
let pythonIsUp;
let pythonFailed;
const python = new Promise((resolve, reject) => { pythonIsUp = resolve; pythonFailed = reject; });
python.catch(() => {});

/** Calls `action(message)` for each message of the worker of the kind `kind`. */
export function on(kind, action) {
  listeners.set(kind, action);
}

/** Sends one of our own messages to the worker: an object whose `swardwright` names its kind. */
export function tell(kind, more = {}) {
  worker.postMessage({ swardwright: kind, ...more });
}

worker.onmessage = ({ data }) => {
  if (data instanceof Uint8Array) {
    if (toClient) toClient(data);
    else early.push(data);
    return;
  }
  if (data.swardwright === "initialized") pythonIsUp();
  if (data.swardwright === "failed") pythonFailed(new Error(data.reason));
  listeners.get(data.swardwright)?.(data);
};
worker.onerror = (event) => {
  const reason = event.message || "The worker could not be loaded.";
  pythonFailed(new Error(reason));
  globalThis.swRecovery.show(reason);
};

// Called by the client on connecting, sending, leaving. There is one app a page, so the id is not needed.
globalThis.jsConnect = async (appId, args, dartOnMessage) => {
  await python;
  toClient = dartOnMessage;
  for (const packet of early) dartOnMessage(packet);
  early = [];
};
globalThis.jsSend = async (appId, data) => worker.postMessage(data, [data.buffer]);
globalThis.jsDisconnect = async () => {};
globalThis.swLink = { stop: () => worker.terminate() };

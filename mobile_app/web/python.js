// How Pyodide is started, the plain way and around a memory snapshot. Shared by the worker and the snapshot's maker.

import { loadPyodide } from "./pyodide/pyodide.mjs";
import createModule from "./pyodide/pyodide.asm.mjs";
import { unpack } from "./archive.js";

export const root = new URL(".", import.meta.url);
export const HOME = "/app";
const SNAPSHOT = new URL("snapshot", root).href;

const common = {
  indexURL: new URL("pyodide/", root).href,
  packageBaseUrl: new URL("pyodide/", root).href,
  lockFileContents: {{lock}},
  stdout: (text) => console.log(text),
  stderr: (text) => console.error(text),
};

/** Calls `tell(bytes)` for every file that this worker has fetched. */
export function countBytes(tell) {
  new PerformanceObserver((list) => {
    for (const entry of list.getEntries()) tell(entry.decodedBodySize);
  }).observe({ type: "resource", buffered: true });
}

async function bytesOf(path) {
  const response = await fetch(new URL(path, root));
  if (!response.ok) throw new Error(`${path}: ${response.status}`);
  return new Uint8Array(await response.arrayBuffer());
}

/** Starts Python with the app's files laid out and on the path; `ready` is called when Python itself is awake. */
export async function plainStart(options = {}, ready = () => {}) {
  const archive = bytesOf("app.tar");
  archive.catch(() => {});
  const python = await loadPyodide({ ...common, createPyodideModule: createModule, ...options });
  ready();
  unpack(await archive, python.FS, HOME);
  python.runPython(`import sys; sys.path[:0] = ["${HOME}", "${HOME}/__pypackages__"]`);
  return python;
}

/** Starts Python from a snapshot's bytes: its modules are loaded already, its memory grown to fit them. */
export async function restoredStart(snapshot, ready = () => {}) {
  const archive = bytesOf("app.tar");
  archive.catch(() => {});
  const createPyodideModule = async (settings) => {
    const module = await createModule(settings);
    module.growMemory(snapshot.length);
    return module;
  };
  const python = await loadPyodide({ ...common, _loadSnapshot: snapshot, createPyodideModule });
  ready();
  unpack(await archive, python.FS, HOME);
  // Chance must be this start's own, not that of the one that made the snapshot.
  python.runPython("import random; random.seed()");
  return python;
}

async function hashOf(bytes) {
  return Array.from(new Uint8Array(await crypto.subtle.digest("SHA-256", bytes)), (b) => b.toString(16).padStart(2, "0")).join("");
}

const store = async () => caches.open(await storeName());
// The service worker names its caches by its scope, two folders up from a build: b/<build>/.
const storeName = async () => `swardwright ${new URL("../../", root).pathname} snapshots`;

/** The stored snapshot of this very build, or null: `{bytes, sound}`; `sound` settles true when its hash agrees. */
export async function storedSnapshot() {
  const found = await (await store()).match(SNAPSHOT);
  if (!found) return null;
  const bytes = new Uint8Array(await found.arrayBuffer());
  const sound = hashOf(bytes).then((hash) => hash === found.headers.get("x-sha256"));
  return { bytes, sound };
}

export async function storeSnapshot(bytes) {
  const { quota = Infinity, usage = 0 } = (await navigator.storage.estimate?.()) ?? {};
  // The records come first: never take room that they may need.
  if (quota - usage < 3 * bytes.length) throw new Error("too little room for a snapshot");
  const headers = { "x-sha256": await hashOf(bytes), "Content-Type": "application/octet-stream" };
  await (await store()).put(SNAPSHOT, new Response(bytes, { headers }));
}

export async function dropSnapshot() {
  await (await store()).delete(SNAPSHOT);
}

// Starts the app: guards against a second tab, starts the client beside Python, shows headway, hands over.

import "./keypad.js";
import { on, tell } from "./link.js";
import { startMotion, stopMotion } from "./motion.js";
import { pickFiles } from "./files.js";
import { offerFile } from "./sheet.js";
import { makeSnapshotLater } from "./snapshot.js";
import { engine, megabytes, watchUpdates } from "./update.js";

const recovery = globalThis.swRecovery;
const root = new URL(".", import.meta.url);
const meta = (name) => document.querySelector(`meta[name="${name}"]`).content;
const asked = new URLSearchParams(location.search);

// What the client's own bootstrap script reads.
globalThis.flet = {
  pyodide: true,
  multiView: false,
  noCdn: true,
  webSocketEndpoint: "/ws",
  entrypointBaseUrl: root.pathname,
  assetBase: root.pathname,
  routeUrlStrategy: "hash",
  canvasKitBaseUrl: new URL("canvaskit/", root).pathname,
  fontFallbackBaseUrl: new URL("fonts/", root).pathname,
  webRenderer: engine === "wasm" ? "skwasm" : "canvaskit",
  pyodideUrl: new URL("pyodide/pyodide.mjs", root).pathname,
  appPackageUrl: "",
};
flet.flutterAppLoaded = new Promise((resolve) => { flet.flutterAppResolve = resolve; });

const steps = { runtime: ["Waking Python", 30], packages: ["Opening the toolbox", 45], app: ["Opening your book", 75],
  initialized: ["Drawing the first page", 90] };
let reached = 4;

function progress(text, percent) {
  recovery.alive();
  reached = Math.max(reached, percent);
  const bar = document.getElementById("sw-bar");
  if (!bar) return;
  bar.style.width = `${reached}%`;
  if (text) document.getElementById("sw-step").textContent = text;
}

for (const [kind, [text, percent]] of Object.entries(steps)) {
  on(kind, () => {
    performance.mark(`sw-${kind}`);
    progress(text, percent);
  });
}
on("failed", ({ reason }) => recovery.show(reason));
on("offer-file", offerFile);
on("motion-start", startMotion);
on("motion-stop", stopMotion);
on("pick-files", pickFiles);
// Remembered apart from the book, so that a book that the browser has cleared is missed.
on("book-kept", () => { try { localStorage.setItem("sw-known", "1"); } catch { /* private window */ } });
const known = () => { try { return localStorage.getItem("sw-known") === "1"; } catch { return false; } };

// On a first visit the bytes count: what this window and the worker have fetched, of all there is to fetch.
const whole = JSON.parse(meta("sw-sizes"))[engine];
const firstVisit = !navigator.serviceWorker?.controller;
let fetched = 0;
function count(bytes) {
  fetched = Math.min(whole, fetched + bytes);
  if (firstVisit) progress(`Fetching the app: ${megabytes(fetched)} of ${megabytes(whole)} MB`, 4 + 60 * fetched / whole);
  else recovery.alive();
}
on("fetched", ({ bytes }) => count(bytes));
new PerformanceObserver((list) => {
  for (const entry of list.getEntries()) count(entry.decodedBodySize);
}).observe({ type: "resource", buffered: true });

const firstFrame = new Promise((resolve) => addEventListener("flutter-first-frame", () => {
  performance.mark("sw-client");
  resolve();
}, { once: true }));
const shown = new Promise((resolve) => on("shown", resolve));
const frame = () => new Promise((resolve) => requestAnimationFrame(resolve));

// The client rewrites the viewport so that nobody can zoom. Put it back: text must be able to grow.
function keepZoom() {
  const wanted = "width=device-width, initial-scale=1";
  const mend = () => {
    for (const tag of document.querySelectorAll('meta[name="viewport"]')) if (tag.content !== wanted) tag.content = wanted;
  };
  new MutationObserver(mend).observe(document.head, { childList: true, subtree: true, attributes: true });
}

// One window at a time writes the book. The lock belongs to the window, which outlives a worker.
async function takeTheBook() {
  if (!navigator.locks) return true;
  for (let attempt = 0; attempt < 20; attempt += 1) {
    const taken = await new Promise((resolve) => {
      navigator.locks.request("swardwright-book", { ifAvailable: true }, (lock) => {
        resolve(lock !== null);
        return lock === null ? undefined : new Promise(() => {});
      });
    });
    if (taken) return true;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  return false;
}

async function canStore() {
  try {
    await navigator.storage.getDirectory();
    return true;
  } catch {
    return false;
  }
}

function stopHere(id, title, ...sentences) {
  recovery.started();
  globalThis.swLink.stop();
  recovery.full(id, title, sentences, [recovery.button("Try again", () => location.reload(), true)]);
}

async function persistence() {
  try {
    return (await navigator.storage.persisted()) || (await navigator.storage.persist());
  } catch {
    return false;
  }
}

async function run() {
  keepZoom();
  if (!(await canStore())) {
    stopHere("sw-no-store", "No room to keep records here",
      "This browser keeps no files in a private window, so nothing you enter would last.",
      "Open Swardwright in an ordinary window.");
    return;
  }
  if (!(await takeTheBook())) {
    stopHere("sw-second", "Swardwright is already open",
      "It is open in another tab or window, and only one at a time may write in your book.",
      "Close the other one, or go on there.");
    return;
  }
  const client = document.createElement("script");
  client.src = new URL("flutter_bootstrap.js", root);
  document.head.append(client);
  const facts = { known: known(), build: meta("sw-build"), hub: meta("sw-hub"), demo: asked.has("demo"), standalone:
    matchMedia("(display-mode: standalone)").matches || navigator.standalone === true };
  tell("go", { documentUrl: document.URL, facts: { ...facts, persisted: await navigator.storage.persisted().catch(() => false) } });
  persistence().then((persisted) => tell("facts", { facts: { persisted } }));

  await Promise.all([shown, firstFrame]);
  await frame();
  await frame();
  performance.mark("sw-first-control");
  document.getElementById("sw-splash")?.remove();
  recovery.started();
  makeSnapshotLater(meta("sw-build"));
}

addEventListener("online", () => tell("online"));
document.addEventListener("visibilitychange", () => { if (document.visibilityState === "visible") tell("visible"); });
addEventListener("pagehide", () => tell("close"));
// A page brought back from the browser's memory has a book that was closed on leaving: start afresh.
addEventListener("pageshow", (event) => { if (event.persisted) location.reload(); });

watchUpdates({ tell, started: Promise.all([shown, firstFrame]), build: meta("sw-build") });
run().catch((error) => recovery.show(error));

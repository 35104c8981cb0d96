// The stored copy of the app. Every build has its own address, b/<build>/, and its own cache, so two builds are never
// mixed; a pointer says which build the next launch gets. A build is stored whole or not at all.

const BUILD = "{{build}}";
const FILES = {{files}}; // [path, sha256, bytes, engine or ""]

const ENGINE = new URL(self.location).searchParams.get("engine");
const SCOPE = new URL(self.registration.scope);
const STORE = `swardwright ${SCOPE.pathname} `;
const cacheOf = (build) => `${STORE}build ${build}`;
const wanted = FILES.filter(([, , , engine]) => !engine || engine === ENGINE);
const address = (path) => new URL(path, SCOPE).href;

async function note(name) {
  const found = await (await caches.open(`${STORE}notes`)).match(address(`notes/${name}`));
  return found ? found.text() : "";
}

async function writeNote(name, text) {
  await (await caches.open(`${STORE}notes`)).put(address(`notes/${name}`), new Response(text));
}

async function tellPages(message) {
  for (const page of await self.clients.matchAll({ includeUncontrolled: true, type: "window" })) page.postMessage(message);
}

async function sameBytes(bytes, sha256) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return Array.from(digest, (b) => b.toString(16).padStart(2, "0")).join("") === sha256;
}

// The file from an older stored build when it has not changed, else from the server; checked either way.
async function obtain(path, sha256, older) {
  const reused = await older?.match(address(`same/${sha256}`));
  if (reused) {
    const kept = await older.match(await reused.text());
    if (kept) {
      const bytes = await kept.clone().arrayBuffer();
      if (await sameBytes(bytes, sha256)) return kept;
    }
  }
  for (const cache of ["default", "reload"]) {
    const response = await fetch(address(path), { cache, credentials: "same-origin" });
    if (!response.ok) throw new Error(`${path}: ${response.status}`);
    const bytes = await response.arrayBuffer();
    if (await sameBytes(bytes, sha256)) {
      // Without the transfer's own headers: what is stored is the plain file.
      return new Response(bytes, { headers: { "Content-Type": response.headers.get("Content-Type") || "" } });
    }
  }
  throw new Error(`${path}: not the file this build was made with`);
}

async function store() {
  await writeNote("incoming", BUILD);
  const current = await note("current");
  const older = current && current !== BUILD ? await caches.open(cacheOf(current)) : null;
  const cache = await caches.open(cacheOf(BUILD));
  const total = wanted.reduce((sum, [, , bytes]) => sum + bytes, 0);
  let done = 0;
  const queue = [...wanted];
  const fetcher = async () => {
    for (let next = queue.shift(); next; next = queue.shift()) {
      const [path, sha256, bytes] = next;
      await cache.put(address(path), await obtain(path, sha256, older));
      await cache.put(address(`same/${sha256}`), new Response(address(path)));
      done += bytes;
      await tellPages({ swardwright: "stored", done, total, build: BUILD });
    }
  };
  try {
    await Promise.all([fetcher(), fetcher(), fetcher(), fetcher()]);
  } catch (error) {
    queue.length = 0;
    await caches.delete(cacheOf(BUILD));
    throw error;
  }
  if (!current) await self.skipWaiting();
}

// The older build stays stored until this one has started once: see "started".
async function takeOver() {
  const current = await note("current");
  if (current !== BUILD) {
    await writeNote("previous", current);
    await writeNote("current", BUILD);
  }
  await self.clients.claim();
  if (current && current !== BUILD) await tellPages({ swardwright: "switched" });
}

async function goBack() {
  const previous = await note("previous");
  if (!previous || !(await caches.has(cacheOf(previous)))) return;
  await writeNote("current", previous);
  await writeNote("previous", "");
  await tellPages({ swardwright: "switched" });
}

// The build that runs has proved itself: everything but it and one still arriving may go.
async function started(build) {
  if (build !== (await note("current"))) return;
  await writeNote("previous", "");
  const keep = [cacheOf(build), cacheOf(await note("incoming")), `${STORE}notes`];
  for (const name of await caches.keys()) {
    if (name.startsWith(`${STORE}build `) && !keep.includes(name)) await caches.delete(name);
  }
  const snapshots = await caches.open(`${STORE}snapshots`);
  for (const { url } of await snapshots.keys()) if (!url.startsWith(address(`b/${build}/`))) await snapshots.delete(url);
}

async function answer(request) {
  const url = new URL(request.url);
  const path = url.pathname.slice(SCOPE.pathname.length);
  const named = /^b\/([^/]+)\//.exec(path);
  const build = named ? named[1] : await note("current");
  const page = request.mode === "navigate" && (path === "" || path === "index.html");
  const wantedFile = page ? address(`b/${build}/index.html`) : address(path);
  if (build && (await caches.has(cacheOf(build)))) {
    const stored = await (await caches.open(cacheOf(build))).match(wantedFile);
    if (stored) return stored;
  }
  return fetch(request);
}

self.addEventListener("install", (event) => event.waitUntil(store()));
self.addEventListener("activate", (event) => event.waitUntil(takeOver()));
self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method === "GET" && request.url.startsWith(SCOPE.href)) event.respondWith(answer(request));
});
self.addEventListener("message", (event) => {
  const { swardwright: kind, build } = event.data || {};
  if (kind === "take-over") event.waitUntil(self.skipWaiting());
  if (kind === "started") event.waitUntil(started(build));
  if (kind === "go-back") event.waitUntil(goBack());
  if (kind === "builds?") {
    event.waitUntil((async () => event.source.postMessage({ swardwright: "builds", previous: await note("previous") }))());
  }
});

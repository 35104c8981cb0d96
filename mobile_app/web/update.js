// The page's side of the service worker: the stored copy of the app, its headway on the first visit, its updates.

const { button } = globalThis.swRecovery;
const HOUR_MS = 3600000;

function canRunWasm() {
  const blink = navigator.vendor === "Google Inc." || navigator.userAgent.includes("Edg/");
  const garbageCollected = WebAssembly.validate(new Uint8Array([0, 97, 115, 109, 1, 0, 0, 0, 1, 5, 1, 95, 1, 120, 0]));
  const canvas = document.createElement("canvas");
  return blink && garbageCollected && typeof ImageDecoder !== "undefined" && typeof Intl.v8BreakIterator !== "undefined"
    && typeof Intl.Segmenter !== "undefined" && Boolean(canvas.getContext("webgl2") ?? canvas.getContext("webgl"));
}

/** Which of the two compiled clients this browser runs, by the questions that the client's own loader asks. */
export const engine = canRunWasm() ? "wasm" : "script";

export function megabytes(count) {
  return (count / 1e6).toFixed(1);
}

function offer(apply) {
  if (document.getElementById("sw-update")) return;
  const strip = document.createElement("div");
  strip.id = "sw-update";
  strip.className = "sw-strip";
  strip.setAttribute("role", "status");
  const text = document.createElement("span");
  text.textContent = "Update ready";
  strip.append(text, button("Use it now", apply, true), button("Later", () => strip.remove()));
  document.body.append(strip);
}

// On a first visit, after the first page: the app is being kept for use without a signal.
function storing({ done, total }) {
  let line = document.getElementById("sw-storing");
  if (!line) {
    line = document.createElement("div");
    line.id = "sw-storing";
    line.className = "sw-strip sw-low";
    line.setAttribute("role", "status");
    document.body.append(line);
  }
  line.textContent = `Keeping the app on this phone: ${megabytes(done)} of ${megabytes(total)} MB`;
  if (done === total) line.remove();
}

/** Registers the service worker and offers what it finds. `started` settles when this build shows its first page. */
export function watchUpdates({ tell, started, build }) {
  const worker = navigator.serviceWorker;
  const update = { ready: false, canGoBack: false, apply: () => {}, goBack: () => {}, engine };
  globalThis.swUpdate = update;
  if (!worker) return;
  let agreed = false;
  let lastLook = Date.now();

  const ask = (target, message) => target?.postMessage(message);
  const found = (registration) => {
    update.ready = true;
    update.apply = () => {
      agreed = true;
      tell("close");
      ask(registration.waiting, { swardwright: "take-over" });
    };
    tell("update-ready");
    started.then(() => offer(update.apply));
  };
  update.goBack = () => {
    agreed = true;
    ask(worker.controller, { swardwright: "go-back" });
  };

  worker.addEventListener("message", ({ data }) => {
    if (data.swardwright === "stored" && data.build === build) storing(data);
    if (data.swardwright === "switched" && agreed) location.reload();
    if (data.swardwright === "builds") update.canGoBack = Boolean(data.previous) && data.previous !== build;
  });

  // A first visit stores the app after its first page is up: the two would only slow each other down.
  const turn = worker.controller ? Promise.resolve() : started;
  const url = new URL(`sw.js?engine=${engine}`, document.baseURI);
  const scope = new URL(".", document.baseURI).pathname;
  turn.then(() => worker.register(url, { scope, updateViaCache: "none" })).then((registration) => {
    const watch = (installing) => installing?.addEventListener("statechange", () => {
      if (installing.state === "installed" && registration.active && registration.waiting) found(registration);
    });
    if (registration.waiting && registration.active) found(registration);
    watch(registration.installing);
    registration.addEventListener("updatefound", () => watch(registration.installing));
    ask(registration.active, { swardwright: "builds?" });
    started.then(async () => {
      ask((await worker.ready).active, { swardwright: "started", build });
      registration.update().catch(() => {});
    });
    document.addEventListener("visibilitychange", () => {
      if (document.visibilityState === "visible" && Date.now() - lastLook > HOUR_MS) {
        lastLook = Date.now();
        registration.update().catch(() => {});
      }
    });
  }).catch((error) => console.error("The app could not be stored for use without a signal:", error));
}

// The page's safety net: a classic script, loaded first, so that it works even when no module does.
// A start that makes no headway for a minute, or a worker that dies, ends here and never in a frozen picture.
(() => {
  "use strict";
  const PATIENCE_MS = Number(new URLSearchParams(location.search).get("patience")) || 60000;
  let timer = null;
  let running = true;

  function element(tag, text, className) {
    const made = document.createElement(tag);
    if (text) made.textContent = text;
    if (className) made.className = className;
    return made;
  }

  function button(label, action, main) {
    const made = element("button", label, main ? "sw-button sw-main" : "sw-button");
    made.type = "button";
    made.addEventListener("click", action);
    return made;
  }

  function full(id, title, sentences, buttons) {
    document.getElementById("sw-splash")?.remove();
    document.getElementById(id)?.remove();
    const sheet = element("div", "", "sw-full");
    sheet.id = id;
    sheet.setAttribute("role", "alert");
    sheet.append(element("h1", title), ...sentences.map((s) => (typeof s === "string" ? element("p", s) : s)), ...buttons);
    (document.body || document.documentElement).append(sheet);
    buttons[0]?.focus();
    return sheet;
  }

  async function* books(folder) {
    for await (const handle of folder.values()) {
      if (handle.kind === "directory") yield* books(handle);
      else if (handle.name.startsWith("book.")) yield handle;
    }
  }

  function download(name, blob) {
    const link = element("a");
    link.href = URL.createObjectURL(blob);
    link.download = name;
    document.body.append(link);
    link.click();
    link.remove();
    setTimeout(() => URL.revokeObjectURL(link.href), 60000);
  }

  // Reads the store's files straight from the page: Python may be the very thing that does not start.
  async function exportRecords(say) {
    let found = 0;
    try {
      for await (const handle of books(await navigator.storage.getDirectory())) {
        download(`swardwright-${handle.name}`, await handle.getFile());
        found += 1;
      }
      say(found ? `${found} file(s) of records saved to this phone.` : "No records have been stored on this phone.");
    } catch (error) {
      say(`The records could not be read: ${error.message}`);
    }
  }

  // Removes what can be downloaded again. The records live elsewhere and are not touched.
  async function clearBuild(say) {
    try {
      for (const name of await caches.keys()) if (name.startsWith("swardwright")) await caches.delete(name);
      for (const registration of await navigator.serviceWorker.getRegistrations()) {
        if (document.baseURI.startsWith(registration.scope)) await registration.unregister();
      }
      location.reload();
    } catch (error) {
      say(`The stored copy of the app could not be cleared: ${error.message}`);
    }
  }

  function show(reason) {
    if (document.getElementById("sw-recovery")) return;
    running = false;
    clearTimeout(timer);
    console.error(`Swardwright did not start: ${reason}`);
    globalThis.swLink?.stop();
    const note = element("p", "", "sw-detail");
    note.setAttribute("aria-live", "polite");
    const say = (text) => { note.textContent = text; };
    const buttons = [
      button("Try again", () => location.reload(), true),
      button("Save my records to this phone", () => exportRecords(say)),
      button("Clear the stored copy of the app", () => clearBuild(say)),
    ];
    if (globalThis.swUpdate?.canGoBack) {
      buttons.splice(1, 0, button("Go back to the version before", () => globalThis.swUpdate.goBack()));
    }
    full("sw-recovery", "Swardwright did not start", [
      "Your records are still on this phone. Try again first; if that does not help, save your records, " +
        "then clear the stored copy of the app and open it again with a signal. Clearing never removes records.",
      element("p", String(reason).trim().split("\n").at(-1).slice(0, 300), "sw-detail"),
      note,
    ], buttons);
  }

  // Called at every sign of headway: bytes arrived, a step was reached.
  function alive() {
    if (!running) return;
    clearTimeout(timer);
    timer = setTimeout(() => show("There was no headway for a minute."), PATIENCE_MS);
  }

  function started() {
    running = false;
    clearTimeout(timer);
  }

  // A file of our own that cannot be loaded means there is no start: say so at once.
  addEventListener("error", (event) => {
    const source = event.target?.src;
    if (running && source && source.startsWith(location.origin)) show(`A part of the app is missing: ${source}`);
  }, true);

  // The same for what the client's loader fetches and compiles: it leaves its failure to nobody.
  addEventListener("unhandledrejection", ({ reason }) => {
    const broken = reason instanceof TypeError || reason instanceof WebAssembly.CompileError
      || reason instanceof WebAssembly.LinkError;
    if (running && broken) show(`A part of the app is missing or broken: ${reason.message}`);
  });

  globalThis.swRecovery = { show, alive, started, full, button, exportRecords, download };
  alive();
})();

// Hands a file from Python to the person: share, or save. A sheet of our own with real buttons, because a phone
// opens its share sheet only in answer to a fresh tap.

const { button, download } = globalThis.swRecovery;

/** A file name that no file system minds: no folders, no control or reserved characters, not hidden, not endless. */
export function safeName(name) {
  const cleaned = String(name).normalize("NFC").replace(/[\u0000-\u001f\u007f\u200e\u200f\u202a-\u202e\u2066-\u2069]/g, "")
    .replace(/[\\/:*?"<>|]+/g, "-").replace(/\s+/g, " ").replace(/^[.\s-]+|[.\s]+$/g, "");
  if (!cleaned) return "file";
  const dot = cleaned.lastIndexOf(".");
  const ending = dot > 0 && cleaned.length - dot <= 8 ? cleaned.slice(dot) : "";
  return [...cleaned.slice(0, cleaned.length - ending.length)].slice(0, 80).join("").trim() + ending;
}

function close() {
  document.getElementById("sw-sheet")?.remove();
  document.getElementById("sw-veil")?.remove();
}

/** Shows the sheet for one file: `{name, mime, bytes, title}`. */
export function offerFile({ name, mime, bytes, title }) {
  close();
  const file = new File([bytes], safeName(name), { type: mime });
  const sheet = document.createElement("div");
  sheet.id = "sw-sheet";
  sheet.className = "sw-sheet";
  sheet.setAttribute("role", "dialog");
  sheet.setAttribute("aria-modal", "true");
  sheet.setAttribute("aria-label", title || file.name);
  const heading = document.createElement("p");
  heading.textContent = `${title ? `${title}: ` : ""}${file.name} (${Math.max(1, Math.round(file.size / 1024))} KB)`;
  const note = document.createElement("p");
  note.setAttribute("role", "status");
  const buttons = [
    button("Save to this phone", () => {
      download(file.name, file);
      note.textContent = "Saved with your downloads.";
    }),
    button("Close", close),
  ];
  if (navigator.canShare?.({ files: [file] })) {
    buttons.unshift(button("Share…", async () => {
      try {
        await navigator.share({ files: [file], title: title || file.name });
        close();
      } catch (error) {
        if (error.name !== "AbortError") note.textContent = "Sharing did not work here. Save it instead.";
      }
    }, true));
  }
  sheet.append(heading, note, ...buttons);
  // Keys pressed in the sheet are the sheet's, not the client's beneath it.
  for (const kind of ["keydown", "keyup", "keypress"]) sheet.addEventListener(kind, (event) => event.stopPropagation());
  sheet.addEventListener("keydown", (event) => { if (event.key === "Escape") close(); });
  const veil = document.createElement("div");
  veil.id = "sw-veil";
  veil.className = "sw-veil";
  veil.addEventListener("click", close);
  document.body.append(veil, sheet);
  buttons[0].focus();
}

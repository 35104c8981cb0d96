// Lets the person choose files or take a photo, for Python: "pick-files" {accept, camera, many, words} in,
// tell("files", {files}) back.
// The files go over as they are; their bytes stay with the browser until somebody reads them.

import { tell } from "./link.js";

const { button } = globalThis.swRecovery;
let asking = null;

function answer(files) {
  asking?.remove();
  asking = null;
  tell("files", { files: [...files] });
}

function ask(wanted) {
  asking?.remove();
  const input = document.createElement("input");
  input.type = "file";
  input.accept = wanted.accept;
  input.hidden = true;
  input.multiple = wanted.many;
  if (wanted.camera) input.setAttribute("capture", "environment");
  input.addEventListener("change", () => answer(input.files));
  input.addEventListener("cancel", () => answer([]));
  asking = input;
  document.body.append(input);
  input.click();
}

// A browser opens its chooser, or the camera, only in answer to a fresh tap. When the tap has grown stale on its way
// through Python, it is asked for again, by a real button of the page.
function askAgain(wanted) {
  const sheet = document.createElement("div");
  const veil = document.createElement("div");
  const close = () => { sheet.remove(); veil.remove(); };
  const leave = () => { close(); answer([]); };
  sheet.className = "sw-sheet";
  veil.className = "sw-veil";
  sheet.setAttribute("role", "dialog");
  sheet.setAttribute("aria-modal", "true");
  sheet.setAttribute("aria-label", wanted.words);
  const go = button(wanted.words, () => { close(); ask(wanted); }, true);
  sheet.append(go, button("Not now", leave));
  veil.addEventListener("click", leave);
  document.body.append(veil, sheet);
  sheet.querySelector("button").focus();
}

/** Asks for files: `accept` as an input's, one from the camera, or many at a time; `words` for the button. */
export function pickFiles(wanted) {
  if (navigator.userActivation && !navigator.userActivation.isActive) askAgain(wanted);
  else ask(wanted);
}

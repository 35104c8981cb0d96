// Takes photos, or lets the person choose some, for Python: "pick-photos" {camera} in, tell("photos", {files}) back.
// The files go over as they are; their bytes stay with the browser until somebody reads them.

import { tell } from "./link.js";

const { button } = globalThis.swRecovery;
let asking = null;

function answer(files) {
  asking?.remove();
  asking = null;
  tell("photos", { files: [...files] });
}

function ask(camera) {
  asking?.remove();
  const input = document.createElement("input");
  input.type = "file";
  input.accept = "image/*";
  input.hidden = true;
  if (camera) input.setAttribute("capture", "environment");
  else input.multiple = true;
  input.addEventListener("change", () => answer(input.files));
  input.addEventListener("cancel", () => answer([]));
  asking = input;
  document.body.append(input);
  input.click();
}

// A phone opens its camera only in answer to a fresh tap. When the tap has grown stale on its way through Python,
// it is asked for again, by a real button of the page.
function askAgain(camera) {
  const sheet = document.createElement("div");
  const veil = document.createElement("div");
  const close = () => { sheet.remove(); veil.remove(); };
  const leave = () => { close(); answer([]); };
  sheet.className = "sw-sheet";
  veil.className = "sw-veil";
  sheet.setAttribute("role", "dialog");
  sheet.setAttribute("aria-modal", "true");
  sheet.setAttribute("aria-label", "Photo");
  const go = button(camera ? "Open the camera" : "Choose photos", () => { close(); ask(camera); }, true);
  sheet.append(go, button("Not now", leave));
  veil.addEventListener("click", leave);
  document.body.append(veil, sheet);
  sheet.querySelector("button").focus();
}

/** Asks for photos: `{camera}` is "yes" for one from the camera, "" for any number that are there already. */
export function pickPhotos({ camera }) {
  if (navigator.userActivation && !navigator.userActivation.isActive) askAgain(camera === "yes");
  else ask(camera === "yes");
}

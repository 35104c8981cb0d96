// The phone's motion sensor, for counting steps. Python's worker can't see it, so the window forwards samples:
// tell("motion", { samples }) with time [s] and acceleration on three axes [m/s²], one after the other, ten times a
// second; or tell("motion", { state }) with "absent" or "denied".

import { tell } from "./link.js";

const { button } = globalThis.swRecovery;
const EVERY_MS = 100;
const PATIENCE_MS = 3000;
let samples = [];
let timer = null;
let patience = null;

function take(event) {
  const a = event.accelerationIncludingGravity;
  if (!a || a.x === null || a.y === null || a.z === null) return; // a computer without a sensor sends one such event
  clearTimeout(patience);
  samples.push(event.timeStamp / 1000, a.x, a.y, a.z);
}

function send() {
  if (samples.length) tell("motion", { samples: new Float64Array(samples.splice(0)) });
}

function listen() {
  stopMotion();
  addEventListener("devicemotion", take);
  timer = setInterval(send, EVERY_MS);
  patience = setTimeout(() => refuse("absent"), PATIENCE_MS);
}

function refuse(state) {
  stopMotion();
  tell("motion", { state });
}

/** Stops listening. */
export function stopMotion() {
  removeEventListener("devicemotion", take);
  clearInterval(timer);
  clearTimeout(patience);
  samples = [];
}

// Some phones give their motion only in answer to a fresh tap, so the question needs a real button of the page.
function ask() {
  const sheet = document.createElement("div");
  const veil = document.createElement("div");
  const close = () => { sheet.remove(); veil.remove(); };
  const answer = async () => {
    let granted = false;
    try {
      granted = (await DeviceMotionEvent.requestPermission()) === "granted";
    } catch (error) {
      console.warn(`Motion: ${error.message}`);
    }
    close();
    if (granted) listen();
    else refuse("denied");
  };
  const leave = () => { close(); refuse("denied"); };
  sheet.className = "sw-sheet";
  veil.className = "sw-veil";
  sheet.setAttribute("role", "dialog");
  sheet.setAttribute("aria-modal", "true");
  sheet.setAttribute("aria-label", "Motion sensor");
  const words = document.createElement("p");
  words.textContent = "To count your steps the app reads the phone's motion while you walk. Nothing of it is kept.";
  sheet.append(words, button("Use the motion sensor", answer, true), button("Not now", leave));
  veil.addEventListener("click", leave);
  document.body.append(veil, sheet);
  sheet.querySelector("button").focus();
}

/** Starts forwarding samples, after asking where that is needed. */
export function startMotion() {
  if (!("DeviceMotionEvent" in globalThis)) refuse("absent");
  else if (typeof DeviceMotionEvent.requestPermission === "function") ask();
  else listen();
}

// After a start the long way: has a snapshot made in the background, so that the next start is the short way.

import { on, plainWanted, tell } from "./link.js";

const root = new URL(".", import.meta.url);
const QUIET_MS = 3000;
const TRIES = 2;
const FAILURES = "sw-snapshot-failures"; // "<build> <count>": a device on which it never works is left in peace

/** Makes one unless this start used one, the person wants none, or it failed twice with this build. */
export function makeSnapshotLater(build) {
  const [failedBuild, count] = (localStorage.getItem(FAILURES) || " 0").split(" ");
  const failures = failedBuild === build ? Number(count) : 0;
  if (plainWanted || globalThis.swLink.restored() || failures >= TRIES) return;
  on("modules", ({ modules }) => {
    const maker = new Worker(new URL("maker.js", root), { type: "module", name: "snapshot" });
    maker.onmessage = ({ data }) => {
      maker.terminate();
      if (data.failed) {
        console.warn(`No snapshot was stored: ${data.failed}`);
        localStorage.setItem(FAILURES, `${build} ${failures + 1}`);
      } else {
        performance.mark("sw-snapshot-made", { detail: data.made });
      }
    };
    maker.onerror = (event) => maker.onmessage({ data: { failed: event.message || "the maker stopped" } });
    maker.postMessage({ modules });
  });
  setTimeout(() => tell("modules?"), QUIET_MS);
}

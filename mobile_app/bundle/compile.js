// Run by Node.js at build time: node compile.js PYODIDE_FOLDER GIVEN.zip MADE.zip
// Compiles every module of the zip with the very Python that will run it, without docstrings and asserts.
// Pyodide's own modules keep their docstrings: its functions in C borrow them when they start.

const fs = require("node:fs");
const { pathToFileURL } = require("node:url");

const COMPILE = `
import zipfile
from importlib._bootstrap_external import _code_to_hash_pyc

with zipfile.ZipFile("/given.zip") as given, zipfile.ZipFile("/made.zip", "w") as made:
    for name in given.namelist():
        level = 0 if "/pyodide/" in name or "/_pyodide/" in name else 2
        code = compile(given.read(name), "/" + name, "exec", dont_inherit=True, optimize=level)
        # Never checked against a source: there is none.
        made.writestr(name, _code_to_hash_pyc(code, bytes(8), False))
`;

async function main([folder, given, made]) {
  const { loadPyodide } = await import(pathToFileURL(`${folder}/pyodide.mjs`).href);
  // A fixed seed: the same sources always give the same bytes.
  const python = await loadPyodide({ indexURL: folder, env: { HOME: "/home", PYTHONHASHSEED: "0" } });
  python.FS.writeFile("/given.zip", new Uint8Array(fs.readFileSync(given)));
  python.runPython(COMPILE);
  fs.writeFileSync(made, python.FS.readFile("/made.zip"));
}

main(process.argv.slice(2)).catch((error) => {
  console.error(error);
  process.exit(1);
});

// Lays a tar file out in Pyodide's memory. The files are views into the archive's own bytes, so nothing is copied.

const text = new TextDecoder();
const field = (block, from, length) => {
  const bytes = block.subarray(from, from + length);
  const end = bytes.indexOf(0);
  return text.decode(end < 0 ? bytes : bytes.subarray(0, end));
};

/** Writes every ordinary file of the ustar archive `bytes` under `home`. */
export function unpack(bytes, FS, home) {
  const folders = new Set();
  for (let at = 0; at + 512 <= bytes.length && bytes[at] !== 0;) {
    const header = bytes.subarray(at, at + 512);
    const prefix = field(header, 345, 155);
    const path = `${home}/${prefix ? `${prefix}/` : ""}${field(header, 0, 100)}`;
    const size = parseInt(field(header, 124, 12), 8);
    const folder = path.slice(0, path.lastIndexOf("/"));
    if (!folders.has(folder)) {
      FS.mkdirTree(folder);
      folders.add(folder);
    }
    FS.writeFile(path, bytes.subarray(at + 512, at + 512 + size), { canOwn: true });
    at += 512 + Math.ceil(size / 512) * 512;
  }
}

/** The engine as it lies in the page, unpacked by the browser. */

/** Printable characters that stand for no digit, as `package.rs` has them: 85 are left, and five hold four bytes. */
const NONE = "<>&'\"\\`${";

export async function unpack(): Promise<WebAssembly.Module> {
  const held = document.getElementById("engine");
  const bytes = unprinted(held?.textContent ?? "");
  held?.remove();
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
  // Compiled while it is unpacked.
  return WebAssembly.compileStreaming(new Response(stream, { headers: { "content-type": "application/wasm" } }));
}

function unprinted(text: string): Uint8Array<ArrayBuffer> {
  const digits = new Uint8Array(128);
  for (let code = 33, digit = 0; code < 127; code++) if (!NONE.includes(String.fromCharCode(code))) digits[code] = digit++;
  const bytes = new Uint8Array(Math.floor((text.length * 4) / 5));
  for (let from = 0, to = 0; from < text.length; from += 5, to += 4) {
    let value = 0;
    // Where fewer than five are left, the highest digit makes up for what was rounded down.
    for (let at = from; at < from + 5; at++) value = value * 85 + (at < text.length ? (digits[text.charCodeAt(at)] ?? 0) : 84);
    for (let at = 0; at < 4 && to + at < bytes.length; at++) bytes[to + at] = value / 2 ** (24 - 8 * at);
  }
  return bytes;
}

/** The engine as it lies in the page, unpacked. */

import { XzReadableStream } from "xz-decompress";

/** Printable characters that stand for no digit, as `package.rs` has them: 91 are left. */
const NONE = "<&\\";
/** Bits that two characters hold, and one that is left over. */
const PAIR = 13;
const ALONE = 5;

export async function unpack(): Promise<WebAssembly.Module> {
  const held = document.getElementById("engine");
  const bytes = unprinted(held?.textContent ?? "");
  held?.remove();
  const stream = new XzReadableStream(new Blob([bytes]).stream());
  // Compiled while it is unpacked.
  return WebAssembly.compileStreaming(new Response(stream, { headers: { "content-type": "application/wasm" } }));
}

function unprinted(text: string): Uint8Array<ArrayBuffer> {
  const digits = new Uint8Array(128);
  let count = 0;
  for (let code = 33; code < 127; code++) if (!NONE.includes(String.fromCharCode(code))) digits[code] = count++;
  const digit = (at: number) => digits[text.charCodeAt(at)] ?? 0;
  const pairs = text.length >> 1;
  const bytes = new Uint8Array((pairs * PAIR + (text.length % 2) * ALONE) >> 3);
  let [held, bits, to] = [0, 0, 0];
  const take = (value: number, more: number) => {
    held = (held << more) | value;
    for (bits += more; bits >= 8; held &= (1 << bits) - 1) bytes[to++] = held >> (bits -= 8);
  };
  for (let at = 0; at < pairs; at++) take(digit(2 * at) * count + digit(2 * at + 1), PAIR);
  if (text.length % 2) take(digit(text.length - 1), ALONE);
  return bytes;
}

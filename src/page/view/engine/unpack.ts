/** The engine as it lies in the page, unpacked by the browser. */

export async function unpack(): Promise<WebAssembly.Module> {
  const held = document.getElementById("engine");
  const packed = atob(held?.textContent ?? "");
  held?.remove();
  const bytes = new Uint8Array(packed.length);
  for (let at = 0; at < packed.length; at++) bytes[at] = packed.charCodeAt(at);
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
  // Compiled while it is unpacked.
  return WebAssembly.compileStreaming(new Response(stream, { headers: { "content-type": "application/wasm" } }));
}

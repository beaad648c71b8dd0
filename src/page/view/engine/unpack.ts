/** The engine as it lies in the page, unpacked by the browser. */

export async function unpack(): Promise<WebAssembly.Module> {
  const held = document.getElementById("engine");
  const packed = atob(held?.textContent ?? "");
  held?.remove();
  const bytes = Uint8Array.from(packed, (letter) => letter.charCodeAt(0));
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
  return WebAssembly.compile(await new Response(stream).arrayBuffer());
}

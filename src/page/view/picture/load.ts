/** A picture file as it is given. */

import type { Bridge } from "../engine/bridge";
import type { Picture } from "../state/doc";
import { words } from "../words";
import { png } from "./adjust";

/** First bytes of the files that the engine reads itself. */
const READ: number[][] = [
  [0xff, 0xd8, 0xff],
  [0x89, 0x50, 0x4e, 0x47],
  [0x47, 0x49, 0x46, 0x38],
  [0x42, 0x4d],
  [0x49, 0x49, 0x2a, 0],
  [0x4d, 0x4d, 0, 0x2a],
  [0x52, 0x49, 0x46, 0x46],
];

/** The longer side, in pixels, of what a phone's HEIC photo becomes: few browsers show one. */
const HEIC_SIDE = 2400;

/** Reads a file; one that only the engine or the browser reads becomes one that both read. */
export async function load(bridge: Bridge, file: Blob, name: string): Promise<Picture> {
  const bytes = new Uint8Array(await file.arrayBuffer());
  // The box `ftyp` of ISO/IEC 14496-12.
  if (String.fromCharCode(...bytes.subarray(4, 8)) !== "ftyp") return loadBytes(bytes, name);
  const { files } = await bridge.ask(() => ({ question: { picture: HEIC_SIDE }, picture: bytes, beside: tell(bytes) }));
  return loadBytes(files[0] ?? bytes, name);
}

export async function loadBytes(bytes: Uint8Array<ArrayBuffer>, name: string): Promise<Picture> {
  const known = READ.some((first) => first.every((byte, at) => bytes[at] === byte));
  const seen = await sides(bytes);
  // The engine may read what the browser does not, and has better words for what neither does.
  if (known) return { id: tell(bytes), name: cleaned(name), bytes, ...(seen ?? { width: 4, height: 3 }) };
  if (!seen) throw new Error(words.trouble.picture);
  const image = await createImageBitmap(new Blob([bytes]));
  const canvas = new OffscreenCanvas(image.width, image.height);
  canvas.getContext("2d")?.drawImage(image, 0, 0);
  image.close();
  const own = await png(canvas);
  return { id: tell(own), name: cleaned(name), bytes: own, width: canvas.width, height: canvas.height };
}

/** Width and height as the browser shows it, read off its head: a large picture is not unpacked for that. */
async function sides(bytes: Uint8Array<ArrayBuffer>): Promise<{ width: number; height: number } | null> {
  const address = URL.createObjectURL(new Blob([bytes]));
  const image = new Image();
  const loaded = new Promise<boolean>((done) => {
    image.onload = () => done(true);
    image.onerror = () => done(false);
  });
  image.src = address;
  const isRead = await loaded;
  URL.revokeObjectURL(address);
  return isRead && image.naturalWidth > 0 ? { width: image.naturalWidth, height: image.naturalHeight } : null;
}

/** Tells one picture from another: a sum over all its bytes (FNV-1a), and their number. */
export function tell(bytes: Uint8Array): string {
  let sum = 0x811c9dc5;
  for (const byte of bytes) sum = Math.imul(sum ^ byte, 0x01000193);
  return `${bytes.length}-${(sum >>> 0).toString(16)}`;
}

/** A name of one line that the engine takes. */
function cleaned(name: string): string {
  const line = name.replace(/[\p{C}\p{Zl}\p{Zp}]/gu, "").trim();
  return line.slice(0, 200) || "picture";
}

/** The picture as it is to be pieced: cropped, turned, straightened, lightened. */

import type { Look, Mask, Picture } from "../state/doc";

/** The longest side of a picture that was changed here. */
const LONGEST = 1600;

const isPlain = (look: Look) =>
  look.turns === 0 && look.tilt === 0 && look.light === 0 && look.contrast === 0 && look.colour === 0;

/** The picture's own bytes where nothing is changed but the crop; else those of a new one. */
export async function pictureBytes(
  picture: Picture,
  look: Look,
): Promise<{ bytes: Uint8Array; crop: string | null; id: string }> {
  const id = `${picture.id} ${JSON.stringify(look)}`;
  if (isPlain(look)) return { bytes: picture.bytes, crop: cropText(look, picture.width, picture.height), id };
  const canvas = await drawn(picture, look, LONGEST);
  const crop = cropText(look, canvas.width, canvas.height);
  return { bytes: await png(canvas), crop, id };
}

function cropText({ crop }: Look, width: number, height: number): string | null {
  if (!crop) return null;
  const left = Math.round((crop.left * width) / 10000);
  const top = Math.round((crop.top * height) / 10000);
  const across = Math.max(1, Math.min(width - left, Math.round((crop.width * width) / 10000)));
  const down = Math.max(1, Math.min(height - top, Math.round((crop.height * height) / 10000)));
  return `${left},${top},${across},${down}`;
}

/** The picture last drawn, no larger than is ever drawn: a large one is unpacked once. */
let last: { id: string; image: Promise<OffscreenCanvas> } | null = null;

function smaller({ id, bytes }: Picture): Promise<OffscreenCanvas> {
  if (last?.id !== id) last = { id, image: shrunk(bytes) };
  return last.image;
}

async function shrunk(bytes: Uint8Array<ArrayBuffer>): Promise<OffscreenCanvas> {
  const image = await createImageBitmap(new Blob([bytes]));
  const shrink = Math.min(1, LONGEST / Math.max(image.width, image.height));
  const canvas = new OffscreenCanvas(Math.max(1, Math.round(image.width * shrink)), Math.max(1, Math.round(image.height * shrink)));
  const context = canvas.getContext("2d");
  if (context) context.imageSmoothingQuality = "high";
  context?.drawImage(image, 0, 0, canvas.width, canvas.height);
  image.close();
  return canvas;
}

/** The whole picture turned, straightened and lightened; what a tilt bares is cut off by drawing it larger. */
export async function drawn(picture: Picture, look: Look, longest: number): Promise<OffscreenCanvas> {
  const image = await smaller(picture);
  const shrink = Math.min(1, longest / Math.max(image.width, image.height));
  const [width, height] = [image.width * shrink, image.height * shrink];
  const [across, down] = look.turns % 2 ? [height, width] : [width, height];
  const canvas = new OffscreenCanvas(Math.max(1, Math.round(across)), Math.max(1, Math.round(down)));
  const context = canvas.getContext("2d", { willReadFrequently: true });
  if (!context) return canvas;
  const angle = (look.tilt * Math.PI) / 180;
  const ratio = Math.max(across / down, down / across);
  const larger = Math.cos(Math.abs(angle)) + ratio * Math.sin(Math.abs(angle));
  context.imageSmoothingQuality = "high";
  context.translate(canvas.width / 2, canvas.height / 2);
  context.rotate((look.turns * Math.PI) / 2 + angle);
  context.scale(larger, larger);
  context.drawImage(image, -width / 2, -height / 2, width, height);
  lighten(context, canvas, look);
  return canvas;
}

/** Light, contrast and colour, dot by dot, so that every browser does the same. */
function lighten(context: OffscreenCanvasRenderingContext2D, canvas: OffscreenCanvas, look: Look): void {
  if (look.light === 0 && look.contrast === 0 && look.colour === 0) return;
  const data = context.getImageData(0, 0, canvas.width, canvas.height);
  const dots = data.data;
  const light = 2 ** (-look.light / 100);
  const contrast = 2 ** (look.contrast / 80);
  const colour = 1 + look.colour / 100;
  const curve = Uint8ClampedArray.from({ length: 256 }, (_, level) => {
    const lit = (level / 255) ** light;
    return ((lit - 0.5) * contrast + 0.5) * 255;
  });
  for (let at = 0; at < dots.length; at += 4) {
    const [r, g, b] = [curve[dots[at]!]!, curve[dots[at + 1]!]!, curve[dots[at + 2]!]!];
    const grey = 0.2126 * r + 0.7152 * g + 0.0722 * b;
    dots[at] = grey + (r - grey) * colour;
    dots[at + 1] = grey + (g - grey) * colour;
    dots[at + 2] = grey + (b - grey) * colour;
  }
  context.putImageData(data, 0, 0);
}

export async function png(canvas: OffscreenCanvas): Promise<Uint8Array<ArrayBuffer>> {
  const blob = await canvas.convertToBlob({ type: "image/png" });
  return new Uint8Array(await blob.arrayBuffer());
}

/** What matters, as a picture that is bright there. */
export async function maskBytes(mask: Mask): Promise<Uint8Array> {
  const canvas = new OffscreenCanvas(mask.width, mask.height);
  const context = canvas.getContext("2d");
  const data = new ImageData(mask.width, mask.height);
  mask.levels.forEach((level, at) => {
    // Middle grey weighs about plain.
    const grey = 90 + Math.round((level * 165) / 255);
    data.data.set([grey, grey, grey, 255], at * 4);
  });
  context?.putImageData(data, 0, 0);
  return png(canvas);
}

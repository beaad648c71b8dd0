/** A photograph of fabrics on a table, drawn for tests: prints side by side, a sheet of white paper, uneven light. */

import type { Page } from "playwright-core";

/** Base colours of the prints, from left to right, row by row (invented). */
export const COLOURS = ["#b5482f", "#e0b35c", "#34506e", "#6f8f63", "#d9c9a8", "#7a5a8c", "#2f6b66", "#c98f98"];
/** Where prints lie on the table in parts of it: left, top, width, height. */
export const PLACES = COLOURS.map((_, at) => [0.05 + 0.235 * (at % 4), at < 4 ? 0.06 : 0.5, 0.2, 0.38] as const);
/** The middle of the paper. */
export const PAPER = [0.5, 0.945] as const;

/** Draws them with these prints of `COLOURS`; the light falls off to the right. */
export async function photograph(page: Page, which: readonly number[], seed: number): Promise<Buffer> {
  const made = await page.evaluate(
    async ({ colours, striped, places, paper, seed }) => {
      const [width, height] = [1000, 750];
      const canvas = new OffscreenCanvas(width, height);
      const pen = canvas.getContext("2d")!;
      let state = seed;
      const dice = () => (state = (state * 1664525 + 1013904223) % 2 ** 32) / 2 ** 32;
      pen.fillStyle = "#8d7458";
      pen.fillRect(0, 0, width, height);
      for (let at = 0; at < 400; at++) {
        pen.fillStyle = `rgba(60,40,20,${0.05 * dice()})`;
        pen.fillRect(0, dice() * height, width, 1 + 3 * dice());
      }
      colours.forEach((colour, at) => {
        const [x, y, w, h] = places[at]!.map((part, side) => part * (side % 2 ? height : width)) as [number, number, number, number];
        pen.fillStyle = colour;
        pen.fillRect(x, y, w, h);
        // Narrow stripes, or dots, a little lighter or darker than the ground.
        for (let y2 = 4; striped[at] && y2 < h - 3; y2 += 9) {
          pen.fillStyle = "rgba(255,255,255,0.22)";
          pen.fillRect(x, y + y2, w, 3);
        }
        for (let spot = 0; !striped[at] && spot < 120; spot++) {
          pen.fillStyle = dice() > 0.5 ? "rgba(255,255,255,0.18)" : "rgba(0,0,0,0.18)";
          pen.beginPath();
          pen.arc(x + 5 + dice() * (w - 10), y + 5 + dice() * (h - 10), 4, 0, 7);
          pen.fill();
        }
      });
      pen.fillStyle = "#f2f2f2";
      pen.fillRect((paper[0] - 0.12) * width, (paper[1] - 0.04) * height, 0.24 * width, 0.08 * height);
      // Lamp light that falls off, and noise.
      const image = pen.getImageData(0, 0, width, height);
      for (let at = 0; at < image.data.length; at += 4) {
        const fall = 1 - 0.25 * (((at / 4) % width) / width);
        const noise = 6 * (dice() - 0.5);
        for (const [channel, warm] of [1, 0.93, 0.82].entries()) image.data[at + channel] = image.data[at + channel]! * fall * warm + noise;
      }
      pen.putImageData(image, 0, 0);
      const bytes = new Uint8Array(await (await canvas.convertToBlob({ type: "image/jpeg", quality: 0.92 })).arrayBuffer());
      return [...bytes];
    },
    { colours: which.map((at) => COLOURS[at] ?? ""), striped: which.map((at) => at % 2 === 1), places: which.map((_, at) => [...(PLACES[at] ?? [])]), paper: PAPER, seed },
  );
  return Buffer.from(made);
}

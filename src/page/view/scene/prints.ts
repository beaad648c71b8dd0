/** The prints as they were photographed, to fill patches with. */

import type { Fabric, Plan } from "built/rowscape";

import { element } from "./draw";

/** How wide a small picture is taken to show where nobody said (by eye). */
const USUAL = { inch: "5in", metric: "12cm" };

/** A pattern for each fabric that has a picture, mirrored from tile to tile so that no edge shows; none where none has. */
export function prints(plan: Plan, id: string): SVGDefsElement | null {
  const pictured = plan.fabrics.filter((fabric) => fabric.thumbnail);
  if (pictured.length === 0) return null;
  const defs = element("defs", {});
  for (const fabric of pictured) {
    const pattern = element("pattern", { id: `${id}-print-${fabric.letter}`, patternUnits: "userSpaceOnUse", width: 1, height: 1 });
    defs.append(pattern);
    void fill(pattern, fabric, plan);
  }
  return defs;
}

async function fill(pattern: SVGPatternElement, { thumbnail, swatch_width }: Fabric, plan: Plan): Promise<void> {
  const image = new Image();
  image.src = thumbnail ?? "";
  await image.decode();
  const width = inches(swatch_width ?? USUAL[plan.request.ruler]) / inches(plan.request.grid);
  const height = (width * image.naturalHeight) / image.naturalWidth;
  pattern.setAttribute("width", String(2 * width));
  pattern.setAttribute("height", String(2 * height));
  for (const [across, down] of [[0, 0], [1, 0], [0, 1], [1, 1]] as const) {
    const turned = `translate(${across * 2 * width},${down * 2 * height}) scale(${across ? -1 : 1},${down ? -1 : 1})`;
    // A hair too large, so that nothing shows between two.
    pattern.append(element("image", { href: image.src, width: width * 1.002, height: height * 1.002, preserveAspectRatio: "none", transform: turned }));
  }
}

/** A length as it is written in plans, for showing alone. */
const inches = (length: string): number => parseFloat(length) / (length.endsWith("cm") ? 2.54 : length.endsWith("mm") ? 25.4 : 1);

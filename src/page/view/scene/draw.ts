/** A plan as shapes: one polygon a patch, with the same `data-unit` as in the files. */

import type { Fabric, Plan } from "built/rowscape";

import { words } from "../words";
import { cells, placed } from "./layout";
import type { Placed } from "./layout";

export const SVG = "http://www.w3.org/2000/svg";

export function element<K extends keyof SVGElementTagNameMap>(
  name: K,
  attributes: Record<string, string | number>,
): SVGElementTagNameMap[K] {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, String(value));
  return made;
}

export const points = (outline: readonly (readonly [number, number])[]) => outline.map(([x, y]) => `${x},${y}`).join(" ");

/** A fabric's colour as the page paints it; anything else is no colour. */
export const paint = (colour: string): string => (/^#[0-9a-f]{6}$/i.test(colour) ? colour : "#888888");

/** Black or white, whichever reads on it. */
export function ink(colour: string): string {
  const level = (at: number) => (parseInt(paint(colour).slice(at, at + 2), 16) / 255) ** 2.2;
  return 0.2126 * level(1) + 0.7152 * level(3) + 0.0722 * level(5) > 0.2 ? "#111111" : "#ffffff";
}

export interface Drawn {
  units: SVGGElement;
  seams: SVGPathElement;
  letters: SVGGElement;
  prints: SVGGElement;
  hatching: SVGGElement;
  addresses: SVGGElement;
}

const spoken = ({ unit }: Placed, names: Map<string, Fabric>): string => {
  const fabrics = unit.patches.map((patch) => `${patch.fabric} ${names.get(patch.fabric)?.name ?? ""}`.trim());
  return words.scene.unit(unit.address, unit.kind, fabrics.join(words.scene.and), words.scene.states[unit.state]);
};

/** Everything that changes with the plan alone. */
export function draw(plan: Plan, all: readonly Placed[], id: string): Drawn {
  const fabrics = new Map(plan.fabrics.map((fabric) => [fabric.letter, fabric]));
  const units = element("g", { class: "units" });
  const letters = element("g", { class: "letters", "aria-hidden": "true" });
  const addresses = element("g", { class: "addresses", "aria-hidden": "true" });
  const prints = element("g", { class: "prints", "aria-hidden": "true" });
  const hatching = element("g", { class: "hatching", "aria-hidden": "true" });
  let outlines = "";
  for (const at of all) {
    const { unit } = at;
    const group = element("g", { id: `${id}-${unit.address}`, role: "option", "aria-selected": "false", "data-unit": unit.address });
    group.setAttribute("aria-label", spoken(at, fabrics));
    for (const patch of unit.patches) {
      const colour = paint(fabrics.get(patch.fabric)?.colour ?? "");
      const shape = { points: points(patch.outline), fill: colour, stroke: colour };
      group.append(element("polygon", { ...shape, "data-unit": unit.address, "data-kind": unit.kind, "data-fabric": patch.fabric }));
      outlines += `M${patch.outline.map(([x, y]) => `${x},${y}`).join("L")}Z`;
      const [x, y] = middle(patch.outline);
      const size = Math.min(2.2, Math.sqrt(area(patch.outline)) / 3);
      const letter = element("text", { x, y, "font-size": size, fill: ink(colour) });
      letter.textContent = patch.fabric;
      letters.append(letter);
      if (fabrics.get(patch.fabric)?.thumbnail) prints.append(element("polygon", { points: shape.points, fill: `url(#${id}-print-${patch.fabric})` }));
      hatching.append(element("polygon", { points: shape.points, fill: `url(#${id}-hatch-${patch.fabric})` }));
    }
    units.append(group);
    const address = element("text", {
      x: at.x + at.width / 2,
      y: at.y + at.height / 2,
      "font-size": Math.min(1.6, at.width / 4, at.height / 2),
    });
    address.textContent = unit.address;
    addresses.append(address);
  }
  const seams = element("path", { d: outlines, class: "seams" });
  return { units, prints, seams, letters, hatching, addresses };
}

export function middle(outline: readonly (readonly [number, number])[]): [number, number] {
  const sum = outline.reduce(([x, y], [px, py]) => [x + px, y + py], [0, 0] as [number, number]);
  return [sum[0] / outline.length, sum[1] / outline.length];
}

function area(outline: readonly (readonly [number, number])[]): number {
  let twice = 0;
  outline.forEach(([x, y], at) => {
    const [nx, ny] = outline[(at + 1) % outline.length]!;
    twice += x * ny - nx * y;
  });
  return Math.abs(twice) / 2;
}

/** Lines of one lean and distance for each fabric, so that no two that touch need be told apart by colour alone. */
export function hatches(plan: Plan, id: string): SVGDefsElement {
  const defs = element("defs", {});
  plan.fabrics.forEach(({ letter, colour }, at) => {
    const turn = [45, 135, 0, 90, 22, 112, 67, 157][at % 8]!;
    const step = 1 + (Math.floor(at / 8) % 3) * 0.6;
    const pattern = element("pattern", {
      id: `${id}-hatch-${letter}`,
      width: step,
      height: step,
      patternUnits: "userSpaceOnUse",
      patternTransform: `rotate(${turn})`,
    });
    pattern.append(element("line", { x1: 0, y1: 0, x2: 0, y2: step, stroke: ink(paint(colour)), "stroke-width": 0.12 }));
    defs.append(pattern);
  });
  return defs;
}

/** A small picture of a plan, for strips and sheets. */
export function small(plan: Plan): SVGSVGElement {
  const [width, height] = cells(plan);
  const svg = element("svg", { viewBox: `0 0 ${width} ${height}`, class: "small", "aria-hidden": "true", "shape-rendering": "crispEdges" });
  const colours = new Map(plan.fabrics.map((fabric) => [fabric.letter, paint(fabric.colour)]));
  // One path for each fabric: quick to lay and to paint.
  const paths = new Map<string, string>();
  for (const { unit } of placed(plan)) {
    for (const { fabric, outline } of unit.patches) {
      paths.set(fabric, `${paths.get(fabric) ?? ""}M${outline.map(([x, y]) => `${x},${y}`).join("L")}Z`);
    }
  }
  for (const [letter, d] of paths) svg.append(element("path", { d, fill: colours.get(letter) ?? "#888888" }));
  return svg;
}

/** The picture as the plan holds it, a dot for each cell. */
export function pixels(plan: Plan): HTMLCanvasElement {
  const [width, height] = cells(plan);
  const canvas = document.createElement("canvas");
  [canvas.width, canvas.height] = [width, height];
  const data = new ImageData(width, height);
  plan.picture.forEach((row, y) => {
    for (let x = 0; x < width; x++) {
      const colour = parseInt(row.slice(x * 6, x * 6 + 6), 16);
      data.data.set([colour >> 16, (colour >> 8) & 255, colour & 255, 255], (y * width + x) * 4);
    }
  });
  canvas.getContext("2d")?.putImageData(data, 0, 0);
  return canvas;
}

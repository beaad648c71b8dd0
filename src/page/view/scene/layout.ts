/** Where each unit of a plan stands, in cells. */

import type { Plan, UnitFile } from "built/rowscape";

export interface Placed {
  unit: UnitFile;
  x: number;
  y: number;
  width: number;
  height: number;
}

export function placed(plan: Plan): Placed[] {
  const all: Placed[] = [];
  let top = 0;
  for (const band of plan.bands) {
    let left = 0;
    for (const column of band.columns) {
      let y = top;
      for (const row of column.rows) {
        let x = left;
        for (const unit of row.units) {
          all.push({ unit, x, y, width: unit.width, height: row.height });
          x += unit.width;
        }
        y += row.height;
      }
      left += column.width;
    }
    top += band.height;
  }
  return all;
}

/** Columns and rows of cells. */
export function cells(plan: Plan): [number, number] {
  const width = plan.bands[0]?.columns.reduce((sum, column) => sum + column.width, 0) ?? 1;
  return [width, plan.bands.reduce((sum, band) => sum + band.height, 0)];
}

export type Way = "left" | "right" | "up" | "down";

/** The next unit that way: the nearest that lies beyond the edge, beside the middle first. */
export function beside(all: readonly Placed[], from: Placed, way: Way): Placed | null {
  const [x, y] = [from.x + from.width / 2, from.y + from.height / 2];
  const across = way === "left" || way === "right";
  const ahead = (to: Placed) => {
    if (way === "left") return from.x - (to.x + to.width);
    if (way === "right") return to.x - (from.x + from.width);
    if (way === "up") return from.y - (to.y + to.height);
    return to.y - (from.y + from.height);
  };
  const aside = (to: Placed) => {
    const [start, length, middle] = across ? [to.y, to.height, y] : [to.x, to.width, x];
    return Math.max(0, start - middle, middle - (start + length));
  };
  let best: Placed | null = null;
  let least = Infinity;
  for (const to of all) {
    if (ahead(to) < 0) continue;
    const far = ahead(to) + 3 * aside(to);
    if (far < least) [best, least] = [to, far];
  }
  return best;
}

/** Her fabrics in photographs, as they are held until they are a stash: plain values. */

import type { Amid, Asked, Found, Point, Swatch, Twin } from "built/rowscape";

import type { Picture } from "./doc";

/** What she marked in a photograph. */
export type Marked = Required<Asked>;

/** A print of a photograph, with what she says of it. */
export interface Print {
  swatch: Swatch;
  /** Why it is not more certain and what to do, the worst first. */
  doubts: string[];
  /** Empty where it is called as proposed. */
  name: string;
  /** Pieces of it; none where it is counted as all are. */
  count: number | null;
}

/** A photograph. */
export interface Photo {
  picture: Picture;
  /** What she marked in it, and before each time that she did. */
  asked: Marked;
  past: Marked[];
  found: Found | null;
  prints: Print[];
}

/** What there is of each print. */
export type Kind = "none" | "large" | "small" | "pack" | "quarters" | "length";

/** All photographs together. */
export interface Table {
  photos: Photo[];
  /** The one that is looked at. */
  at: number;
  kind: Kind;
  /** Pieces of each, quarters of a length, or squares in all of a pack. */
  each: number;
  /** How wide what is seen of each really is, empty where she does not say. */
  wide: string;
  twins: Twin[];
  /** Pairs that she said are two fabrics after all. */
  two: string[];
}

export const BARE: Table = { photos: [], at: 0, kind: "none", each: 1, wide: "", twins: [], two: [] };

export function around({ outline }: Swatch): Amid {
  const [xs, ys] = [outline.map(({ x }) => x), outline.map(({ y }) => y)];
  return { from: { x: Math.min(...xs), y: Math.min(...ys) }, to: { x: Math.max(...xs), y: Math.max(...ys) } };
}

export function middle(swatch: Swatch): Point {
  const { from, to } = around(swatch);
  return { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 };
}

/** The swatch that a place of the photograph lies in, the smallest where they overlap. */
export function within(photo: Photo, { x, y }: Point): number | null {
  const size = (at: number) => {
    const swatch = photo.prints[at]?.swatch;
    if (!swatch) return 1;
    const { from, to } = around(swatch);
    return (to.x - from.x) * (to.y - from.y);
  };
  const inside = (outline: Point[]) => {
    let odd = false;
    outline.forEach((a, at) => {
      const b = outline[(at + 1) % outline.length] ?? a;
      if (a.y > y !== b.y > y && x < ((b.x - a.x) * (y - a.y)) / (b.y - a.y) + a.x) odd = !odd;
    });
    return odd;
  };
  const all = photo.prints.map((_, at) => at).filter((at) => inside(photo.prints[at]?.swatch.outline ?? []));
  return all.sort((a, b) => size(a) - size(b))[0] ?? null;
}

/** Every fabric once: where it lies in photographs, its first place first. */
export function joined({ photos, twins, two }: Table): [number, number][][] {
  const all = photos.flatMap((photo, at) => photo.prints.map((_, print): [number, number] => [at, print]));
  const groups = new Map(all.map((at) => [at.join("-"), [at]]));
  for (const { one, other } of twins) {
    const [a, b] = [groups.get(one.join("-")), groups.get(other.join("-"))];
    if (!a || !b || a === b || two.includes([...one, ...other].join("-"))) continue;
    const both = [...a, ...b];
    for (const at of both) groups.set(at.join("-"), both);
  }
  return [...new Set(groups.values())];
}

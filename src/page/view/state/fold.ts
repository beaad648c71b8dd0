/** Everything in one file: a zip of the picture, the plan, what is asked for, and the history. */

import { deflateSync, inflateSync, strFromU8, strToU8, unzipSync, zipSync } from "fflate";
import type { Zippable } from "fflate";
import type { Fabric, Plan } from "built/rowscape";

import { words } from "../words";
import { tell } from "../picture/load";
import { EMPTY, FRESH, PLAIN, planOf } from "./doc";
import type { Asked, Crop, Doc, Look, Mask, Picture } from "./doc";
import type { Entry } from "./history";
import { readTicks, written } from "./ticks";
import type { Tick, Ticks } from "./ticks";

const VERSION = 2;
/** The version of a file without ticks, which older pages read as well. */
const UNTICKED = 1;
/** Steps of undo that a file holds. */
const STEPS = 30;
/** Most bytes that a file unpacks to. */
const MOST = 400_000_000;

/** What a step is without its picture, which is named. */
interface Folded {
  name: string;
  picture: string | null;
  pictureName: string;
  sides: [number, number];
  look: Look;
  mask: string | null;
  maskSides: [number, number];
  asked: Asked;
  stash: string | null;
  stashName: string;
  fabrics: Fabric[] | null;
  without: string[];
  locked: string[];
  handed: boolean;
  quilt: string;
  /** The file of its plan, packed. */
  plan: string | null;
}

/** Plans that were packed before. */
const packed = new WeakMap<Plan, Uint8Array<ArrayBuffer>>();

/** A document without its scene, which lies packed beside it. */
export function pack(doc: Doc): Doc {
  const plan = planOf(doc);
  return plan ? { ...doc, shown: null, folded: packedPlan(plan) } : doc;
}

function packedPlan(plan: Plan): Uint8Array<ArrayBuffer> {
  const known = packed.get(plan);
  if (known) return known;
  const made = deflateSync(strToU8(JSON.stringify(plan)), { level: 4 }) as Uint8Array<ArrayBuffer>;
  packed.set(plan, made);
  return made;
}

/** The text of a plan that was packed. */
export const unpacked = (bytes: Uint8Array): string => strFromU8(inflateSync(bytes));

export function fold(doc: Doc, past: readonly Entry<Doc>[], ticks: Ticks = new Map()): Uint8Array<ArrayBuffer> {
  const files: Zippable = {};
  const one = (doc: Doc, name: string, at: number): Folded => {
    const { picture, mask } = doc;
    const { folded } = pack(doc);
    const plan = folded && `steps/${at}`;
    if (plan) files[plan] = [folded, { level: 0 }];
    if (picture) files[`pictures/${picture.id}`] = [picture.bytes, { level: 0 }];
    if (mask) files[`focus/${mask.id}`] = mask.levels;
    return {
      name,
      picture: picture?.id ?? null,
      pictureName: picture?.name ?? "",
      sides: [picture?.width ?? 0, picture?.height ?? 0],
      look: doc.look,
      mask: mask?.id ?? null,
      maskSides: [mask?.width ?? 0, mask?.height ?? 0],
      asked: doc.asked,
      stash: doc.stash,
      stashName: doc.stashName,
      fabrics: doc.fabrics,
      without: doc.without,
      locked: doc.locked,
      handed: doc.handed,
      quilt: doc.quilt,
      plan,
    };
  };
  const steps = [...past.slice(-STEPS).map((entry, at) => one(entry.doc, entry.name, at)), one(doc, "", STEPS)];
  files["page.json"] = strToU8(JSON.stringify({ format: "rowscape-page", version: ticks.size > 0 ? VERSION : UNTICKED, steps }));
  if (ticks.size > 0) files["ticks.json"] = strToU8(written(ticks));
  const plan = planOf(doc);
  if (plan) files["plan.json"] = strToU8(`${JSON.stringify(plan, null, 2)}\n`);
  if (doc.stash !== null) files["stash.toml"] = strToU8(doc.stash);
  return zipSync(files, { level: 6 }) as Uint8Array<ArrayBuffer>;
}

export interface Unfolded {
  doc: Doc;
  /** The plan that it shows, yet to be checked by the engine. */
  plan: string | null;
  past: Entry<Doc>[];
  /** Ticks of its steps. */
  ticks: Ticks;
  /** What could not be read. */
  dropped: string[];
}

/** Reads a file warily: every field is checked and has its default. */
export function unfold(bytes: Uint8Array): Unfolded {
  let sum = 0;
  const files = unzipSync(bytes, { filter: ({ originalSize }) => (sum += originalSize) <= MOST });
  const dropped: string[] = [];
  const text = (name: string) => (files[name] ? strFromU8(files[name]) : null);
  const plan = text("plan.json");
  const page = text("page.json");
  if (page === null) {
    if (plan === null) throw new Error(words.trouble.kind);
    return { doc: { ...EMPTY, handed: true, quilt: tell(strToU8(plan)) }, plan, past: [], ticks: new Map(), dropped };
  }
  const read = parsed(page);
  if (!isObject(read) || read["format"] !== "rowscape-page") throw new Error(words.trouble.kind);
  if (typeof read["version"] !== "number" || read["version"] > VERSION) throw new Error(words.trouble.newer);
  const steps = Array.isArray(read["steps"]) ? read["steps"].filter(isObject) : [];
  const last = steps.at(-1);
  if (!last) throw new Error(words.trouble.kind);
  const doc = whole(last, files, dropped);
  // Scenes of the past stay packed until they are gone back to: only what the engine has checked is shown.
  const past = steps.slice(0, -1).slice(-STEPS).map((step) => ({
    doc: whole(step, files, dropped),
    name: typeof step["name"] === "string" ? step["name"].slice(0, 100) : "",
  }));
  // A file of a page that knew no ticks is always the same quilt.
  const quilt = doc.quilt || tell(strToU8(plan ?? page));
  const told = text("ticks.json");
  const ticks = told === null ? new Map<string, Tick>() : readTicks(parsed(told));
  if (!ticks) dropped.push(words.machine.ticks);
  return { doc: { ...doc, quilt, folded: null }, plan, past, ticks: ticks ?? new Map(), dropped: [...new Set(dropped)] };
}

function whole(step: Record<string, unknown>, files: Record<string, Uint8Array>, dropped: string[]): Doc {
  return {
    picture: picture(step, files, dropped),
    look: look(step["look"]),
    mask: mask(step, files),
    asked: asked(step["asked"]),
    stash: typeof step["stash"] === "string" ? step["stash"] : null,
    stashName: typeof step["stashName"] === "string" ? step["stashName"].slice(0, 200) : "",
    fabrics: Array.isArray(step["fabrics"]) ? step["fabrics"].filter(isFabric) : null,
    without: letters(step["without"]),
    locked: letters(step["locked"]),
    handed: step["handed"] !== false,
    quilt: typeof step["quilt"] === "string" && /^[\w-]{1,80}$/.test(step["quilt"]) ? step["quilt"] : "",
    shown: null,
    folded: typeof step["plan"] === "string" ? ((files[step["plan"]] as Uint8Array<ArrayBuffer> | undefined) ?? null) : null,
  };
}

const letters = (given: unknown): string[] => (Array.isArray(given) ? given.filter((one) => typeof one === "string") : []);

function picture(step: Record<string, unknown>, files: Record<string, Uint8Array>, dropped: string[]): Picture | null {
  if (typeof step["picture"] !== "string") return null;
  const bytes = files[`pictures/${step["picture"]}`] as Uint8Array<ArrayBuffer> | undefined;
  if (!bytes) {
    dropped.push("picture");
    return null;
  }
  const [width, height] = pair(step["sides"]);
  const name = typeof step["pictureName"] === "string" ? step["pictureName"].slice(0, 200) : "picture";
  return { id: tell(bytes), name, bytes, width, height };
}

function mask(step: Record<string, unknown>, files: Record<string, Uint8Array>): Mask | null {
  if (typeof step["mask"] !== "string") return null;
  const levels = files[`focus/${step["mask"]}`] as Uint8Array<ArrayBuffer> | undefined;
  const [width, height] = pair(step["maskSides"]);
  return levels && levels.length === width * height ? { id: tell(levels), width, height, levels } : null;
}

export function asked(given: unknown): Asked {
  const read = isObject(given) ? given : {};
  const text = (key: string) => (typeof read[key] === "string" ? read[key].slice(0, 40) : null);
  const number = (key: string, usual: number, least: number, most: number) => {
    const value = read[key];
    return typeof value === "number" && Number.isInteger(value) ? Math.min(most, Math.max(least, value)) : usual;
  };
  const isSquare = (one: unknown): one is { cut: string; quartered: boolean } =>
    isObject(one) && typeof one["cut"] === "string" && typeof one["quartered"] === "boolean";
  const squares = Array.isArray(read["squares"]) ? read["squares"].filter(isSquare).slice(0, 20) : null;
  return {
    ruler: read["ruler"] === "metric" ? "metric" : "inch",
    width: text("width"),
    height: text("height"),
    largest: false,
    squares: squares?.map(({ cut, quartered }) => ({ cut, quartered })) ?? null,
    seam: text("seam"),
    colours: number("colours", FRESH.colours, 2, 60),
    detail: number("detail", FRESH.detail, 10, 2000),
    triangles: number("triangles", FRESH.triangles, 10, 2000),
    depth: read["depth"] === "rows" ? "rows" : "bands",
    seed: number("seed", FRESH.seed, 0, 2 ** 31),
    straighten: read["straighten"] !== false,
    title: typeof read["title"] === "string" ? read["title"].slice(0, 200) : "",
    trims: number("trims", FRESH.trims, 10, 2000),
    quiet: number("quiet", FRESH.quiet, 10, 2000),
    thrift: number("thrift", FRESH.thrift, 0, 2000),
    pressing: read["pressing"] === "open" ? "open" : "side",
    rowEnds: read["rowEnds"] === "spare" ? "spare" : "exact",
    cutSquares: read["cutSquares"] === true,
    margin: typeof read["margin"] === "number" ? number("margin", 0, 0, 100) : null,
    clothWidth: text("clothWidth"),
    // What it holds the engine checks.
    finish: isObject(read["finish"]) ? read["finish"] : {},
  };
}

function look(given: unknown): Look {
  const read = isObject(given) ? given : {};
  const number = (key: string, most: number) => {
    const value = read[key];
    return typeof value === "number" && Number.isFinite(value) ? Math.min(most, Math.max(-most, value)) : 0;
  };
  const turns = ((Math.round(number("turns", 4)) % 4) + 4) % 4;
  const { light, contrast, colour } = { light: number("light", 100), contrast: number("contrast", 100), colour: number("colour", 100) };
  return { ...PLAIN, crop: crop(read["crop"]), turns, tilt: number("tilt", 15), light, contrast, colour };
}

function crop(given: unknown): Crop | null {
  if (!isObject(given)) return null;
  const part = (key: string) => {
    const value = given[key];
    return typeof value === "number" && Number.isFinite(value) ? Math.min(10000, Math.max(0, value)) : 0;
  };
  const [left, top] = [part("left"), part("top")];
  const [width, height] = [Math.min(part("width"), 10000 - left), Math.min(part("height"), 10000 - top)];
  return width > 0 && height > 0 ? { left, top, width, height } : null;
}

/** What else a fabric holds the engine checks. */
const isFabric = (value: unknown): value is Fabric =>
  isObject(value) && ["letter", "name", "family", "colour"].every((key) => typeof value[key] === "string");

const isObject = (value: unknown): value is Record<string, unknown> =>
  typeof value === "object" && value !== null && !Array.isArray(value);

function pair(value: unknown): [number, number] {
  const [width, height] = Array.isArray(value) ? value : [];
  const side = (value: unknown) => (typeof value === "number" && Number.isInteger(value) && value > 0 ? value : 1);
  return [side(width), side(height)];
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

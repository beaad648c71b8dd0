/** Changes of the fabrics, by hand. */

import type { Fabric, Supply } from "built/rowscape";

import { words } from "../words";
import { planOf } from "./doc";
import type { Store } from "./store";

/** Makes other fabrics of those that the scene has; what can stay stays. What she chose herself is locked. */
export function edit(store: Store, name: string, made: (fabrics: Fabric[]) => Fabric[], own: string | null = null, key?: string): Promise<boolean> {
  const now = planOf(store.state.doc)?.fabrics ?? [];
  const fabrics = made(now);
  return store.change({
    name,
    ...(key === undefined ? {} : { key }),
    where: "fabrics",
    next: (doc) => ({ ...doc, fabrics, locked: own === null ? doc.locked : [...new Set([...doc.locked, own])] }),
    plan: (doc) => {
      const plan = planOf(doc);
      return plan && { ...plan, fabrics };
    },
    change: () => ({ stay: 100 }),
  });
}

export const patch = (store: Store, letter: string, patch: Partial<Fabric>) =>
  edit(
    store,
    words.steps.fabric,
    (fabrics) => fabrics.map((fabric) => (fabric.letter === letter ? { ...fabric, ...patch } : fabric)),
    letter,
    `fabric ${letter} ${Object.keys(patch).join(" ")}`,
  );

export const move = (store: Store, letter: string, by: number) =>
  edit(store, words.steps.fabric, (fabrics) => {
    const from = fabrics.findIndex((fabric) => fabric.letter === letter);
    const to = Math.min(fabrics.length - 1, Math.max(0, from + by));
    const others = fabrics.filter((fabric) => fabric.letter !== letter);
    const one = fabrics[from];
    return one ? [...others.slice(0, to), one, ...others.slice(to)] : fabrics;
  });

/** Does without a fabric. */
export const drop = (store: Store, letter: string) =>
  store.change({
    name: words.steps.drop,
    where: "fabrics",
    next: (doc) => ({
      ...doc,
      without: [...new Set([...doc.without, letter])],
      fabrics: doc.fabrics ?? planOf(doc)?.fabrics ?? null,
    }),
    change: () => ({}),
  });

/** Makes all of a fabric of another. */
export const merge = (store: Store, now: string, then: string) =>
  store.change({
    name: words.steps.exchange,
    where: "fabrics",
    next: (doc) => ({
      ...doc,
      without: [...new Set([...doc.without, now])],
      fabrics: doc.fabrics ?? planOf(doc)?.fabrics ?? null,
    }),
    change: () => ({ changes: [{ Exchange: { part: "all", now, then } }], without: [] }),
  });

/** One fabric becomes two, a lighter and a darker, and the scene is composed again of both. */
export const split = (store: Store, letter: string) => {
  const made = (fabrics: Fabric[]) => {
    const one = fabrics.find((fabric) => fabric.letter === letter);
    if (!one) return fabrics;
    const { fabrics: said } = words;
    const light = { ...one, name: said.light(one.name), family: said.light(one.name), colour: shade(one.colour, 0.28) };
    const dark = { ...one, letter: free(fabrics), name: said.dark(one.name), family: said.dark(one.name), colour: shade(one.colour, -0.28) };
    return [...fabrics.map((fabric) => (fabric === one ? light : fabric)), dark];
  };
  const now = planOf(store.state.doc)?.fabrics ?? [];
  const fabrics = made(now);
  return store.change({
    name: words.steps.fabric,
    where: "fabrics",
    next: (doc) => ({ ...doc, fabrics }),
    plan: (doc) => {
      const plan = planOf(doc);
      return plan && { ...plan, fabrics };
    },
    change: () => ({ stay: 30 }),
  });
};

/** A fabric more. */
export function more(fabrics: readonly Fabric[]): Fabric {
  const letter = free(fabrics);
  const names = new Set(fabrics.map((fabric) => fabric.name));
  let name = words.fabrics.newName;
  for (let at = 2; names.has(name); at++) name = `${words.fabrics.newName} ${at}`;
  return { letter, name, family: name, colour: "#b08d57" };
}

export const add = (store: Store) => {
  const one = more(planOf(store.state.doc)?.fabrics ?? []);
  return edit(store, words.steps.fabric, (fabrics) => [...fabrics, one], one.letter);
};

/** Locks a fabric, so that it stays as it is when others are proposed, or lets it go. */
export function lock(store: Store, letter: string): void {
  const { doc } = store.state;
  const isLocked = doc.locked.includes(letter);
  const locked = isLocked ? doc.locked.filter((one) => one !== letter) : [...doc.locked, letter];
  store.commit({ ...doc, locked }, isLocked ? words.steps.unlock : words.steps.lock);
}

/** Composes the scene afresh in these fabrics, or in those that the picture proposes beside the locked ones. */
export const compose = (store: Store, fabrics: Fabric[] | null, name: string) =>
  store.change({
    name,
    topic: "compose",
    where: "fabrics",
    next: (doc) => ({
      ...doc,
      fabrics,
      without: [],
      locked: fabrics?.map(({ letter }) => letter) ?? doc.locked,
      stash: null,
      stashName: "",
    }),
  });

/** The first letter that none has. */
export function free(fabrics: readonly Fabric[]): string {
  const used = new Set(fabrics.map((fabric) => fabric.letter));
  for (let at = 0; ; at++) {
    const letter = (at >= 26 ? String.fromCharCode(64 + Math.floor(at / 26)) : "") + String.fromCharCode(65 + (at % 26));
    if (!used.has(letter)) return letter;
  }
}

function shade(colour: string, by: number): string {
  const level = (at: number) => {
    const value = parseInt(colour.slice(at, at + 2), 16);
    const made = by > 0 ? value + (255 - value) * by : value * (1 + by);
    return Math.round(made).toString(16).padStart(2, "0");
  };
  return `#${level(1)}${level(3)}${level(5)}`;
}

/** What is counted by a few taps, as it is sold. */
export const SOLD = {
  inch: { large: "10in", small: "5in", width: "42in", unit: "in", long: 36 },
  metric: { large: "25cm", small: "12cm", width: "110cm", unit: "cm", long: 100 },
} as const;

export const NO_SUPPLY: Supply = { squares: [], yardage: [], fat_quarters: 0, oddments: [] };

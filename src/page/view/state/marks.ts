/** Marks and wishes for the units that are taken. */

import type { Change, State as Mark } from "built/rowscape";

import { words } from "../words";
import { planOf, unitsOf } from "./doc";
import { agree } from "./machine";
import type { Store } from "./store";

const taken = (store: Store): string[] => [...store.state.taken];

function changed(store: Store, name: string, changes: Change[]): Promise<boolean> {
  return store.change({ name, where: "pieces", next: (doc) => doc, change: () => ({ changes }) });
}

export const mark = async (store: Store, state: Mark) => {
  const { keep: kept, free, cut, sewn } = words.steps;
  const names = { kept, free, cut, sewn };
  const units = taken(store);
  if (await changed(store, names[state], units.map((at) => ({ Mark: [at, state] })))) await agree(store, units, state === "sewn");
};

/** Units that were spoilt or lost are made once more, or something else takes their place. */
export const spoilt = async (store: Store) => {
  const units = taken(store);
  if (await changed(store, words.steps.spoilt, units.map((at): Change => ({ Lost: at })))) await agree(store, units, false);
};

/** Turned by a quarter; where only half a turn keeps its size, by that. */
export const turn = (store: Store) => {
  const at = taken(store)[0] ?? "";
  const units = unitsOf(planOf(store.state.doc));
  const isWhole = units.find((unit) => unit.address === at)?.kind.includes(" ") === false;
  return changed(store, words.steps.turnUnit, [{ Turn: [at, isWhole ? 1 : 2] }]);
};

export const filler = (store: Store, letter: string | null = null) =>
  changed(store, words.steps.filler, taken(store).map((at) => ({ Filler: [at, letter] })));

export const whole = (store: Store) => changed(store, words.steps.whole, taken(store).map((at) => ({ Whole: at })));

/** One fabric for another, in what is taken or everywhere. */
export const exchange = (store: Store, now: string, then: string) => {
  const parts = store.state.taken.size > 0 ? taken(store) : ["all"];
  const shows = (part: string) => part === "all" || showing(store, part).includes(now);
  const changes = parts.filter(shows).map((part): Change => ({ Exchange: { part, now, then } }));
  return changed(store, words.steps.exchange, changes);
};

function showing(store: Store, at: string): string[] {
  const units = unitsOf(planOf(store.state.doc));
  return units.find((unit) => unit.address === at)?.patches.map((patch) => patch.fabric) ?? [];
}

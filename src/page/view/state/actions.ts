/** What can be done, as one list: menus, keys and tests all use it. */

import { placed } from "../scene/layout";
import { words } from "../words";
import { planOf } from "./doc";
import type { Store } from "./store";
import { go, leave, tick, view } from "./machine";
import { filler, mark, spoilt, turn, whole } from "./marks";

export interface Action {
  id: string;
  words: (store: Store) => string;
  /** As `ctrl+z`; ctrl stands for the command key too. */
  key?: string;
  /** Another key for the same. */
  also?: string;
  allowed: (store: Store) => boolean;
  run: (store: Store) => void;
}

const atMachine = ({ state }: Store) => state.screen === "machine";
const atStep = (store: Store) => atMachine(store) && store.state.machine.view === "step";
const hasScene = (store: Store) => planOf(store.state.doc) !== null;
const hasTaken = (store: Store) => store.state.taken.size > 0;
/** Whether some unit that is taken is a triangle unit, and whether some is no whole one. */
const hasTriangle = (store: Store) => takenUnits(store).some(({ triangle }) => triangle);
const hasPart = (store: Store) => takenUnits(store).some(({ triangle }) => triangle?.cut !== "whole");
const hasOne = (store: Store) => store.state.taken.size === 1;

const takenUnits = ({ state }: Store) => {
  const plan = planOf(state.doc);
  return (plan ? placed(plan) : []).map(({ unit }) => unit).filter(({ address }) => state.taken.has(address));
};

export const actions: readonly Action[] = [
  {
    id: "undo",
    words: ({ state }) => {
      const last = state.history.past.at(-1);
      return last ? words.top.undoWhat(last.name) : words.top.undo;
    },
    key: "ctrl+z",
    allowed: (store) => store.state.history.past.length > 0 && !atMachine(store),
    run: (store) => store.undo(),
  },
  {
    id: "redo",
    words: ({ state }) => {
      const next = state.history.future[0];
      return next ? words.top.redoWhat(next.name) : words.top.redo;
    },
    key: "ctrl+y",
    allowed: (store) => store.state.history.future.length > 0 && !atMachine(store),
    run: (store) => store.redo(),
  },
  { id: "keep", words: () => words.pieces.keep, key: "k", allowed: hasTaken, run: (store) => void mark(store, "kept") },
  { id: "free", words: () => words.pieces.free, key: "f", allowed: hasTaken, run: (store) => void mark(store, "free") },
  { id: "cut", words: () => words.pieces.cut, key: "c", allowed: hasTaken, run: (store) => void mark(store, "cut") },
  { id: "sewn", words: () => words.pieces.sewn, key: "s", allowed: hasTaken, run: (store) => void mark(store, "sewn") },
  { id: "spoilt", words: () => words.pieces.spoilt, key: "x", allowed: hasTaken, run: (store) => void spoilt(store) },
  { id: "turn", words: () => words.pieces.turn, key: "t", allowed: (store) => hasOne(store) && hasTriangle(store), run: (store) => void turn(store) },
  { id: "filler", words: () => words.pieces.filler, key: "l", allowed: hasTriangle, run: (store) => void filler(store) },
  { id: "whole", words: () => words.pieces.whole, key: "w", allowed: (store) => hasOne(store) && hasPart(store), run: (store) => void whole(store) },
  { id: "tick", words: () => words.machine.tick, key: "enter", also: " ", allowed: atStep, run: (store) => void tick(store) },
  { id: "back", words: () => words.machine.back, key: "arrowleft", allowed: atStep, run: (store) => go(store, -1) },
  { id: "next", words: () => words.machine.next, key: "arrowright", allowed: atStep, run: (store) => go(store, 1) },
  { id: "all", words: () => words.machine.all, key: "a", allowed: atStep, run: (store) => view(store, "all") },
  { id: "wrong", words: () => words.machine.wrong, key: "e", allowed: atStep, run: (store) => view(store, "wrong") },
  { id: "leave", words: () => words.machine.close, key: "escape", allowed: atMachine, run: leave },
  {
    id: "nothing",
    words: () => words.pieces.nothing,
    key: "escape",
    allowed: hasTaken,
    run: (store) => store.set({ taken: new Set() }),
  },
  {
    id: "keys",
    words: () => words.keys.title,
    key: "?",
    allowed: (store) => hasScene(store) && !atMachine(store),
    run: (store) => store.set({ screen: store.state.screen === "keys" ? "page" : "keys" }),
  },
];

export const action = (id: string): Action => {
  const found = actions.find((action) => action.id === id);
  if (!found) throw new Error(`no action ${id}`);
  return found;
};

/** Does what a key stands for; whether it stands for anything. */
export function press(store: Store, event: KeyboardEvent): boolean {
  const ctrl = event.ctrlKey || event.metaKey;
  if (event.altKey) return false;
  const letter = event.key.toLowerCase();
  const pressed = ctrl && letter === "z" && event.shiftKey ? "ctrl+y" : (ctrl ? "ctrl+" : "") + letter;
  const found = actions.find((action) => (action.key === pressed || action.also === pressed) && action.allowed(store));
  // A key that is held down ticks once, and a button that has the focus is pressed by its own keys.
  const isButton = event.target instanceof Element && event.target.closest("button, summary, a, select, [role=listbox]") !== null;
  if (!found || event.repeat && found.id === "tick" || isButton && /^( |enter)$/.test(pressed)) return false;
  found.run(store);
  return true;
}

/** At the machine: which step is shown, what is ticked, and what to do where something went wrong. */

import type { Change as Wish, ReviseBrief, StepShown } from "built/rowscape";

import { words } from "../words";
import { planOf, unitsOf } from "./doc";
import { IDLE } from "./machine-model";
import type { Machine } from "./machine-model";
import { pace, rates } from "./pace";
import type { Pace } from "./pace";
import { differing } from "./store";
import type { State, Store } from "./store";
import { doneKeys } from "./ticks";
import type { Tick } from "./ticks";

/** Chapters that join. */
export const JOINS: ReadonlySet<string> = new Set(["rows", "columns", "bands", "top"]);
/** Two taps within this, in milliseconds, are one that bounced. */
const BOUNCE = 120;

export const isDone = ({ ticks }: Pick<State, "ticks">, step: StepShown): boolean => ticks.get(step.key)?.done ?? step.made;

export const visible = ({ machine }: State): StepShown[] =>
  (machine.steps?.steps ?? []).filter((step) => machine.fabric === null || step.fabrics.includes(machine.fabric));

export const current = (state: State): StepShown | null => state.machine.steps?.steps.find(({ key }) => key === state.machine.at) ?? null;

const put = (store: Store, patch: Partial<Machine>) => store.set({ machine: { ...store.state.machine, ...patch } });

/** How far she is: what was ticked and is no more in the list counts as done. */
export function progress(state: State, steps: readonly StepShown[] = state.machine.steps?.steps ?? []): [number, number] {
  const done = steps.filter((step) => isDone(state, step)).length;
  if (steps !== state.machine.steps?.steps) return [done, steps.length];
  const listed = new Set(steps.map(({ key }) => key));
  const past = doneKeys(state.ticks).filter((key) => !listed.has(key)).length;
  return [done + past, steps.length + past];
}

/** How long the rest takes. */
export function rest(state: State): Pace | null {
  const steps = state.machine.steps?.steps ?? [];
  return pace(ticked(state), steps.filter((step) => !isDone(state, step)));
}

/** Steps that were ticked, and when. */
const ticked = (state: State) =>
  (state.machine.steps?.steps ?? []).flatMap((step) => {
    const tick = state.ticks.get(step.key);
    return tick?.done ? [{ ...step, at: tick.at }] : [];
  });

/** Units that are in a seam that is sewn. */
export function sewn(state: State): Set<string> {
  const done = (state.machine.steps?.steps ?? []).filter((step) => JOINS.has(step.chapter) && isDone(state, step));
  const all = unitsOf(planOf(state.doc));
  return new Set([...done.flatMap(({ units }) => units), ...all.filter((unit) => unit.state === "sewn").map(({ address }) => address)]);
}

/** Opens the steps where she was. */
export async function begin(store: Store): Promise<void> {
  store.set({ screen: "machine", taken: new Set(), machine: { ...IDLE } });
  await load(store);
}

/** Opens them if they were open when the page was closed, or fell. */
export async function resume(store: Store): Promise<void> {
  const place = await store.book.place(store.state.doc.quilt).catch(() => null);
  if (place?.open && planOf(store.state.doc)) await begin(store);
}

/** Asks for the steps of the scene as it is. */
export async function load(store: Store): Promise<void> {
  const plan = planOf(store.state.doc);
  if (!plan) return;
  const answered = await store.run(() => ({ question: { steps: plan } }), { what: words.machine.reading, plain: true, topic: "steps", where: "page" });
  if (!answered || !("steps" in answered.reply) || planOf(store.state.doc) !== plan) return;
  await store.ticked();
  const place = await store.book.place(store.state.doc.quilt).catch(() => null);
  const { steps } = answered.reply;
  put(store, { steps });
  const keys = new Set(steps.steps.map(({ key }) => key));
  const at = [store.state.machine.at, place?.at ?? null].find((key) => key !== null && keys.has(key));
  put(store, { at: at ?? null });
  const shown = current(store.state);
  // What is done already was ticked just before the page fell: on to what is to do.
  show(store, (shown && !isDone(store.state, shown) ? shown : next(store))?.key ?? steps.steps[0]?.key ?? null);
}

export function show(store: Store, at: string | null, told = ""): void {
  put(store, { at, view: "step", told, proposed: null });
  void store.book.keepPlace(store.state.doc.quilt, { at, open: true }).catch(() => undefined);
}

export function leave(store: Store): void {
  const { view, at } = store.state.machine;
  if (view !== "step") return put(store, { view: "step", proposed: null });
  void store.book.keepPlace(store.state.doc.quilt, { at, open: false }).catch(() => undefined);
  const known = rates(ticked(store.state));
  if (known) void store.book.keepRates(known.chapters).catch(() => undefined);
  store.set({ screen: "page" });
}

export const view = (store: Store, to: Machine["view"]) => put(store, { view: to });

/** The step so many before or after, of those that are shown. */
export function go(store: Store, by: 1 | -1): void {
  const steps = visible(store.state);
  const all = store.state.machine.steps?.steps ?? [];
  const now = all.findIndex(({ key }) => key === store.state.machine.at);
  const place = (step: StepShown) => all.indexOf(step);
  const to = by > 0 ? steps.find((step) => place(step) > now) : steps.findLast((step) => place(step) < now);
  if (to) show(store, to.key);
}

/** The next that is to do: after the one that is shown, or the first of all. */
function next(store: Store): StepShown | undefined {
  const { state } = store;
  const open = visible(state).filter((step) => !isDone(state, step));
  const all = state.machine.steps?.steps ?? [];
  const now = all.findIndex(({ key }) => key === state.machine.at);
  return open.find((step) => all.indexOf(step) > now) ?? open[0];
}

/** The first step of some that is to do, or the first. */
export function jump(store: Store, of: (step: StepShown) => boolean): void {
  const steps = (store.state.machine.steps?.steps ?? []).filter(of);
  const to = steps.find((step) => !isDone(store.state, step)) ?? steps[0];
  if (to) show(store, to.key);
}

/** Shows what uses one fabric alone, or all. */
export function only(store: Store, fabric: string | null): void {
  put(store, { fabric });
  const { state } = store;
  const shown = current(state);
  if (shown && !visible(state).includes(shown)) jump(store, (step) => visible(state).includes(step));
}

/** Steps that a step is made of, and are done with it. */
export function within(state: State, step: StepShown): StepShown[] {
  const steps = state.machine.steps?.steps ?? [];
  const all = unitsOf(planOf(state.doc)).map(({ address }) => address);
  const holds = (at: string) => step.parts?.some((part) => (part.endsWith(".") ? at.startsWith(part) : at === part)) ?? false;
  const units = new Set(step.parts ? all.filter(holds) : step.chapter === "finish" ? all : step.units);
  const before = steps.slice(0, steps.indexOf(step));
  return before.filter((one) => one.units.length > 0 && one.units.every((at) => units.has(at)));
}

let last = 0;
let busy = false;

/** Ticks the step that is shown, with all that it is made of, and shows the next; or takes its tick back. */
export async function tick(store: Store): Promise<void> {
  const step = current(store.state);
  const now = Date.now();
  if (!step || busy || now - last < BOUNCE) return;
  [busy, last] = [true, now];
  try {
    const { machine: said } = words;
    if (isDone(store.state, step)) {
      await store.note([[step.key, { done: false, at: now }]]);
      return put(store, { told: said.untold(step.title) });
    }
    store.hand();
    const open = [...within(store.state, step), step].filter((one) => !isDone(store.state, one));
    await store.note(open.map(({ key }) => [key, { done: true, at: now }]));
    const more = open.length - 1;
    const to = next(store);
    show(store, to?.key ?? step.key, more > 0 ? said.with(more) : "");
  } finally {
    busy = false;
  }
}

/** What went wrong. */
export type Wrong = { lost: string } | { out: string } | { turned: string; by: number };

/** Asks what to do where something went wrong; nothing changes before it is taken. */
export async function ask(store: Store, wrong: Wrong): Promise<void> {
  const { state } = store;
  const plan = planOf(state.doc);
  const step = current(state);
  const steps = state.machine.steps?.steps ?? [];
  if (!plan || !step) return;
  const { machine: said } = words;
  const name = "lost" in wrong ? words.steps.spoilt : "out" in wrong ? words.steps.out : words.steps.turnUnit;
  const without = "out" in wrong ? [...new Set([...state.doc.without, wrong.out])] : state.doc.without;
  const change: ReviseBrief = { without, changes: wishes(wrong, step) };
  const ticks = await store.ticked();
  const asked = { what: said.asking, plain: true, topic: "wrong", where: "page" as const };
  const revised = await store.run(() => ({ question: { revise: { plan, change, ticks } } }), asked);
  if (!revised || !("scene" in revised.reply)) return;
  const shown = revised.reply.scene;
  const then = shown.answer.plan;
  const listed = await store.run(() => ({ question: { steps: then } }), asked);
  const took = await store.run(() => ({ question: { work: then } }), asked);
  const before = await store.run(() => ({ question: { work: plan } }), asked);
  if (!listed || !("steps" in listed.reply) || !took || !("work" in took.reply) || !before || !("work" in before.reply)) return;
  const at = "lost" in wrong ? wrong.lost : "turned" in wrong ? wrong.turned : null;
  const touching = steps.filter((one) => at !== null && JOINS.has(one.chapter) && one.units.includes(at));
  const sewn = touching.filter((one) => isDone(state, one));
  const fresh = listed.reply.steps.steps;
  const known = new Set(steps.map(({ key }) => key));
  // A scene that is begun asks for what is lacking now; of one that is not, what differs is said.
  const old = new Map(before.reply.work.buy.map((one) => [one.letter, one.words.join(", ")]));
  const buys = took.reply.work.buy.map((one) => [one.letter, one.words.join(", ")] as const);
  put(store, {
    view: "answer",
    proposed: {
      name,
      doc: { ...state.doc, without, shown },
      shown,
      steps: listed.reply.steps,
      changed: [...new Set([...differing(plan, then), ...(at === null ? [] : [at])])],
      buy: then.begun ? buys : buys.filter(([letter, what]) => old.get(letter) !== what),
      more: fresh.filter((one) => !known.has(one.key) && !one.made),
      unpick: "lost" in wrong ? sewn.filter((one) => one.parts) : [],
      ticks: retold(state, wrong, step, touching, fresh),
    },
  });
}

function wishes(wrong: Wrong, step: StepShown): Wish[] {
  if ("out" in wrong) return [];
  if ("lost" in wrong) return [{ Lost: wrong.lost }];
  const { turned, by } = wrong;
  const sewn = step.units.map((at): Wish => ({ Mark: [at, "sewn"] }));
  return [{ Mark: [turned, "free"] }, { Turn: [turned, by] }, ...sewn];
}

/** What becomes of the ticks of seams that a unit is in: it is sewn again, or the seams stay as they are. */
function retold(state: State, wrong: Wrong, step: StepShown, touching: StepShown[], fresh: StepShown[]): [string, boolean][] {
  const done = touching.filter((one) => isDone(state, one));
  if ("out" in wrong) return open(state);
  if ("lost" in wrong) {
    const strips = (state.machine.steps?.steps ?? []).filter((one) => one.chapter === "strips" && one.units.includes(wrong.lost));
    return [...[...done, ...strips].map(({ key }): [string, boolean] => [key, false]), ...open(state)];
  }
  const kept = [...new Set([...done, step])].flatMap((one): [string, boolean][] => {
    const same = fresh.find((other) => other.chapter === one.chapter && other.title === one.title);
    return same && same.key !== one.key ? [[one.key, false], [same.key, true]] : [[one.key, true]];
  });
  return [...kept, ...open(state).filter(([key]) => kept.every(([one]) => one !== key))];
}

/** A row whose units are all sewn is not pressed and measured by that. */
const open = (state: State): [string, boolean][] =>
  (state.machine.steps?.steps ?? [])
    .filter((one) => one.chapter === "rows" && !one.parts && !isDone(state, one))
    .map(({ key }) => [key, false]);

/** Takes the change: ticks first, then the scene, which is kept at once. */
export async function take(store: Store): Promise<void> {
  const { proposed, at } = store.state.machine;
  if (!proposed) return;
  const now = Date.now();
  store.hand();
  await store.note(proposed.ticks.map(([key, done]): [string, Tick] => [key, { done, at: now }]));
  store.commit({ ...proposed.doc, quilt: store.state.doc.quilt, handed: true }, proposed.name, null, true);
  await store.flush();
  const { steps } = proposed;
  put(store, { steps });
  const here = steps.steps.find((step) => step.key === at) ?? steps.steps.find((step) => !isDone(store.state, step));
  show(store, here?.key ?? null, words.machine.taken(proposed.more.length));
}

/** Ticks agree with marks made by hand on the scene: what is freed, cut or lost is not sewn, what is sewn is. */
export async function agree(store: Store, units: readonly string[], isSewn: boolean): Promise<void> {
  const plan = planOf(store.state.doc);
  if (!plan || store.state.ticks.size === 0) return;
  const answered = await store.bridge.ask(() => ({ question: { steps: plan } }), { topic: "steps" }).catch(() => null);
  if (!answered || !("steps" in answered.reply)) return;
  const now = Date.now();
  const touched = answered.reply.steps.steps.filter((step) => JOINS.has(step.chapter) && step.units.some((at) => units.includes(at)));
  const other = touched.filter((step) => {
    const tick = store.state.ticks.get(step.key);
    return tick && (isSewn ? !tick.done && step.made && step.parts : tick.done);
  });
  if (other.length > 0) await store.note(other.map(({ key }): [string, Tick] => [key, { done: isSewn, at: now }]));
}

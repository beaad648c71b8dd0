/** The page's state: the document with its history, and what is merely looked at. */

import type { Held, Plan, ReviseBrief, Shown, Takes, Told, Tried } from "built/rowscape";

import { Bridge, Fell, Refused, Unfit, Void } from "../engine/bridge";
import type { Answered, Asking } from "../engine/bridge";
import { maskBytes, pictureBytes } from "../picture/adjust";
import { words } from "../words";
import { EMPTY, brief, holds, locked, planOf, unitsOf } from "./doc";
import type { Asked, Doc } from "./doc";
import { pack, unpacked } from "./fold";
import { back, forth, none, step } from "./history";
import { BARE } from "./table";
import type { Table } from "./table";
import type { History } from "./history";
import { IDLE } from "./machine-model";
import type { Machine } from "./machine-model";
import { TickBook, doneKeys, newer } from "./ticks";
import type { Tick, Ticks } from "./ticks";

export type Showing = "prints" | "seams" | "letters" | "hatching" | "addresses" | "greys" | "squint" | "photo" | "changed" | "before";

/** What went wrong, beside what caused it. */
export interface Trouble {
  where: "picture" | "size" | "fabrics" | "pieces" | "finish" | "page";
  words: string;
  hint: string | null;
  /** What was asked for, to be mended where it was typed. */
  asked?: Asked | undefined;
}

export interface Busy {
  what: string;
  /** Whether that is said whatever the engine is at. */
  plain: boolean;
  told: Told | null;
  best: Plan | null;
  /** How far that is from the best, at most. */
  gap: number | null;
}

export interface Choice {
  words: string;
  doc: Doc;
  shown: Shown | null;
}

export interface Trial {
  afresh: boolean;
  stashes: [string, string][];
  tried: Tried[];
}

export interface State {
  /** Steps done and undone so far. */
  done: number;
  doc: Doc;
  history: History<Doc>;
  /** What is asked for while its answer is awaited. */
  draft: Doc | null;
  busy: Busy | null;
  trouble: Trouble | null;
  takes: Takes | null;
  taken: ReadonlySet<string>;
  showing: ReadonlySet<Showing>;
  /** Addresses of units that the last step changed. */
  changed: readonly string[];
  /** The scene before it. */
  before: Shown | null;
  /** Whether the ways to show the scene are asked for, where there is little room. */
  looks: boolean;
  screen: "page" | "list" | "sketch" | "photos" | "keys" | "machine";
  /** Her fabrics in photographs, until they are a stash. */
  table: Table;
  list: string | null;
  choices: Choice[];
  trial: Trial | null;
  held: Held | null;
  /** Steps of the quilt that were ticked, or whose tick was taken back. */
  ticks: Ticks;
  /** Whether they are kept on the device. */
  ticksKept: boolean;
  machine: Machine;
  /** What is said of what was done, until it is dismissed. */
  said: string | null;
}

export const START: State = {
  done: 0,
  doc: EMPTY,
  history: none(),
  draft: null,
  busy: null,
  trouble: null,
  takes: null,
  taken: new Set(),
  showing: new Set(["prints", "seams", "changed"]),
  changed: [],
  before: null,
  looks: false,
  screen: "page",
  table: BARE,
  list: null,
  choices: [],
  trial: null,
  held: null,
  ticks: new Map(),
  ticksKept: true,
  machine: IDLE,
  said: null,
};

/** How a scene is asked for. */
export interface Change {
  /** What is done, for undo. */
  name: string;
  /** Steps of one key are one step of undo. */
  key?: string;
  /** Only the newest of a topic counts. */
  topic?: string;
  where: Trouble["where"];
  /** The document with what is changed, but for its scene. */
  next: (doc: Doc) => Doc;
  /** A change of the scene that stands; none composes afresh. */
  change?: (doc: Doc) => ReviseBrief;
  /** The plan that is changed, where it is not the document's own. */
  plan?: (doc: Doc) => Plan | null;
}

export class Store {
  state: State = START;
  private hearers = new Set<() => void>();
  /** The scene that dials began from: from it, the same dials are the same question, which is answered already. */
  private turned: { plan: Plan; key: string | null } | null = null;

  readonly book = new TickBook();
  /** The quilt whose ticks are read, and when they are. */
  private quilt = { id: "", read: Promise.resolve() };
  /** Keeps the document at once. */
  flush: () => Promise<void> = () => Promise.resolve();

  constructor(readonly bridge: Bridge) {}

  /** The keys of the steps that are ticked, once they are read. */
  async ticked(): Promise<string[]> {
    const { quilt } = this.state.doc;
    if (quilt !== this.quilt.id) {
      this.set({ ticks: new Map() });
      const read = async () => {
        const ticks = await this.book.read(quilt).catch(() => null);
        if (this.quilt.id === quilt) this.set({ ticks: new Map([...(ticks ?? []), ...this.state.ticks]), ticksKept: ticks !== null });
      };
      this.quilt = { id: quilt, read: quilt === "" ? Promise.resolve() : read() };
    }
    await this.quilt.read;
    return doneKeys(this.state.ticks);
  }

  /** Writes ticks down; they count once they are kept. */
  async note(ticks: readonly (readonly [string, Tick])[]): Promise<void> {
    await this.ticked();
    const kept = await this.book.write(this.state.doc.quilt, ticks).then(() => true, () => false);
    this.set({ ticks: new Map([...this.state.ticks, ...ticks]), ticksKept: kept });
  }

  /** Ticks that came with a file: of two of one step the newer counts. */
  async bring(ticks: Ticks): Promise<void> {
    await this.ticked();
    const [here, more] = [this.state.ticks.size, newer(this.state.ticks, ticks)];
    if (more.length > 0) await this.note(more);
    if (ticks.size > 0) this.set({ said: words.machine.brought(doneKeys(ticks).length, more.length, here) });
  }

  /** What a dial changes. */
  base(doc: Doc): Plan | null {
    const plan = planOf(doc);
    const { turned } = this;
    return turned && turned.key === this.state.history.key ? turned.plan : plan;
  }

  follow(hear: () => void): () => void {
    this.hearers.add(hear);
    return () => this.hearers.delete(hear);
  }

  set(patch: Partial<State>): void {
    this.state = { ...this.state, ...patch };
    for (const hear of this.hearers) hear();
  }

  /** What is shown in dials and fields: what was asked for last. */
  get asked(): Doc {
    return this.state.draft ?? this.state.doc;
  }

  /** Makes another document; its answer comes into the history as one step. */
  async change(change: Change): Promise<boolean> {
    const { next, where } = change;
    this.set({ draft: next(this.asked), trouble: null });
    const make = async (): Promise<Asking> => {
      // What was asked for since, and the scene that has come since.
      const doc = { ...next(this.asked), shown: this.state.doc.shown };
      return asking(doc, change, this.state.doc, await this.ticked());
    };
    const answered = await this.run(make, { what: words.work.stages.scene, topic: change.topic, where });
    if (!answered || !("scene" in answered.reply)) return false;
    const shown = answered.reply.scene;
    const same = change.change !== undefined && planOf(this.state.doc) !== null;
    const doc: Doc = found({ ...next(this.asked), shown });
    this.commit(doc, change.name, change.key ?? null, same);
    return true;
  }

  /** Puts a document into the history. */
  commit(made: Doc, name: string, key: string | null = null, same = false): void {
    const { doc: old, history } = this.state;
    // Another scene is another quilt.
    const other = !same && planOf(made) !== planOf(old);
    const quilt = other || made.quilt === "" ? crypto.randomUUID() : made.quilt;
    const doc = { ...(made.handed ? made : unlisted(made)), quilt };
    const changed = differing(planOf(old), planOf(doc));
    const plan = planOf(old);
    const isDial = key?.startsWith("dial ") ?? false;
    if (!isDial || !plan) this.turned = null;
    else this.turned = { plan: this.base(old) ?? plan, key };
    const at = new Set(addresses(planOf(doc)));
    this.set({
      done: this.state.done + 1,
      doc,
      draft: null,
      history: light(step(history, old, doc, name, key)),
      taken: new Set([...this.state.taken].filter((address) => at.has(address))),
      changed,
      before: old.shown,
      takes: null,
      trouble: null,
    });
    void this.work();
    void this.ticked();
  }

  /** Asks for what is neither a scene nor a step of its own. */
  async run(
    make: () => Asking | Promise<Asking>,
    { what, topic, where, plain = false }: { what: string; topic?: string | undefined; where: Trouble["where"]; plain?: boolean },
  ): Promise<Answered | null> {
    const busy: Busy = { what, plain, told: null, best: null, gap: null };
    // What is soon done is not announced.
    const announce = setTimeout(() => this.set({ busy }), 150);
    const told = (told: Told) => {
      busy.told = told;
      busy.best = told.best ?? busy.best;
      busy.gap = told.gap ?? busy.gap;
      if (this.state.busy === busy) this.set({});
    };
    try {
      return await this.bridge.ask(make, { told, ...(topic === undefined ? {} : { topic }) });
    } catch (error) {
      if (!(error instanceof Void)) this.set({ trouble: { ...trouble(error, where), asked: this.state.draft?.asked }, draft: null });
      return null;
    } finally {
      clearTimeout(announce);
      if (this.state.busy === busy) this.set({ busy: null });
    }
  }

  /** What the scene takes, asked for once it is shown. */
  private async work(): Promise<void> {
    const plan = planOf(this.state.doc);
    if (!plan) return;
    try {
      const { reply } = await this.bridge.ask(() => ({ question: { work: plan } }), { topic: "work" });
      if ("work" in reply && planOf(this.state.doc) === plan) this.set({ takes: reply.work });
    } catch {
      // A newer scene asks for itself.
    }
  }

  /** A list of the scene has been handed out: what becomes of it later is told from there, and numbers stay. */
  hand(): void {
    const { doc, draft } = this.state;
    if (doc.handed) return;
    this.set({ doc: { ...doc, handed: true }, draft: draft && { ...draft, handed: true } });
  }

  undo(steps = 1): void {
    void this.go(back(this.state.history, this.state.doc, steps));
  }

  redo(): void {
    void this.go(forth(this.state.history, this.state.doc));
  }

  private async go(to: { history: History<Doc>; doc: Doc } | null): Promise<void> {
    if (!to) return;
    this.bridge.dropAll();
    const { folded } = to.doc;
    if (folded) {
      const make = () => ({ question: { open: unpacked(folded) } });
      const answered = await this.run(make, { what: words.work.stages.scene, topic: "past", where: "page" });
      if (!answered || !("scene" in answered.reply)) return;
      to = { ...to, doc: { ...to.doc, shown: answered.reply.scene, folded: null } };
    }
    const { shown } = this.state.doc;
    const changed = differing(planOf(this.state.doc), planOf(to.doc));
    this.set({ ...to, done: this.state.done + 1, draft: null, taken: new Set(), changed, before: shown, takes: null, trouble: null });
    void this.work();
    void this.ticked();
  }

  /** Ends what is going on. */
  stop(): void {
    this.bridge.dropAll();
    this.set({ draft: null, busy: null });
    void this.work();
  }

  /** Takes the best scene so far. */
  async enough(): Promise<void> {
    const best = this.state.busy?.best;
    const next = this.asked;
    if (!best) return;
    this.bridge.dropAll();
    // What is not yet as it can be cut is made so; the rest stays.
    const question = { revise: { plan: best, change: { stay: 100 } } };
    const answered = await this.run(() => ({ question }), { what: words.work.stages.scene, where: "page" });
    if (answered && "scene" in answered.reply) {
      this.commit({ ...next, shown: answered.reply.scene }, words.steps.stash);
    }
  }
}

/** How a document's scene is asked for afresh. */
export const askingOf = (doc: Doc): Promise<Asking> => asking(doc, {}, doc, []);

/** A scene of which no list was ever handed out: its numbers begin at 1, and nothing has changed since. */
function unlisted(doc: Doc): Doc {
  const plan = planOf(doc);
  if (!doc.shown || !plan || plan.begun || !(plan.numbers || plan.was)) return doc;
  const { numbers, was, ...rest } = plan;
  return { ...doc, shown: { ...doc.shown, answer: { ...doc.shown.answer, plan: rest } } };
}

/** The document of the largest top has its size from then on. */
function found(doc: Doc): Doc {
  const request = planOf(doc)?.request;
  if (!doc.asked.largest || !request) return doc;
  return { ...doc, asked: { ...doc.asked, largest: false, width: request.width, height: request.height } };
}

/** Scenes that lie open in the history; those before them lie packed. */
const OPEN = 16;

function light(history: History<Doc>): History<Doc> {
  const at = history.past.length - OPEN - 1;
  const old = history.past[at];
  if (!old?.doc.shown) return history;
  return { ...history, past: history.past.with(at, { ...old, doc: pack(old.doc) }) };
}

async function asking(doc: Doc, { change, plan }: Pick<Change, "change" | "plan">, standing: Doc, ticked: string[]): Promise<Asking> {
  const mask = doc.mask ? await maskBytes(doc.mask) : undefined;
  if (change) {
    const base = plan ? plan(standing) : planOf(standing);
    // What is ticked as cut and sewn stands, whatever is changed.
    const ticks = ticked.length > 0 ? { ticks: ticked } : {};
    if (base) return { question: { revise: { plan: base, change: { without: doc.without, ...change(doc) }, ...ticks } } };
  }
  if (!doc.picture) throw new Error(words.trouble.noScene);
  const { bytes, crop, id } = await pictureBytes(doc.picture, doc.look);
  const kept = doc.fabrics?.filter(({ letter }) => !doc.without.includes(letter)) ?? null;
  const held = holds(doc) ? [] : locked(doc);
  const question = { compose: { brief: { ...brief(doc), ...(crop ? { crop } : {}) }, fabrics: kept, held } };
  return { question, picture: bytes, mask, beside: `${id} ${doc.mask?.id ?? ""}` };
}

export function trouble(error: unknown, where: Trouble["where"]): Trouble {
  if (error instanceof Refused) {
    const { words: what, hint, line, about } = error.refusal;
    const before = line ? words.trouble.line(line) : "";
    const place = { picture: "picture", stash: "fabrics", plan: "page", focus: "picture", question: where } as const;
    return { where: place[about], words: before + what, hint: hint ?? (about === "picture" ? words.trouble.pictureHint : null) };
  }
  if (error instanceof Unfit) return { where: "page", words: words.trouble.unfit, hint: null };
  if (error instanceof Fell) return { where, words: words.trouble.fell, hint: null };
  return { where, words: error instanceof Error ? error.message : String(error), hint: null };
}

const addresses = (plan: Plan | null): string[] => unitsOf(plan).map((unit) => unit.address);

/** Units of the new plan that the old one has not in the same place; none where another top is meant. */
export function differing(old: Plan | null, plan: Plan | null): string[] {
  if (!old || !plan || old === plan) return [];
  if (old.request.width !== plan.request.width || old.request.height !== plan.request.height) return [];
  const before = new Set(unitsOf(old).map((unit) => JSON.stringify(unit.patches)));
  const other = unitsOf(plan).filter((unit) => !before.has(JSON.stringify(unit.patches)));
  // A scene that is new all over shows nothing by being outlined.
  return other.length * 2 > unitsOf(plan).length ? [] : other.map((unit) => unit.address);
}

/** Ticks kept on this device: each is written as it is made, in a transaction of its own, and known to be on the disk. */

import { promisifyRequest } from "idb-keyval";

export interface Tick {
  done: boolean;
  /** When, in milliseconds: of two the newer counts. */
  at: number;
}

export type Ticks = ReadonlyMap<string, Tick>;

/** Where she was. */
export interface Place {
  /** The step that was shown. */
  at: string | null;
  /** Whether the steps were open. */
  open: boolean;
}

/** Most ticks that are read, and most letters of a key. */
const MOST = 100_000;
const LONGEST = 300;

export class TickBook {
  private db: Promise<IDBDatabase> | null = null;

  private open(): Promise<IDBDatabase> {
    if (!this.db) {
      const request = indexedDB.open("rowscape-ticks", 1);
      request.onupgradeneeded = () => request.result.createObjectStore("ticks");
      this.db = promisifyRequest(request);
    }
    return this.db;
  }

  /** Strict: what is said to be kept is on the disk, whatever becomes of the battery. */
  private async store(mode: IDBTransactionMode): Promise<IDBObjectStore> {
    const db = await this.open();
    return db.transaction("ticks", mode, { durability: "strict" }).objectStore("ticks");
  }

  /** The ticks of a quilt. */
  async read(quilt: string): Promise<Map<string, Tick>> {
    const store = await this.store("readonly");
    const range = IDBKeyRange.bound(`${quilt} `, `${quilt} \uffff`);
    const [keys, values] = await Promise.all([promisifyRequest(store.getAllKeys(range)), promisifyRequest(store.getAll(range))]);
    return new Map(keys.map((key, at) => [String(key).slice(quilt.length + 1), values[at] as Tick]));
  }

  /** Writes ticks, all or none. */
  async write(quilt: string, ticks: readonly (readonly [string, Tick])[]): Promise<void> {
    const store = await this.store("readwrite");
    for (const [key, tick] of ticks) store.put(tick, `${quilt} ${key}`);
    await promisifyRequest(store.transaction);
  }

  async place(quilt: string): Promise<Place | null> {
    const found: unknown = await promisifyRequest((await this.store("readonly")).get(`@${quilt}`));
    return (found as Place | undefined) ?? null;
  }

  async keepPlace(quilt: string, place: Place): Promise<void> {
    const store = await this.store("readwrite");
    store.put(place, `@${quilt}`);
    await promisifyRequest(store.transaction);
  }

  /** How long she takes for each amount of a chapter, in milliseconds, on whatever quilt she last was. */
  async rates(): Promise<ReadonlyMap<string, number>> {
    const found: unknown = await promisifyRequest((await this.store("readonly")).get(RATES));
    return new Map(Array.isArray(found) ? (found as [string, number][]) : []);
  }

  async keepRates(rates: ReadonlyMap<string, number>): Promise<void> {
    const all = new Map([...(await this.rates()), ...rates]);
    const store = await this.store("readwrite");
    store.put([...all], RATES);
    await promisifyRequest(store.transaction);
  }

  /** What cloth costs her, and how long things take her, as she wrote it last. */
  async costs<T>(): Promise<T | null> {
    return ((await promisifyRequest((await this.store("readonly")).get(PRICES))) as T | undefined) ?? null;
  }

  async keepCosts(costs: unknown): Promise<void> {
    const store = await this.store("readwrite");
    store.put(costs, PRICES);
    await promisifyRequest(store.transaction);
  }
}

/** Where rates and prices are kept, of no quilt. */
const RATES = "#rates";
const PRICES = "#prices";

/** Those that are done. */
export const doneKeys = (ticks: Ticks): string[] => [...ticks].flatMap(([key, tick]) => (tick.done ? [key] : [])).sort();

/** The ticks that are newer than those that are here. */
export const newer = (here: Ticks, given: Ticks): [string, Tick][] =>
  [...given].filter(([key, { at }]) => at > (here.get(key)?.at ?? -Infinity));

/** The version of ticks in a file. */
const VERSION = 1;

export const written = (ticks: Ticks): string =>
  JSON.stringify({ version: VERSION, ticks: Object.fromEntries([...ticks].map(([key, { done, at }]) => [key, [done, at]])) });

/** Ticks as a file has them; none where they cannot be read, or are a newer page's. */
export function readTicks(given: unknown): Map<string, Tick> | null {
  if (typeof given !== "object" || given === null) return null;
  const { version, ticks } = given as Record<string, unknown>;
  if (version !== VERSION || typeof ticks !== "object" || ticks === null || Array.isArray(ticks)) return null;
  const read = Object.entries(ticks as Record<string, unknown>).slice(0, MOST);
  const isTick = (one: unknown): one is [boolean, number] =>
    Array.isArray(one) && typeof one[0] === "boolean" && typeof one[1] === "number" && Number.isFinite(one[1]);
  return new Map(read.flatMap(([key, one]) => (isTick(one) && key.length <= LONGEST ? [[key, { done: one[0], at: one[1] }]] : [])));
}

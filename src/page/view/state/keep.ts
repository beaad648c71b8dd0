/** Scenes kept on this device, each in one window at a time. */

import { createStore, del, entries, get, set } from "idb-keyval";
import type { UseStore } from "idb-keyval";

import { small } from "../scene/draw";
import { words } from "../words";
import { planOf } from "./doc";
import type { Doc } from "./doc";
import { fold } from "./fold";
import type { Entry } from "./history";
import { resume } from "./machine";
import { openFile } from "./open";
import type { Store } from "./store";

export interface KeptScene {
  id: string;
  name: string;
  when: number;
  /** A small picture, as an address. */
  picture: string;
}

interface Held extends KeptScene {
  bytes: Uint8Array<ArrayBuffer>;
}

/** How long after a step it is kept, in milliseconds. */
const SOON = 400;

export class Keeper {
  private db: UseStore | null = null;
  private id: string = crypto.randomUUID();
  private release: (() => void) | null = null;
  private timer: ReturnType<typeof setTimeout> | undefined;
  private last: Doc | null = null;
  /** Whether anything can be kept. */
  works = true;

  constructor() {
    try {
      this.db = createStore("rowscape", "scenes");
    } catch {
      this.works = false;
    }
  }

  /** Keeps what a store holds, step by step. */
  follow(store: Store): void {
    void this.claim(this.id);
    this.last = store.state.doc;
    store.follow(() => {
      const { doc, history } = store.state;
      if (doc === this.last) return;
      this.last = doc;
      clearTimeout(this.timer);
      this.timer = setTimeout(() => void this.keep(doc, history.past, store), SOON);
    });
    store.flush = async () => {
      clearTimeout(this.timer);
      if (this.last) await this.keep(this.last, store.state.history.past, store);
    };
    addEventListener("pagehide", () => {
      if (this.last) void this.keep(this.last, store.state.history.past, store);
    });
  }

  private async keep(doc: Doc, past: readonly Entry<Doc>[], store: Store): Promise<void> {
    const plan = planOf(doc);
    if (!this.db || !plan) return;
    const svg = new XMLSerializer().serializeToString(small(plan));
    const held: Held = {
      id: this.id,
      name: plan.request.title || plan.request.picture || words.name,
      when: Date.now(),
      picture: `data:image/svg+xml,${encodeURIComponent(svg)}`,
      bytes: fold(doc, past),
    };
    try {
      await set(this.id, held, this.db);
    } catch {
      this.works = false;
      store.set({});
    }
  }

  /** All that is kept, the newest first. */
  async list(): Promise<KeptScene[]> {
    if (!this.db) return [];
    try {
      const all = await entries<string, Held>(this.db);
      return all.map(([, held]) => held).sort((a, b) => b.when - a.when);
    } catch {
      this.works = false;
      return [];
    }
  }

  /** Opens a kept scene; one that is open in another window is opened as a copy, so that neither undoes the other. */
  async open(store: Store, id: string): Promise<void> {
    const held = this.db && (await get<Held>(id, this.db));
    if (!held) return;
    const own = await this.claim(id);
    this.id = own ? id : crypto.randomUUID();
    if (!own) await this.claim(this.id);
    await openFile(store, new File([held.bytes], `${held.name}.rowscape`));
    await resume(store);
    if (!own) store.set({ trouble: { where: "page", words: words.keep.elsewhere, hint: null } });
  }

  /** From here on another scene is kept. */
  another(): void {
    this.id = crypto.randomUUID();
    void this.claim(this.id);
  }

  async forget(id: string): Promise<void> {
    if (this.db) await del(id, this.db);
  }

  /** Claims a scene for this window; whether nobody else has it. */
  private claim(id: string): Promise<boolean> {
    if (!("locks" in navigator)) return Promise.resolve(true);
    return new Promise((resolve) => {
      const held = navigator.locks.request(`rowscape ${id}`, { ifAvailable: true }, (lock) => {
        resolve(lock !== null);
        if (!lock) return undefined;
        this.release?.();
        return new Promise<void>((release) => {
          this.release = release;
        });
      });
      held.catch(() => resolve(true));
    });
  }
}

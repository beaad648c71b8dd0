/** Whatever file is given: a picture, a scene, a stash, or all that was saved in one file. */

import { load, loadBytes } from "../picture/load";
import { words } from "../words";
import { EMPTY, FRESH, PLAIN, askedBy } from "./doc";
import type { Doc, Picture } from "./doc";
import { unfold } from "./fold";
import { none } from "./history";
import { trouble } from "./store";
import type { Store } from "./store";

/** Most bytes of a file that is read. */
const MOST = 200_000_000;

export async function openFile(store: Store, file: File): Promise<void> {
  try {
    if (file.size > MOST) throw new Error(words.trouble.kind);
    const head = new Uint8Array(await file.slice(0, 4).arrayBuffer());
    if (head[0] === 0x50 && head[1] === 0x4b) await openAll(store, file);
    else if (/\.json$/i.test(file.name)) await openPlan(store, await file.text());
    else if (/\.(toml|gpl|txt)$/i.test(file.name)) await openStash(store, file.name, await file.text());
    else if (file.type.startsWith("image/") || /\.(jpe?g|png|webp|gif|bmp|tiff?|heic|avif)$/i.test(file.name)) {
      await takePicture(store, await load(store.bridge, file, file.name), words.steps.picture);
    } else {
      throw new Error(`${file.name}: ${words.trouble.kind}`);
    }
  } catch (error) {
    store.set({ trouble: trouble(error, "page") });
  }
}

/** Another picture: what is asked of it begins afresh, what is asked of the top and the stash stays. */
export async function takePicture(store: Store, picture: Picture, name: string): Promise<void> {
  await store.change({
    name,
    topic: "compose",
    where: "picture",
    next: (doc) => ({ ...doc, picture, look: PLAIN, mask: null, without: [], asked: { ...doc.asked, ...sized(doc) } }),
  });
}

/** A size that both sides were given of stays; one that followed from the picture follows the new one. */
const sized = (doc: Doc) => {
  const { width, height } = doc.asked;
  return width !== null && height !== null ? { width, height } : { width: null, height: null };
};

export async function takeSample(store: Store, bytes: Uint8Array<ArrayBuffer>, file: string): Promise<void> {
  await takePicture(store, await loadBytes(bytes, file), words.steps.sample);
}

async function openPlan(store: Store, text: string): Promise<void> {
  const answered = await store.run(() => ({ question: { open: text } }), { what: words.work.stages.scene, where: "page" });
  if (!answered || !("scene" in answered.reply)) return;
  const shown = answered.reply.scene;
  const { plan } = shown.answer;
  store.commit({ ...EMPTY, asked: askedBy(plan), locked: plan.request.held ?? [], handed: true, shown }, words.steps.open);
}

export async function openStash(store: Store, name: string, text: string): Promise<void> {
  const answered = await store.run(() => ({ question: { stash: text } }), { what: words.work.stages.stash, where: "fabrics" });
  if (!answered || !("stash" in answered.reply)) return;
  const { stash } = answered.reply;
  store.set({ held: stash });
  if (!store.asked.picture) {
    store.commit({ ...store.asked, stash: text, stashName: name, fabrics: null, without: [], locked: [] }, words.steps.stash);
    return;
  }
  await store.change({
    name: words.steps.stash,
    topic: "compose",
    where: "fabrics",
    next: (doc) => ({ ...doc, stash: text, stashName: name, fabrics: null, without: [], locked: [] }),
  });
}

async function openAll(store: Store, file: File): Promise<void> {
  const opened = unfold(new Uint8Array(await file.arrayBuffer()));
  if (opened.plan === null) {
    store.commit({ ...opened.doc, shown: null }, words.steps.open);
  } else {
    const text = opened.plan;
    const answered = await store.run(() => ({ question: { open: text } }), { what: words.work.stages.scene, where: "page" });
    if (!answered || !("scene" in answered.reply)) return;
    store.commit({ ...opened.doc, shown: answered.reply.scene }, words.steps.open, null, true);
    await store.bring(opened.ticks);
    // Her steps before it was saved come back with it; what was open here before is one more step back.
    const { past } = store.state.history;
    store.set({ history: { ...none(), past: [...past, ...opened.past] } });
  }
  if (opened.dropped.length > 0) {
    const what = words.trouble.dropped(opened.dropped.join(", "));
    store.set({ trouble: { where: "page", words: what, hint: null } });
  }
}

export const fresh = (store: Store): void => {
  store.bridge.dropAll();
  store.commit({ ...EMPTY, asked: { ...FRESH, ruler: store.state.doc.asked.ruler } }, words.top.fresh);
};

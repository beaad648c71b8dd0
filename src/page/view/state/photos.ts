/** What is done with her fabrics in photographs. */

import type { Amid, Amount, Gathered, Pack, Point, Swatch } from "built/rowscape";

import { load } from "../picture/load";
import { words } from "../words";
import { SOLD } from "./fabrics";
import { openStash } from "./open";
import { trouble } from "./store";
import type { Store } from "./store";
import { around, joined, middle } from "./table";
import type { Kind, Marked, Photo, Print, Table } from "./table";

const NOTHING: Marked = { neutral: [], taps: [], boxes: [], merges: [], without: [], only_given: false };

export function set(store: Store, patch: Partial<Table>): void {
  store.set({ table: { ...store.state.table, ...patch } });
}

/** Reads photographs, each looked through in its turn. */
export async function take(store: Store, files: File[]): Promise<void> {
  for (const file of files) {
    try {
      const picture = await load(store.bridge, file, file.name);
      const { photos } = store.state.table;
      if (photos.some((photo) => photo.picture.id === picture.id)) continue;
      const photo: Photo = { picture, asked: NOTHING, past: [], found: null, prints: [] };
      set(store, { photos: [...photos, photo], at: photos.length });
      if (!(await look(store, photo, NOTHING))) remove(store, photo.picture.id);
    } catch (error) {
      store.set({ trouble: trouble(error, "fabrics") });
    }
  }
}

export function remove(store: Store, id: string): void {
  const photos = store.state.table.photos.filter((photo) => photo.picture.id !== id);
  set(store, { photos, at: Math.max(0, Math.min(store.state.table.at, photos.length - 1)) });
  void twins(store);
}

/** Marks something in a photograph; what she said of the prints that are still there stays with them. */
export function mark(store: Store, photo: Photo, asked: Partial<Marked>): Promise<boolean> {
  return look(store, photo, { ...photo.asked, ...asked }, [...photo.past, photo.asked]);
}

/** How near to each other, in parts of the photograph, what was taken away and what is added are one print. */
const NEAR = 0.12;

/** A print that was not found, or was taken away before. */
export function add(store: Store, photo: Photo, at: Point): Promise<boolean> {
  const { taps, without } = photo.asked;
  const stays = ({ x, y }: Point) => Math.hypot(x - at.x, y - at.y) > NEAR;
  return mark(store, photo, { taps: [...taps, at], without: without.filter(stays) });
}

export function box(store: Store, photo: Photo, amid: Amid): Promise<boolean> {
  const { boxes, without } = photo.asked;
  const { from, to } = amid;
  const stays = ({ x, y }: Point) => x < from.x || x > to.x || y < from.y || y > to.y;
  return mark(store, photo, { boxes: [...boxes, amid], without: without.filter(stays) });
}

export function unmark(store: Store, photo: Photo): Promise<boolean> {
  const asked = photo.past.at(-1) ?? NOTHING;
  return look(store, photo, asked, photo.past.slice(0, -1));
}

async function look(store: Store, photo: Photo, asked: Marked, past: Marked[] = photo.past): Promise<boolean> {
  const { picture } = photo;
  const make = () => ({ question: { swatches: asked }, picture: picture.bytes, beside: picture.id });
  const answered = await store.run(make, { what: words.photos.looking, topic: `photo ${picture.id}`, where: "fabrics", plain: true });
  if (!answered || !("swatches" in answered.reply)) return false;
  const { found, doubts } = answered.reply.swatches;
  const prints = (now: Photo) => found.swatches.map((swatch, at) => known(now, swatch, doubts[at] ?? []));
  const change = (now: Photo): Photo => ({ ...now, asked, past, found, prints: prints(now) });
  const { photos } = store.state.table;
  set(store, { photos: photos.map((one) => (one.picture.id === picture.id ? change(one) : one)) });
  await twins(store);
  return true;
}

/** The print as she had it, where it lies where one lay. */
function known(photo: Photo, swatch: Swatch, doubts: string[]): Print {
  const at = middle(swatch);
  const old = photo.prints.find((print) => {
    const { from, to } = around(print.swatch);
    return at.x > from.x && at.x < to.x && at.y > from.y && at.y < to.y;
  });
  return { name: "", count: null, ...old, swatch, doubts };
}

export function say(store: Store, id: string, at: number, patch: Partial<Print>): void {
  const change = (photo: Photo) =>
    photo.picture.id === id ? { ...photo, prints: photo.prints.map((print, index) => (index === at ? { ...print, ...patch } : print)) } : photo;
  set(store, { photos: store.state.table.photos.map(change) });
}

/** What looks like one fabric in two photographs, or twice in one. */
async function twins(store: Store): Promise<void> {
  const photos = store.state.table.photos.map(({ prints }) => prints.map(({ swatch }) => swatch));
  if (photos.flat().length < 2) return set(store, { twins: [] });
  try {
    const { reply } = await store.bridge.ask(() => ({ question: { twice: photos } }), { topic: "twins" });
    if ("twice" in reply) set(store, { twins: reply.twice });
  } catch {
    // A newer look asks for itself.
  }
}

/** Makes a stash of them, and the scene of that where there is a picture. */
export async function use(store: Store): Promise<void> {
  const { table, doc } = store.state;
  const { ruler } = doc.asked;
  const fabrics: Gathered[] = joined(table).flatMap((places) => {
    const prints = places.flatMap(([photo, at]) => table.photos[photo]?.prints[at] ?? []);
    // The surest of them says what it looks like; what she said of any of them holds.
    const best = [...prints].sort((a, b) => b.swatch.certainty - a.swatch.certainty)[0];
    if (!best) return [];
    const { swatch } = best;
    const count = prints.find(({ count }) => count !== null)?.count ?? table.each;
    return {
      name: prints.find(({ name }) => name)?.name ?? swatch.name,
      colour: swatch.colour,
      thumbnail: swatch.thumbnail,
      ...(table.wide ? { swatch_width: table.wide, shown: swatch.shown } : {}),
      amounts: amounts(table.kind, count, ruler),
    };
  });
  const packs: Pack[] = table.kind === "pack" ? [{ size: SOLD[ruler].large, count: table.each, fabrics: fabrics.map((_, at) => at) }] : [];
  const answered = await store.run(() => ({ question: { gather: { fabrics, packs } } }), { what: words.work.stages.stash, where: "fabrics" });
  if (!answered || !("stash" in answered.reply)) return;
  const { text } = answered.reply.stash;
  store.set({ screen: "page" });
  await openStash(store, "my-fabrics.toml", text);
}

function amounts(kind: Kind, count: number, ruler: "inch" | "metric"): Amount[] {
  const sold = SOLD[ruler];
  if (count <= 0) return [];
  switch (kind) {
    case "none":
    case "pack":
      return [];
    case "large":
    case "small":
      return [{ squares: { size: sold[kind], count } }];
    case "quarters":
      return [{ fatQuarters: count }];
    case "length":
      return [{ length: { length: `${(count * sold.long) / 4}${sold.unit}`, width: sold.width } }];
  }
}

/** Files given to the maker. */

import { zipSync } from "fflate";

import { words } from "../words";
import { planOf } from "./doc";
import { fold } from "./fold";
import type { Store } from "./store";

const TYPES: Record<string, string> = {
  html: "text/html",
  json: "application/json",
  png: "image/png",
  svg: "image/svg+xml",
  csv: "text/csv",
  toml: "text/plain",
  zip: "application/zip",
  rowscape: "application/zip",
};

/** Gives one file. */
export function download(name: string, bytes: Uint8Array<ArrayBuffer>): void {
  const type = TYPES[name.split(".").at(-1) ?? ""] ?? "application/octet-stream";
  const address = URL.createObjectURL(new Blob([bytes], { type }));
  const link = document.createElement("a");
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}

/** What a scene's files are called. */
export function stem(store: Store): string {
  const plan = planOf(store.state.doc);
  const name = plan?.request.title || plan?.request.picture || words.name;
  return name.replace(/\.[a-z0-9]{1,5}$/i, "").replace(/[^\p{L}\p{N}]+/gu, "-").slice(0, 60) || "scene";
}

/** Every file of the scene, proved, as one zip; or one of them. */
export async function give(store: Store, only: string | null, largeMap: boolean, greys: boolean): Promise<void> {
  const plan = planOf(store.state.doc);
  if (!plan) return;
  const question = { files: { plan, large_map: largeMap, greys } };
  const answered = await store.run(() => ({ question }), { what: words.work.stages.files, where: "page" });
  if (!answered || !("files" in answered.reply)) return;
  store.hand();
  const names = answered.reply.files;
  const files = Object.fromEntries(names.map((name, at) => [name, answered.files[at] ?? new Uint8Array()]));
  if (only !== null) download(only, files[only] as Uint8Array<ArrayBuffer>);
  else download(`${stem(store)}.zip`, zipSync(files, { level: 6 }) as Uint8Array<ArrayBuffer>);
}

/** A page for each of several sewers, and one for whoever cuts, hands out and joins, as one zip. */
export async function share(store: Store, sewers: number): Promise<void> {
  const plan = planOf(store.state.doc);
  if (!plan) return;
  const listing = { plan, large_map: false, greys: false };
  const make = () => ({ question: { packets: [listing, sewers] as [typeof listing, number] } });
  const answered = await store.run(make, { what: words.work.stages.files, where: "page" });
  if (!answered || !("files" in answered.reply)) return;
  store.hand();
  const files = Object.fromEntries(answered.reply.files.map((name, at) => [name, answered.files[at] ?? new Uint8Array()]));
  download(`${stem(store)}-${sewers}.zip`, zipSync(files, { level: 6 }) as Uint8Array<ArrayBuffer>);
}

/** Everything in one file. */
export function save(store: Store): void {
  const { doc, history, ticks } = store.state;
  download(`${stem(store)}.rowscape`, fold(doc, history.past, ticks));
}

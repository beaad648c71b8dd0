/** What the page and its worker say to each other. */

import type { Everything } from "built/rowscape";

export type Question = Everything["question"];
export type Reply = Everything["reply"];
export type Refusal = Everything["refusal"];
export type Told = Everything["told"];

export type ToWorker =
  | { engine: WebAssembly.Module }
  | { id: number; question: string; picture: Uint8Array | undefined; mask: Uint8Array | undefined };

export type FromWorker =
  | { ready: true }
  | { id: number; told: Told }
  | { id: number; reply: Reply; files: Uint8Array<ArrayBuffer>[]; memory: number }
  | { id: number; refusal: Refusal }
  | { id: number; trap: string };

/** The worker: it has the engine, and answers one question at a time. */

import { ask, initSync } from "built/engine.js";

import type { FromWorker, ToWorker } from "./talk";

const tell = (message: FromWorker, moved: Transferable[] = []) => {
  (self as unknown as { postMessage(message: FromWorker, moved: Transferable[]): void }).postMessage(message, moved);
};

/** The engine's memory, which grows and never shrinks. */
let memory: WebAssembly.Memory | undefined;

function answer(message: Extract<ToWorker, { id: number }>): void {
  const { id, question, picture, mask } = message;
  try {
    const told = (json: string) => tell({ id, told: JSON.parse(json) });
    const [json, ...files] = ask(question, picture, mask, told) as [string, ...Uint8Array<ArrayBuffer>[]];
    tell({ id, reply: JSON.parse(json), files, memory: memory?.buffer.byteLength ?? 0 }, files.map((file) => file.buffer));
  } catch (error) {
    if (typeof error === "string") tell({ id, refusal: JSON.parse(error) });
    else tell({ id, trap: String(error) });
  }
}

self.onmessage = ({ data }: MessageEvent<ToWorker>) => {
  if ("engine" in data) {
    ({ memory } = initSync({ module: data.engine }));
    tell({ ready: true });
  } else {
    answer(data);
  }
};

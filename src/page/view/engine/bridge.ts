/** The one bridge to the worker: nothing else in the page knows that there is one. */

import code from "built/worker.txt";

import type { FromWorker, Question, Refusal, Reply, Told, ToWorker } from "./talk";

/** A question that runs no longer than this is let run out where a newer one comes. */
const SHORT = 500;
/** A worker whose engine has grown past this, in bytes, as a large picture makes it, gives way to a new one. */
const GROWN = 32_000_000;
/** Answers that are kept for going back. */
const KEPT = 24;

/** What is asked, made when its turn comes. */
export interface Asking {
  question: Question;
  picture?: Uint8Array | undefined;
  mask?: Uint8Array | undefined;
  /** What tells this question's pictures from others. */
  beside?: string;
}

export interface Answered {
  reply: Reply;
  files: Uint8Array<ArrayBuffer>[];
}

interface Job {
  id: number;
  /** Of one topic only the newest counts. */
  topic: string | undefined;
  make: () => Asking | Promise<Asking>;
  told: ((told: Told) => void) | undefined;
  resolve: (answered: Answered) => void;
  reject: (why: unknown) => void;
  began: number;
  key: string;
}

/** A question that a newer one, or its asker, made void. */
export class Void extends Error {}

/** Why the engine gives no answer. */
export class Refused extends Error {
  constructor(readonly refusal: Refusal) {
    super(refusal.words);
  }
}

/** The engine fell over what it was given. */
export class Fell extends Error {}

/** The browser cannot run the engine. */
export class Unfit extends Error {}

export class Bridge {
  private worker: Worker | undefined;
  private queue: Job[] = [];
  private running: Job | undefined;
  private next = 1;
  private kept = new Map<string, Answered>();
  private starting: Promise<void> | undefined;

  constructor(private readonly engine: Promise<WebAssembly.Module>) {}

  /** Asks; `signal` ends it. */
  ask(
    make: Job["make"],
    { topic, told, signal }: { topic?: string; told?: (told: Told) => void; signal?: AbortSignal } = {},
  ): Promise<Answered> {
    return new Promise((resolve, reject) => {
      const job: Job = { id: this.next++, topic, make, told, resolve, reject, began: 0, key: "" };
      if (topic !== undefined) this.makeVoid(topic);
      signal?.addEventListener("abort", () => this.drop(job), { once: true });
      this.queue.push(job);
      void this.go();
    });
  }

  /** Starts a worker before it is asked anything. */
  warm(): void {
    // Whoever asks first hears what is wrong.
    (this.starting ??= this.start()).catch(() => undefined);
  }

  /** Ends all that runs and waits. */
  dropAll(): void {
    for (const job of this.queue.splice(0)) job.reject(new Void());
    if (this.running) this.end(new Void());
  }

  /** Makes what is asked of a topic void: a long one is ended, a short one may run out. */
  private makeVoid(topic: string): void {
    const isOld = (job: Job) => job.topic === topic;
    for (const job of this.queue.filter(isOld)) job.reject(new Void());
    this.queue = this.queue.filter((job) => !isOld(job));
    const running = this.running;
    if (!running || !isOld(running)) return;
    const left = SHORT - (performance.now() - running.began);
    setTimeout(() => this.running === running && this.end(new Void()), Math.max(0, left));
  }

  private drop(job: Job): void {
    if (this.running === job) this.end(new Void());
    else if (this.queue.includes(job)) {
      this.queue = this.queue.filter((other) => other !== job);
      job.reject(new Void());
    }
  }

  private retire(): void {
    this.worker?.terminate();
    this.worker = undefined;
    this.starting = undefined;
  }

  /** Ends the running job with its worker; the next one starts afresh. */
  private end(why: Error): void {
    const job = this.running;
    this.retire();
    this.running = undefined;
    job?.reject(why);
    void this.go();
  }

  private async go(): Promise<void> {
    if (this.running) return;
    const job = this.queue.shift();
    if (!job) return;
    this.running = job;
    job.began = performance.now();
    try {
      const { question, picture, mask, beside } = await job.make();
      const text = JSON.stringify(question);
      job.key = `${beside ?? ""}|${text}`;
      const known = this.kept.get(job.key);
      if (known) {
        this.keep(job.key, known);
        this.finish(job, () => job.resolve(known));
        return;
      }
      await (this.starting ??= this.start());
      if (this.running !== job) return;
      job.began = performance.now();
      this.say({ id: job.id, question: text, picture, mask });
    } catch (error) {
      this.finish(job, () => job.reject(error));
    }
  }

  private finish(job: Job, how: () => void): void {
    if (this.running === job) this.running = undefined;
    how();
    void this.go();
  }

  private keep(key: string, answered: Answered): void {
    this.kept.delete(key);
    this.kept.set(key, answered);
    for (const oldest of this.kept.keys()) {
      if (this.kept.size <= KEPT) break;
      this.kept.delete(oldest);
    }
  }

  private async start(): Promise<void> {
    const engine = await this.engine.catch((error: unknown) => {
      throw new Unfit(String(error));
    });
    const address = URL.createObjectURL(new Blob([code], { type: "text/javascript" }));
    const worker = new Worker(address);
    this.worker = worker;
    await new Promise<void>((resolve, reject) => {
      worker.onmessage = () => resolve();
      worker.onerror = (event) => reject(new Fell(event.message));
      this.say({ engine });
    });
    URL.revokeObjectURL(address);
    worker.onmessage = ({ data }: MessageEvent<FromWorker>) => this.hear(data);
    worker.onerror = (event) => this.end(new Fell(event.message));
  }

  private say(message: ToWorker): void {
    this.worker?.postMessage(message);
  }

  private hear(message: FromWorker): void {
    const job = this.running;
    if (!job || !("id" in message) || message.id !== job.id) return;
    if ("told" in message) {
      job.told?.(message.told);
    } else if ("reply" in message) {
      const answered = { reply: message.reply, files: message.files };
      if (message.files.length === 0) this.keep(job.key, answered);
      if (message.memory > GROWN) this.retire();
      this.finish(job, () => job.resolve(answered));
      this.warm();
    } else if ("refusal" in message) {
      this.finish(job, () => job.reject(new Refused(message.refusal)));
    } else {
      // After a trap the engine's memory is not to be trusted.
      this.end(new Fell(message.trap));
    }
  }
}

/** A smoke test in Firefox, by WebDriver BiDi. */

import { spawn } from "node:child_process";
import type { ChildProcess } from "node:child_process";
import { existsSync } from "node:fs";
import { delimiter, join } from "node:path";
import { test } from "node:test";

import WebSocket from "ws";

import { fromDisk, scratch } from "./browser";
import { heart } from "./heart";

function firefoxPath(): string {
  const folders = (process.env["PATH"] ?? "").split(delimiter);
  const found = folders.flatMap((folder) => ["firefox", "firefox-esr"].map((name) => join(folder, name))).find(existsSync);
  if (!found) throw new Error("the page's smoke test needs Firefox: `apt-get install firefox-esr`, or your system's way to it");
  return found;
}

interface Answer {
  id?: number;
  type: string;
  result?: Record<string, unknown>;
  message?: string;
}

/** As much of the protocol as is needed. */
class Talk {
  private next = 1;
  private waiting = new Map<number, (answer: Answer) => void>();

  private constructor(private readonly socket: WebSocket) {
    socket.on("message", (data) => {
      const answer = JSON.parse(data.toString()) as Answer;
      if (answer.id !== undefined) this.waiting.get(answer.id)?.(answer);
    });
  }

  static async with(address: string): Promise<Talk> {
    const socket = new WebSocket(`${address}/session`);
    await new Promise((open, failed) => socket.once("open", open).once("error", failed));
    const talk = new Talk(socket);
    await talk.say("session.new", { capabilities: {} });
    return talk;
  }

  async say(method: string, params: object): Promise<Record<string, unknown>> {
    const id = this.next++;
    const answered = new Promise<Answer>((answer) => this.waiting.set(id, answer));
    this.socket.send(JSON.stringify({ id, method, params }));
    const answer = await answered;
    if (answer.type !== "success") throw new Error(`${method}: ${answer.message}`);
    return answer.result ?? {};
  }

  close(): void {
    this.socket.close();
  }
}

async function begin(): Promise<{ child: ChildProcess; talk: Talk }> {
  const child = spawn(firefoxPath(), ["--headless", "--no-remote", "--remote-debugging-port=0", "--profile", scratch()], {
    env: { ...process.env, HOME: scratch() },
  });
  const address = await new Promise<string>((found, failed) => {
    let said = "";
    child.stderr?.on("data", (data: Buffer) => {
      said += data.toString();
      const at = /WebDriver BiDi listening on (\S+)/.exec(said)?.[1];
      if (at) found(at);
    });
    child.on("exit", () => failed(new Error(said)));
  });
  return { child, talk: await Talk.with(address) };
}

test("in Firefox a photo is pieced, a fabric exchanged, and it is listed", async () => {
  const { child, talk } = await begin();
  try {
    const { context } = await talk.say("browsingContext.create", { type: "tab" });
    await talk.say("browsingContext.navigate", { context, url: fromDisk, wait: "complete" });
    const value = async (expression: string): Promise<unknown> => {
      const said = await talk.say("script.evaluate", { expression, target: { context }, awaitPromise: true });
      const result = said["result"] as { value?: unknown } | undefined;
      if (said["type"] !== "success") throw new Error(JSON.stringify(said));
      return result?.value;
    };
    await heart(value);
  } finally {
    talk.close();
    child.kill("SIGKILL");
  }
});

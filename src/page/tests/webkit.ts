/** A smoke test in WebKitGTK, by its WebDriver, on a display of its own. */

import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { existsSync, readdirSync } from "node:fs";
import { createServer } from "node:net";
import type { AddressInfo } from "node:net";
import { delimiter, join } from "node:path";
import { test } from "node:test";

import { fromDisk, scratch } from "./browser";
import { heart } from "./heart";

const NEEDS = "the page's smoke test needs WebKitGTK's driver and a display: `apt-get install webkit2gtk-driver xvfb xauth`";

function found(name: string): string {
  const folders = (process.env["PATH"] ?? "").split(delimiter);
  const path = folders.map((folder) => join(folder, name)).find(existsSync);
  if (!path) throw new Error(NEEDS);
  return path;
}

/** The small browser that comes with WebKitGTK lies beside its libraries. */
function browserPath(): string {
  const libraries = readdirSync("/usr/lib").map((name) => join("/usr/lib", name));
  const folders = libraries.flatMap((library) => ["webkit2gtk-4.1", "webkitgtk-6.0", "webkit2gtk-4.0"].map((name) => join(library, name)));
  const path = folders.map((folder) => join(folder, "MiniBrowser")).find(existsSync);
  if (!path) throw new Error(NEEDS);
  return path;
}

async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((done) => server.listen(0, "127.0.0.1", done));
  const { port } = server.address() as AddressInfo;
  await new Promise((done) => server.close(done));
  return port;
}

test("in WebKit a photo is pieced, a fabric exchanged, and it is listed", async () => {
  const port = await freePort();
  const home = scratch();
  const env = { ...process.env, HOME: home, XDG_RUNTIME_DIR: home, WEBKIT_DISABLE_COMPOSITING_MODE: "1", NO_AT_BRIDGE: "1" };
  const driver = spawn(found("xvfb-run"), ["-a", found("WebKitWebDriver"), `--port=${port}`, "--host=127.0.0.1"], { env, detached: true });
  const address = `http://127.0.0.1:${port}`;
  const say = async (method: string, path: string, body?: object): Promise<unknown> => {
    const answered = await fetch(address + path, {
      method,
      ...(body ? { body: JSON.stringify(body), headers: { "content-type": "application/json" } } : {}),
    });
    const { value } = (await answered.json()) as { value: { error?: string; message?: string } | null };
    if (value && typeof value === "object" && value.error) throw new Error(`${path}: ${value.error} ${value.message ?? ""}`);
    return value;
  };
  try {
    for (let tries = 0; ; tries++) {
      const isReady = await say("GET", "/status").then(() => true, () => false);
      if (isReady) break;
      assert.ok(tries < 200, "the driver does not answer");
      await new Promise((done) => setTimeout(done, 100));
    }
    const options = { binary: browserPath(), args: ["--automation"] };
    const { sessionId } = (await say("POST", "/session", {
      capabilities: { alwaysMatch: { "webkitgtk:browserOptions": options, timeouts: { script: 90_000, pageLoad: 60_000 } } },
    })) as { sessionId: string };
    const session = `/session/${sessionId}`;
    await say("POST", `${session}/url`, { url: fromDisk });
    await heart((expression) => say("POST", `${session}/execute/sync`, { script: `return ${expression};`, args: [] }));
    await say("DELETE", session);
  } finally {
    // With the display that it brought.
    if (driver.pid) process.kill(-driver.pid, "SIGKILL");
  }
});

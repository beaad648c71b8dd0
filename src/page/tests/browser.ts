/** A real browser, and the page in it: from the disk, or hosted here. */

import { spawn } from "node:child_process";
import { createServer } from "node:http";
import type { Server } from "node:http";
import { existsSync, mkdtempSync, readFileSync } from "node:fs";
import { readFile } from "node:fs/promises";
import type { AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import { delimiter, extname, join, resolve } from "node:path";

import { chromium } from "playwright-core";
import type { Browser, BrowserContext, Page } from "playwright-core";

export const root = resolve(process.env["ROWSCAPE_ROOT"] ?? ".");
export const built = join(root, "target/page");

/** The system's Chromium. */
export function chromiumPath(): string {
  const folders = (process.env["PATH"] ?? "").split(delimiter);
  const names = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable"];
  const found = folders.flatMap((folder) => names.map((name) => join(folder, name))).find(existsSync);
  if (!found) throw new Error("the page's tests need Chromium: `apt-get install chromium`, or your system's way to it");
  return found;
}

export const ARGUMENTS = ["--no-sandbox", "--disable-dev-shm-usage"];

export const SIZES = {
  phone: { width: 360, height: 740 },
  "phone-wide": { width: 780, height: 360 },
  tablet: { width: 820, height: 1180 },
  "tablet-wide": { width: 1180, height: 820 },
  laptop: { width: 1366, height: 768 },
  large: { width: 1920, height: 1080 },
} as const;

export type Size = keyof typeof SIZES;

let running: Browser | undefined;

export async function browser(): Promise<Browser> {
  running ??= await chromium.launch({ executablePath: chromiumPath(), args: ARGUMENTS });
  return running;
}

export async function end(): Promise<void> {
  await running?.close();
  running = undefined;
  server?.close();
  server?.closeAllConnections();
  server = undefined;
}

const TYPES: Record<string, string> = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript",
  ".webmanifest": "application/manifest+json",
  ".png": "image/png",
};

let server: Server | undefined;
/** Put after the service worker's text, so that it is a newer one. */
export const newer = { text: "" };

/** The folder to host, hosted on this machine alone. */
export async function hosted(): Promise<string> {
  if (!server) {
    server = createServer((asked, answer) => {
      const path = new URL(asked.url ?? "/", "http://localhost").pathname;
      const file = join(built, "site", path === "/" ? "index.html" : path);
      readFile(file).then(
        (bytes) => {
          const isWorker = file.endsWith("service-worker.js");
          answer.writeHead(200, { "content-type": TYPES[extname(file)] ?? "application/octet-stream", "cache-control": "no-cache" });
          answer.end(isWorker ? bytes.toString().replace("rowscape-", `rowscape-${newer.text}`) : bytes);
        },
        () => answer.writeHead(404).end(),
      );
    });
    await new Promise<void>((done) => server?.listen(0, "127.0.0.1", done));
  }
  return `http://localhost:${(server.address() as AddressInfo).port}/`;
}

export const fromDisk = `file://${join(built, "rowscape.html")}`;

export interface Opened {
  page: Page;
  context: BrowserContext;
  /** What went wrong in the page, to be empty. */
  faults: string[];
  /** Addresses that were asked for. */
  asked: string[];
}

export async function open(size: Size, address = fromDisk, dark = false): Promise<Opened> {
  const context = await (await browser()).newContext({
    viewport: SIZES[size],
    hasTouch: size.startsWith("phone") || size.startsWith("tablet"),
    colorScheme: dark ? "dark" : "light",
    acceptDownloads: true,
  });
  context.setDefaultTimeout(60_000);
  const page = await context.newPage();
  return { context, ...(await watched(page, address)) };
}

export async function watched(page: Page, address: string): Promise<Omit<Opened, "context">> {
  const faults: string[] = [];
  const asked: string[] = [];
  page.on("pageerror", (error) => faults.push(error.message));
  page.on("console", (said) => said.type() === "error" && faults.push(said.text()));
  page.on("request", (request) => asked.push(request.url()));
  await page.goto(address);
  return { page, faults, asked };
}

export const sample = (name: string) => join(root, "sample-sketches", name);

export const scratch = () => mkdtempSync(join(tmpdir(), "rowscape-page-"));

/** Gives a picture file, and waits for its scene. */
export async function give(page: Page, file: string): Promise<void> {
  await page.getByTestId("choose-picture").setInputFiles(file);
  await page.getByTestId("figures").waitFor({ timeout: 60_000 });
  await settled(page);
}

/** Waits until nothing is asked for any more. */
export async function settled(page: Page): Promise<void> {
  await page.waitForTimeout(250);
  await page.getByTestId("working").waitFor({ state: "detached", timeout: 120_000 });
}

/** Opens a part of the page. */
export async function part(page: Page, name: string): Promise<void> {
  const section = page.getByTestId(`panel-${name}`);
  if (!(await section.evaluate((one: HTMLDetailsElement) => one.open))) await section.locator("summary").first().click();
}

/** Asks for what is behind a button where there is little room: `Show` of the scene, `More` of the list. */
export async function reveal(page: Page, name: "Show" | "More"): Promise<void> {
  const button = page.getByRole("button", { name, exact: true, expanded: false });
  if (await button.isVisible()) await button.click();
}

/** Does something that makes another scene, and waits until it is shown. */
export async function changes(page: Page, what: () => Promise<unknown>): Promise<void> {
  const before = await page.locator(".app").getAttribute("data-done");
  await what();
  await page.waitForFunction((before) => document.querySelector(".app")?.getAttribute("data-done") !== before, before);
  await settled(page);
}

/** What undo would undo. */
export const steps = (page: Page) => page.locator("header button").first().getAttribute("aria-label");

/** The figures as numbers: units first. */
export async function units(page: Page): Promise<number> {
  const text = await page.getByTestId("figures").innerText();
  const found = /(\d+) units/.exec(text);
  if (!found) throw new Error(`no units in: ${text}`);
  return Number(found[1]);
}

export interface Mortal {
  browser: Browser;
  context: BrowserContext;
  kill: () => Promise<void>;
}

/** A browser with a folder of its own, to be killed. */
export async function mortal(folder: string): Promise<Mortal> {
  const child = spawn(chromiumPath(), [...ARGUMENTS, "--headless", "--remote-debugging-port=0", `--user-data-dir=${folder}`, "--no-first-run", "about:blank"]);
  const address = await new Promise<string>((found, failed) => {
    let said = "";
    child.stderr.on("data", (data: Buffer) => {
      said += data.toString();
      const at = /DevTools listening on (\S+)/.exec(said)?.[1];
      if (at) found(at);
    });
    child.on("exit", () => failed(new Error(said)));
  });
  const browser = await chromium.connectOverCDP(address);
  const context = browser.contexts()[0];
  if (!context) throw new Error("no window");
  const kill = async () => {
    const gone = new Promise((done) => child.on("exit", done));
    child.kill("SIGKILL");
    await gone;
  };
  return { browser, context, kill };
}

/** What is saved by it. */
export async function downloaded(page: Page, click: () => Promise<unknown>): Promise<{ name: string; bytes: Uint8Array }> {
  const [download] = await Promise.all([page.waitForEvent("download", { timeout: 120_000 }), click()]);
  const path = join(scratch(), download.suggestedFilename());
  await download.saveAs(path);
  return { name: download.suggestedFilename(), bytes: readFileSync(path) };
}

/** How quick the page is, against the engine natively on one thread in the same run. */

import { execFileSync } from "node:child_process";
import { join } from "node:path";

import type { Page } from "playwright-core";

import { end, give, open, root, sample, settled } from "./browser";

/** The middle of several, in milliseconds. */
async function middle(times: number, what: () => Promise<number>): Promise<number> {
  const all: number[] = [];
  for (let at = 0; at < times; at++) all.push(await what());
  return all.sort((a, b) => a - b)[all.length >> 1] ?? 0;
}

const said = (what: string, took: number, most: number) => {
  console.log(`${what.padEnd(52)} ${took.toFixed(0).padStart(6)} ms, at most ${most} ms${took > most ? "   OVER" : ""}`);
};

/** From one dial to the next scene on the page. */
const dial = (page: Page, to: number) =>
  page.evaluate(async (to) => {
    const input = document.querySelector<HTMLInputElement>('[data-testid="panel-dials"] input[type="range"]');
    if (!input) throw new Error("no dial");
    const units = () => document.querySelector(".drawn .units");
    const before = units();
    const began = performance.now();
    input.value = String(to);
    input.dispatchEvent(new Event("input", { bubbles: true }));
    while (units() === before) await new Promise((frame) => requestAnimationFrame(frame));
    return performance.now() - began;
  }, to);

const visible = await middle(3, async () => {
  const began = performance.now();
  const { page, context } = await open("laptop");
  await page.getByTestId("sample-lighthouse").click();
  await page.locator(".drawn polygon").first().waitFor({ timeout: 60_000 });
  const took = performance.now() - began;
  await context.close();
  return took;
});
said("opened, a sample tapped, its scene seen", visible, 2000);

const { page, context } = await open("laptop");
await give(page, sample("headland-photo.jpg"));
await page.locator('[data-testid="panel-size"] summary').first().click();
await page.getByRole("button", { name: "throw" }).or(page.getByRole("button", { name: /sofa/ })).first().click();
await settled(page);
await page.getByLabel("Width", { exact: true }).fill("60");
await page.getByLabel("Height", { exact: true }).fill("80");
await page.getByLabel("Height", { exact: true }).press("Tab");
await settled(page);
let to = 3;
const scene = await middle(5, async () => dial(page, (to = to === 3 ? 7 : 3)));
// The answers to both are known by now: others are asked for.
const afresh: number[] = [];
for (const at of [4, 6, 8, 2]) afresh.push(await dial(page, at));
const took = afresh.sort((a, b) => a - b)[afresh.length >> 1] ?? 0;
said("a dial to its scene, 60 x 80 in, 12 fabrics", took, 400);
said("a dial to a scene that was there before", scene, 100);
const native = JSON.parse(execFileSync(join(root, "target/release/examples/native"), { encoding: "utf8", env: { ...process.env, RAYON_NUM_THREADS: "1" } })) as { revise: number };
console.log(`natively on one thread ${native.revise.toFixed(0)} ms: the page takes ${(took / native.revise).toFixed(1)} times that, at most 3`);

// From the tap to a mark that stands in the very next frame: what the page does in between.
const tap = await page.evaluate(async () => {
  const all: number[] = [];
  for (const unit of [...document.querySelectorAll('.scene polygon[data-unit]')].slice(3, 12)) {
    const { x, y, width, height } = unit.getBoundingClientRect();
    const at = { clientX: x + width / 2, clientY: y + height / 2, pointerId: 7, bubbles: true, button: 0 };
    await new Promise((next) => requestAnimationFrame(next));
    const before = [...document.querySelectorAll(".marks .taken")].map((one) => one.outerHTML).join();
    const began = performance.now();
    unit.dispatchEvent(new PointerEvent("pointerdown", at));
    unit.dispatchEvent(new PointerEvent("pointerup", at));
    await Promise.resolve();
    const took = performance.now() - began;
    await new Promise((next) => requestAnimationFrame(next));
    const after = [...document.querySelectorAll(".marks .taken")].map((one) => one.outerHTML).join();
    all.push(after === before ? Infinity : took);
  }
  return all.sort((a, b) => a - b)[all.length >> 1] ?? Infinity;
});
said("work of a tap whose mark the next frame shows", tap, 16);
await page.keyboard.press("Escape");

// Many small units: a wide bed of squares of 5 in, as fine as the dial goes.
await page.getByRole("button", { name: /wide bed/ }).click();
await settled(page);
await page.getByRole("checkbox", { name: "5 in", exact: true }).check();
await settled(page);
await page.getByRole("checkbox", { name: "10 in", exact: true }).uncheck();
await settled(page);
await dial(page, 11);
await settled(page);
const units = await page.locator(".drawn .units > g").count();
for (const [what, zoom] of [["panned", 0], ["zoomed", 1]] as const) {
  const took = await page.evaluate(async (zoom) => {
    const scene = document.querySelector(".scene");
    const box = scene?.getBoundingClientRect();
    if (!scene || !box) return [Infinity, Infinity] as const;
    const wheel = (deltaX: number, deltaY: number) =>
      scene.dispatchEvent(new WheelEvent("wheel", { deltaX, deltaY, clientX: box.x + box.width / 2, clientY: box.y + box.height / 2, cancelable: true }));
    wheel(0, -900);
    const frames: number[] = [];
    let last = 0;
    await new Promise<void>((done) => {
      const next = (now: number) => {
        if (last > 0) frames.push(now - last);
        last = now;
        if (frames.length >= 60) return done();
        const way = frames.length % 40 < 20 ? 1 : -1;
        if (zoom) wheel(0, way * 40);
        else wheel(way * 30, 1);
        requestAnimationFrame(next);
      };
      requestAnimationFrame(next);
    });
    wheel(0, 9000);
    frames.sort((a, b) => a - b);
    return [frames[30] ?? Infinity, frames[54] ?? Infinity] as const;
  }, zoom);
  said(`a frame of ${units} units ${what}, the middle of 60`, took[0], 17);
  said(`a frame of ${units} units ${what}, nine in ten`, took[1], 34);
}

const big = process.env["ROWSCAPE_BIG"];
if (big) {
  const began = performance.now();
  const before = await page.locator(".app").getAttribute("data-done");
  await page.locator('[data-testid="panel-picture"] input[type=file]').setInputFiles(big);
  await page.waitForFunction((before) => document.querySelector(".app")?.getAttribute("data-done") !== before, before, { polling: 20, timeout: 60_000 });
  said("a photo of 12 megapixels to its scene", performance.now() - began, 2500);
}
await context.close();
await end();

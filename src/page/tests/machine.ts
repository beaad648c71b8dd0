/** At the machine: a whole small scene sewn by ticks, by touch alone and by keys alone; nothing is lost, whatever falls. */

import assert from "node:assert/strict";
import { mkdirSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";

import { strFromU8, strToU8, unzipSync, zipSync } from "fflate";
import type { Page } from "playwright-core";

import { pace } from "../view/state/pace";
import { downloaded, fromDisk, hosted, mortal, open, part, scratch, settled, watched } from "./browser";

/** A small sketch as a picture: a sail before a sea, three colours of eight by six dots. */
const SKETCH = `<svg xmlns="http://www.w3.org/2000/svg" width="80" height="60" shape-rendering="crispEdges"><path fill="#8fb8d8" d="M0 0h80v60H0z"/><path fill="#24364f" d="M0 40h80v20H0z"/><path fill="#f3e9d2" d="M40 6v34H14z"/><path fill="#a33f2d" d="M20 40h44l-8 10H28z"/></svg>`;

/** The sketch as PNG, drawn by the page's own browser. */
async function sketch(page: Page): Promise<Buffer> {
  const address = await page.evaluate(async (svg) => {
    const picture = new Image();
    picture.src = `data:image/svg+xml,${encodeURIComponent(svg)}`;
    await picture.decode();
    const canvas = document.createElement("canvas");
    [canvas.width, canvas.height] = [80, 60];
    canvas.getContext("2d")?.drawImage(picture, 0, 0);
    return canvas.toDataURL("image/png");
  }, SKETCH);
  return Buffer.from(address.slice(address.indexOf(",") + 1), "base64");
}

/** Composes the sketch of four fabrics. */
async function small(page: Page, width = "40"): Promise<void> {
  await page.getByTestId("choose-picture").setInputFiles({ name: "sail.png", mimeType: "image/png", buffer: await sketch(page) });
  await page.getByTestId("figures").waitFor({ timeout: 60_000 });
  await settled(page);
  for (const [panel, act] of [
    ["size", () => typed(page, "Width", width)],
    ["dials", () => page.getByRole("slider", { name: /^Fabrics/ }).fill("4")],
  ] as const) {
    await part(page, panel);
    const before = await page.locator(".app").getAttribute("data-done");
    await act();
    await page.waitForFunction((before) => document.querySelector(".app")?.getAttribute("data-done") !== before, before);
    await settled(page);
  }
}

async function typed(page: Page, label: string, text: string): Promise<void> {
  await page.getByLabel(label, { exact: true }).fill(text);
  await page.getByLabel(label, { exact: true }).press("Tab");
}

const machine = (page: Page) => page.getByTestId("machine");
const at = (page: Page) => machine(page).getAttribute("data-at");
const counted = async (page: Page): Promise<[number, number]> => {
  const found = /(\d+) of (\d+)/.exec((await page.getByTestId("count").textContent()) ?? "");
  return [Number(found?.[1]), Number(found?.[2])];
};

/** Ticks the step that is shown, and waits until it is kept. */
async function tick(page: Page, how: () => Promise<unknown>): Promise<void> {
  const before = await machine(page).getAttribute("data-kept");
  // A second tap that follows at once is one that bounced.
  await page.waitForTimeout(130);
  await how();
  await page.waitForFunction((before) => document.querySelector("main.machine")?.getAttribute("data-kept") !== before, before, { polling: 20 });
}

/** What is ticked, read off the device. */
const onDevice = (page: Page): Promise<string[]> =>
  page.evaluate(
    () =>
      new Promise((resolve, reject) => {
        const request = indexedDB.open("rowscape-ticks");
        request.onerror = () => reject(request.error);
        request.onsuccess = () => {
          const store = request.result.transaction("ticks").objectStore("ticks");
          const found: string[] = [];
          store.openCursor().onsuccess = ({ target }) => {
            const cursor = (target as IDBRequest<IDBCursorWithValue | null>).result;
            if (!cursor) {
              request.result.close();
              return resolve(found.sort());
            }
            const key = String(cursor.key);
            if (!key.startsWith("@") && (cursor.value as { done: boolean }).done) found.push(key.slice(key.indexOf(" ") + 1));
            cursor.continue();
          };
        };
      }),
  );

/** Every text is large enough, every target is, and nothing sticks out. */
async function large(page: Page, what: string): Promise<void> {
  const wrong = await page.evaluate(() => {
    const found: string[] = [];
    const shown = (one: Element) => one.getClientRects().length > 0 && !one.closest(".spoken, svg");
    for (const one of document.querySelectorAll("main.machine button, main.machine select, main.machine input")) {
      const { width, height } = one.getBoundingClientRect();
      if (shown(one) && (width < 56 || height < 56)) found.push(`${one.textContent}: ${width} × ${height}`);
    }
    for (const one of document.querySelectorAll("main.machine *")) {
      const has = [...one.childNodes].some((node) => node.nodeType === 3 && node.textContent?.trim());
      if (has && shown(one) && !one.matches(".cloth, option") && parseFloat(getComputedStyle(one).fontSize) < 20) found.push(`small: ${one.textContent}`);
    }
    const { scrollWidth, clientWidth, scrollHeight, clientHeight } = document.documentElement;
    if (scrollWidth > clientWidth || scrollHeight > clientHeight) found.push(`${scrollWidth} × ${scrollHeight} in ${clientWidth} × ${clientHeight}`);
    const tick = document.querySelector('[data-testid="tick"]')?.getBoundingClientRect();
    if (tick && tick.bottom > innerHeight) found.push("the tick is out of sight");
    return found;
  });
  assert.deepEqual(wrong, [], what);
}

test("a small scene is sewn by ticks, by touch and offline, with a spoilt unit and a fabric that runs out on the way", async () => {
  const address = await hosted();
  const { page, context, faults, asked } = await open("phone", address);
  await page.evaluate(async () => {
    await navigator.serviceWorker.ready;
  });
  await page.waitForTimeout(300);
  await context.setOffline(true);
  await page.reload();
  await small(page);
  asked.length = 0;
  await page.getByRole("button", { name: "At the machine" }).tap();
  await page.getByTestId("step").waitFor();
  await large(page, "the first step");
  assert.match(await page.getByTestId("care").innerText(), /rotary cutter[\s\S]*makers' manuals/);
  const button = page.getByTestId("tick");
  const [none, all] = await counted(page);
  assert.equal(none, 0);
  assert.ok(all > 30 && all < 200, `${all} steps`);

  let spoilt = false;
  let out = false;
  let ticks = 0;
  for (;;) {
    const [done, of] = await counted(page);
    if (done === of) break;
    assert.ok(ticks < 400, "it comes to an end");
    const key = (await at(page)) ?? "";
    if (!out && key.startsWith("trim ")) {
      await page.getByRole("button", { name: "Something went wrong" }).tap();
      await large(page, "what went wrong");
      await page.locator("[data-out]").first().tap();
      await page.getByTestId("answer").waitFor({ timeout: 60_000 });
      await settled(page);
      assert.equal(await page.getByTestId("answer").locator("svg").count(), 2, "before and after");
      const kept = await onDevice(page);
      // Not to take it changes nothing.
      await page.getByRole("button", { name: "Leave it as it is" }).tap();
      assert.equal(await at(page), key);
      await page.getByRole("button", { name: "Something went wrong" }).tap();
      await page.locator("[data-out]").first().tap();
      await page.getByTestId("take").waitFor({ timeout: 60_000 });
      await large(page, "the answer");
      await page.getByTestId("take").tap();
      await page.getByTestId("step").waitFor();
      assert.equal(await at(page), key, "it goes on where she was");
      const then = new Set(await onDevice(page));
      assert.deepEqual(kept.filter((one) => !then.has(one)), [], "every tick is kept");
      out = true;
      continue;
    }
    const units = Number(await machine(page).getAttribute("data-units"));
    if (out && !spoilt && key.startsWith("row ") && units > 1) {
      const kept = await onDevice(page);
      await page.getByRole("button", { name: "Something went wrong" }).tap();
      const one = page.locator("[data-lost]").nth(1);
      const unit = (await one.getAttribute("data-lost")) ?? "";
      await one.tap();
      await page.getByTestId("answer").waitFor({ timeout: 60_000 });
      await settled(page);
      assert.match(await machine(page).innerText(), /[12] seams? to unpick:\n+Row /);
      await page.getByTestId("take").tap();
      await page.getByTestId("step").waitFor();
      const then = new Set(await onDevice(page));
      const gone = kept.filter((one) => !then.has(one));
      assert.ok(gone.length >= 1 && gone.length <= 3 && gone.every((one) => /^(join|strip) /.test(one)), `${unit}: ${gone.join("; ")}`);
      spoilt = true;
      // What is new is to do as well.
      await page.getByRole("button", { name: "All steps" }).tap();
      await large(page, "all steps");
      const [first] = await page.locator("[data-chapter]").all();
      await first?.tap();
      continue;
    }
    if ((await button.getAttribute("aria-pressed")) === "true") {
      // A chapter that is done was jumped to: on to what is to do.
      await page.getByRole("button", { name: "Step after" }).tap();
      continue;
    }
    await tick(page, () => button.tap());
    ticks += 1;
  }
  assert.ok(out && spoilt);
  await page.getByTestId("finished").waitFor();
  await page.getByRole("button", { name: "Back", exact: true }).tap();
  await page.getByTestId("figures").waitFor();
  assert.deepEqual(asked.filter((url) => !/^(blob|data):/.test(url)), [], "nothing is asked for");
  assert.deepEqual(faults, []);
  await context.close();
});

test("by keys alone: ticked, taken back, gone through, filtered, and a unit sewn the wrong way round", async () => {
  const { page, context, faults, asked } = await open("tablet");
  await small(page);
  await page.getByRole("button", { name: "At the machine" }).focus();
  await page.keyboard.press("Enter");
  await page.getByTestId("step").waitFor();
  await large(page, "a tablet");
  await page.setViewportSize({ width: 1180, height: 820 });
  await large(page, "a tablet on its side");
  await page.setViewportSize({ width: 780, height: 360 });
  await large(page, "a phone on its side");
  const first = await at(page);
  await tick(page, () => page.keyboard.press("Space"));
  const second = await at(page);
  assert.notEqual(second, first);
  await tick(page, () => page.keyboard.press("Enter"));
  await page.keyboard.press("ArrowLeft");
  assert.equal(await at(page), second);
  assert.equal(await page.getByTestId("tick").getAttribute("aria-pressed"), "true");
  await tick(page, () => page.keyboard.press("Space"));
  assert.deepEqual(await onDevice(page), [first]);
  await page.keyboard.press("ArrowRight");
  assert.notEqual(await at(page), second);

  await page.keyboard.press("a");
  await page.locator('[data-chapter="rows"]').focus();
  await page.keyboard.press("Enter");
  assert.match((await at(page)) ?? "", /^(join|row) /);
  // A unit that is turned is one of two fabrics.
  for (let tries = 0; tries < 60; tries++) {
    await page.keyboard.press("e");
    if ((await page.locator("[data-turned]").count()) > 0) break;
    await page.keyboard.press("Escape");
    await page.keyboard.press("ArrowRight");
  }
  const title = await machine(page).getAttribute("data-title");
  await page.locator("[data-turned]").first().focus();
  await page.keyboard.press("Enter");
  await page.getByTestId("answer").waitFor({ timeout: 60_000 });
  await settled(page);
  assert.match(await machine(page).innerText(), /No seam to unpick/);
  await page.getByTestId("take").focus();
  await page.keyboard.press("Enter");
  await page.getByTestId("step").waitFor();
  await page.keyboard.press("a");
  await page.locator('[data-chapter="rows"]').focus();
  await page.keyboard.press("Enter");
  for (let tries = 0; tries < 60 && (await machine(page).getAttribute("data-title")) !== title; tries++) await page.keyboard.press(tries < 30 ? "ArrowRight" : "ArrowLeft");
  assert.equal(await machine(page).getAttribute("data-title"), title);
  assert.equal(await page.getByTestId("tick").getAttribute("aria-pressed"), "true", "as it is sewn it stays");

  // A row that is too long: what to do is told.
  await page.keyboard.press("e");
  await page.getByRole("button", { name: "The row is too long or too short" }).focus();
  await page.keyboard.press("Enter");
  await page.getByRole("textbox").fill("40");
  await page.getByRole("textbox").press("Enter");
  await page.getByTestId("remedy").getByText("must measure").waitFor();
  await page.keyboard.press("Tab");
  await page.keyboard.press("Escape");

  // Only what uses one fabric.
  await page.keyboard.press("a");
  const chip = page.locator(".chips button").nth(1);
  await chip.focus();
  await page.keyboard.press("Enter");
  const letter = (await chip.getAttribute("data-fabric")) ?? "";
  await page.keyboard.press("Escape");
  for (let tries = 0; tries < 5; tries++) {
    const of = ((await machine(page).getAttribute("data-fabrics")) ?? "").split(" ");
    assert.ok(of.includes(letter), `${letter} in ${of.join()}`);
    await page.keyboard.press("ArrowRight");
  }
  await page.keyboard.press("Escape");
  await page.getByTestId("figures").waitFor();
  const elsewhere = asked.filter((url) => !/^(blob|data|about):/.test(url) && url !== fromDisk);
  assert.deepEqual(elsewhere, []);
  assert.deepEqual(faults, []);
  await context.close();
});

test("ticks go along in the scene's file; an older file opens, and of a newer one it is said", async () => {
  const { page, context, faults } = await open("laptop");
  await small(page);
  await page.getByRole("button", { name: "At the machine" }).click();
  await page.getByTestId("step").waitFor();
  for (let tries = 0; tries < 4; tries++) await tick(page, () => page.keyboard.press("Space"));
  const kept = await onDevice(page);
  await page.keyboard.press("Escape");
  const saved = Buffer.from((await downloaded(page, () => page.getByRole("button", { name: "Save", exact: true }).click())).bytes);
  await context.close();

  const other = await open("tablet");
  const bring = async (buffer: Buffer) => {
    await other.page.getByTestId("open-file").setInputFiles({ name: "sail.rowscape", mimeType: "application/zip", buffer });
  };
  await bring(saved);
  await other.page.getByText(`${kept.length} ticks came with the file.`).waitFor();
  assert.deepEqual(await onDevice(other.page), kept);
  await other.page.getByRole("button", { name: "At the machine" }).click();
  await other.page.getByTestId("step").waitFor();
  assert.equal((await counted(other.page))[0], kept.length);
  // What is taken back here since stays so: the file is older.
  await other.page.keyboard.press("ArrowLeft");
  await tick(other.page, () => other.page.keyboard.press("Space"));
  await other.page.keyboard.press("Escape");
  await other.page.getByRole("button", { name: "New", exact: true }).click();
  await bring(saved);
  await other.page.getByText("the later counts: 0 are the file's").waitFor();
  assert.equal((await onDevice(other.page)).length, kept.length - 1);

  const files = unzipSync(saved);
  const said = JSON.parse(strFromU8(files["page.json"]!)) as { version: number; steps: { quilt?: string }[] };
  const pack = (page: unknown, ticks: Uint8Array | null) => {
    const made: Record<string, Uint8Array> = { ...files, "page.json": strToU8(JSON.stringify(page)) };
    delete made["ticks.json"];
    return Buffer.from(zipSync(ticks ? { ...made, "ticks.json": ticks } : made));
  };
  const fresh = async () => other.page.getByRole("button", { name: "New", exact: true }).click();
  await fresh();
  await bring(pack({ ...said, version: 1, steps: said.steps.map(({ quilt, ...step }) => ({ ...step, older: quilt === undefined })) }, null));
  await other.page.getByTestId("figures").waitFor();
  await other.page.getByRole("button", { name: "At the machine" }).click();
  await other.page.getByTestId("step").waitFor();
  assert.equal((await counted(other.page))[0], 0, "an older file has no ticks");
  await other.page.keyboard.press("Escape");
  await fresh();
  await bring(pack(said, strToU8('{"version":99,"ticks":[]}')));
  await other.page.getByText("What could not be read of the file was left out: ticks.").waitFor();
  await fresh();
  await bring(pack({ ...said, version: 3 }, files["ticks.json"]!));
  await other.page.getByText("This file was saved by a newer page").waitFor();
  assert.deepEqual(faults, []);
  assert.deepEqual(other.faults, []);
  await other.context.close();
});

/** Where in each run the browser is killed: fixed, so that it is the same in every run. */
const SEED = 20261129;

function dice(seed: number): () => number {
  let state = seed;
  // Numerical Recipes, second edition, section 7.1: the quick and dirty generator "ranqd1".
  return () => (state = (Math.imul(state, 1664525) + 1013904223) >>> 0) / 2 ** 32;
}

async function until(is: () => boolean): Promise<void> {
  for (let tries = 0; !is(); tries++) {
    assert.ok(tries < 1500, "waited in vain");
    await new Promise((done) => setTimeout(done, 20));
  }
}

/** Ticks on a device of its own whose browser is killed again and again; how many ticks were kept. */
async function killed(kills: number, roll: () => number): Promise<number> {
  const folder = join(scratch(), "profile");
  mkdirSync(folder);
  const kept = new Set<string>();
  for (let run = 0; run <= kills; run++) {
    const { kill, context } = await mortal(folder);
    const { page } = await watched(await context.newPage(), fromDisk);
    if (run === 0) {
      await small(page, "72");
      await page.getByRole("button", { name: "At the machine" }).click();
    } else {
      await page.locator(".kept .tile").first().click();
    }
    // Where she was is where it opens.
    await page.getByTestId("step").waitFor();
    const there = new Set(await onDevice(page));
    assert.deepEqual([...kept].filter((key) => !there.has(key)), [], `after kill ${run}`);
    assert.ok((await counted(page))[0] >= kept.size);
    if (run < kills) {
      const before = kept.size;
      // The page tells what it shows as kept as it shows it; what was told before the browser fell must be there.
      page.on("console", (said) => said.text().startsWith("kept ") && kept.add(said.text().slice(5)));
      await page.evaluate(() => {
        const main = document.querySelector("main.machine");
        let [at, known] = [main?.getAttribute("data-at"), main?.getAttribute("data-kept")];
        new MutationObserver(() => {
          const now = main?.getAttribute("data-kept");
          if (now !== known) console.log(`kept ${at}`);
          [at, known] = [main?.getAttribute("data-at"), now];
        }).observe(main!, { attributes: true });
        setInterval(() => (document.querySelector('[data-testid="tick"][aria-pressed="false"]') as HTMLElement | null)?.click(), 20);
      });
      await until(() => kept.size > before);
      await page.waitForTimeout(roll() * 400);
    }
    await kill();
  }
  return kept.size;
}

test("no tick is lost, whenever the browser is killed", async () => {
  const seeds = [SEED, SEED + 1];
  console.log(`killed 20 times, at moments of the seeds ${seeds.join(" and ")}`);
  const kept = await Promise.all(seeds.map((seed) => killed(10, dice(seed))));
  console.log(`${kept.join(" and ")} ticks kept`);
  assert.ok(kept.every((ticks) => ticks >= 10), kept.join());
});

test("the pace is the middle of her times, without breaks and without what was made up for", () => {
  const step = (at: number, chapter = "rows", amount = 1) => ({ at: at * 60_000, chapter, amount });
  assert.equal(pace([1, 2, 3].map((at) => step(at)), [step(0)]), null, "too few ticks say nothing");
  // Two minutes each, a night between, and three that were ticked at once.
  const times = [0, 2, 4, 6, 8, 600, 602, 604, 604, 604, 606];
  const known = pace(times.map((at) => step(at)), Array.from({ length: 10 }, () => step(0)));
  assert.equal(known?.left, 10 * 2 * 60_000);
  assert.equal(known?.from, 7);
  assert.equal(known?.guessed, 0);
  // Twice the seam takes twice as long; of a chapter that was never done it is a guess.
  const more = pace(times.map((at) => step(at, "rows", 4)), [step(0, "rows", 8), step(0, "finish", 100)]);
  assert.equal(more?.left, (4 + 2) * 60_000);
  assert.equal(more?.guessed, 1);
});

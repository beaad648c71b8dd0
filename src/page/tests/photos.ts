/** Her fabrics by photograph: prints found, mended by taps and keys, counted, and the scene shown in them. */

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";

import type { Page } from "playwright-core";

import { fromDisk, give, open, root, sample, settled } from "./browser";
import { COLOURS, PAPER, PLACES, photograph } from "./table";

const prints = (page: Page) => page.locator(".prints > li");
const SEED = 20261129;

/** Gives photographs, and waits until all are looked through. */
async function show(page: Page, ...photos: Buffer[]): Promise<void> {
  await page.getByTestId("choose-photos").setInputFiles(photos.map((buffer, at) => ({ name: `table-${buffer.length}-${at}.jpg`, mimeType: "image/jpeg", buffer })));
  await page.getByTestId("photo").waitFor({ timeout: 60_000 });
  await settled(page);
}

/** Taps or clicks a place of the photograph. */
async function tap(page: Page, [x, y]: readonly [number, number]): Promise<void> {
  const pad = page.locator(".snap");
  await pad.scrollIntoViewIfNeeded();
  const box = await pad.boundingBox();
  assert.ok(box);
  await pad.click({ position: { x: x * box.width, y: y * box.height } });
  await settled(page);
}

const tool = (page: Page, name: string) => page.getByTestId("photo").getByRole("radio", { name, exact: true }).check();

const middle = ([x, y, w, h]: readonly [number, number, number, number]): [number, number] => [x + w / 2, y + h / 2];

/** The colours that were read, by place. */
const read = (page: Page) => page.locator(".prints .reads").evaluateAll((all) => all.map((one) => getComputedStyle(one).backgroundColor.match(/\d+/g)!.map(Number)));

for (const size of ["phone", "tablet"] as const) {
  test(`a photograph of fabrics becomes a stash and a scene in them: ${size}`, async () => {
    const { page, context, faults, asked } = await open(size);
    const table = await photograph(page, [0, 1, 2, 3, 4, 5, 6, 7], SEED);
    await page.getByRole("button", { name: "Photograph my fabrics" }).click();
    await show(page, table);

    await tool(page, "White paper");
    await tap(page, PAPER);
    assert.equal(await prints(page).count(), COLOURS.length, "the paper is none");
    const colours = await read(page);
    COLOURS.forEach((colour, at) => {
      const drawn = [1, 3, 5].map((from) => parseInt(colour.slice(from, from + 2), 16));
      const off = Math.max(...drawn.map((level, channel) => Math.abs(level - (colours[at]?.[channel] ?? 0))));
      assert.ok(off < 24, `${colour} was read as ${colours[at]}`);
    });

    await tool(page, "Not this");
    await tap(page, middle(PLACES[2]!));
    assert.equal(await prints(page).count(), COLOURS.length - 1);
    await page.getByRole("button", { name: "Take that back" }).click();
    await settled(page);
    assert.equal(await prints(page).count(), COLOURS.length);

    // What she says of a print stays with it when others are mended.
    await prints(page).nth(1).getByRole("textbox", { name: "2, called" }).fill("harvest");
    await prints(page).nth(1).getByRole("textbox", { name: "2, called" }).press("Tab");
    await prints(page).nth(5).getByRole("button", { name: /^Not this/ }).click();
    await settled(page);
    assert.equal(await prints(page).count(), COLOURS.length - 1);
    assert.equal(await prints(page).nth(1).getByRole("textbox", { name: "2, called" }).inputValue(), "harvest");

    // By keys alone: the cross is in the middle of the table, between the prints, and is led to the one that was taken away.
    await tool(page, "Box");
    const pad = page.locator(".snap");
    await pad.focus();
    const [from, to] = [PLACES[5]![0] + 0.04, PLACES[5]![0] + 0.16];
    const lead = async (key: string, by: number) => {
      for (let at = 0; at < Math.round(by / 0.02); at++) await pad.press(key);
    };
    await lead("ArrowLeft", 0.5 - from);
    await lead("ArrowDown", 0.06);
    await pad.press("Enter");
    await lead("ArrowRight", to - from);
    await lead("ArrowDown", 0.24);
    await pad.press("Enter");
    await settled(page);
    assert.equal(await prints(page).count(), COLOURS.length);

    // The same fabrics on another photograph are known again, in the light of its own paper.
    await show(page, await photograph(page, [7, 0, 4], SEED + 1));
    await tool(page, "White paper");
    await tap(page, PAPER);
    await page.getByTestId("twins").locator(".twin").nth(1).waitFor();
    await page.getByRole("radio", { name: "Yards", exact: true }).check();
    for (let at = 0; at < 6; at++) await page.getByRole("button", { name: "Of each: more" }).click();
    assert.equal(await page.getByRole("group", { name: "Of each" }).locator("output").innerText(), "2 yd");
    const use = page.getByRole("button", { name: /^Use these \d+ fabrics$/ });
    assert.ok(Number(/\d+/.exec(await use.innerText())?.[0]) <= COLOURS.length + 1);
    await use.click();
    await settled(page);
    await give(page, sample("quay-houses.png"));
    await page.locator(".drawn .prints polygon").first().waitFor({ state: "attached" });
    const pictured = await page.locator(".drawn pattern image").count();
    assert.ok(pictured >= 4 * 4, `${pictured} tiles of prints`);
    const elsewhere = asked.filter((url) => !/^(blob|data|about):/.test(url) && url !== fromDisk);
    assert.deepEqual(elsewhere, []);
    assert.deepEqual(faults, []);
    await context.close();
  });
}

test("a phone's HEIC photo makes the scene of the same picture", async () => {
  const { page, context, faults } = await open("phone");
  const figures = async (file: string) => {
    await give(page, file);
    const said = await page.getByTestId("figures").innerText();
    await page.getByRole("button", { name: "New", exact: true }).click();
    await page.getByTestId("choose-picture").waitFor({ state: "attached" });
    return said;
  };
  const heic = await figures(join(root, "tests/data/heic/turned-90.heic"));
  assert.equal(heic, await figures(sample("lighthouse-dusk.png")));
  // Not one of these formats, and one that is cut short.
  const cut = readFileSync(join(root, "tests/data/heic/tiles.heic")).subarray(0, 9000);
  await page.getByTestId("choose-picture").setInputFiles({ name: "cut.heic", mimeType: "image/heic", buffer: cut });
  await page.getByRole("alert").getByText("cut short or damaged").waitFor();
  assert.deepEqual(faults, []);
  await context.close();
});

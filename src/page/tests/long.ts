/** Long work is shown, may be stopped, and gives what it has when that is enough; her own fabrics by taps. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { changes, give, open, part, sample, settled, steps, units } from "./browser";

test("long work may be stopped, and the best so far taken", async () => {
  const { page, context, faults } = await open("phone");
  await give(page, sample("headland-photo.jpg"));
  const before = await units(page);
  const stash = page.getByTestId("open-stash");
  await stash.setInputFiles(sample("stash-harbour.toml"));
  await page.getByTestId("working").getByRole("button", { name: "Stop" }).click();
  await settled(page);
  assert.equal(await units(page), before, "what is stopped changes nothing");
  await part(page, "size");
  await changes(page, async () => {
    await page.getByLabel("Width", { exact: true }).fill("48");
    await page.getByLabel("Width", { exact: true }).press("Tab");
  });
  await changes(page, async () => {
    await stash.setInputFiles(sample("stash-harbour.toml"));
    await page.getByRole("button", { name: "Enough, take this one" }).click();
  });
  assert.match((await steps(page)) ?? "", /stash/);
  // Its files are proved: what is taken early can be cut of the stash as well.
  await page.getByRole("button", { name: "The list" }).click();
  const [download] = await Promise.all([
    page.waitForEvent("download", { timeout: 60_000 }),
    page.getByRole("button", { name: "Save all files" }).click(),
  ]);
  assert.match(download.suggestedFilename(), /\.zip$/);
  assert.deepEqual(faults, []);
  await context.close();
});

test("her own fabrics are counted by taps, and the scene is made of them", async () => {
  const { page, context, faults } = await open("laptop");
  await page.getByTestId("sample-boats").click();
  await page.getByTestId("figures").waitFor();
  await settled(page);
  await part(page, "fabrics");
  const own = page.getByTestId("own-stash");
  for (const [name, colour] of [["night", "#24364f"], ["sail", "#f3e9d2"], ["sea", "#3f6f94"], ["rust", "#a33f2d"]] as const) {
    await own.getByRole("button", { name: "Add a fabric" }).click();
    const sheet = own.getByTestId("fabric-sheet");
    await sheet.getByLabel("Name").fill(name);
    await sheet.getByLabel("Name").press("Tab");
    await sheet.getByLabel("Colour").fill(colour);
    await sheet.getByLabel("squares of 10 in").fill("60");
    await sheet.getByLabel("squares of 10 in").press("Tab");
    await sheet.getByRole("button", { name: "Done" }).click();
  }
  await changes(page, () => own.getByRole("button", { name: "Piece it" }).click());
  const letters = await page.locator(".scene polygon[data-fabric]").evaluateAll((all) => [...new Set(all.map((one) => one.getAttribute("data-fabric")))]);
  assert.ok(letters.every((letter) => letter !== null && "ABCD".includes(letter)), letters.join());
  assert.match(await page.getByTestId("panel-fabrics").innerText(), /night/);
  const more = page.getByTestId("one-more");
  await more.getByRole("button", { name: "Find out" }).click();
  await more.getByText(/What would help most|makes the scene better/).waitFor({ timeout: 120_000 });
  assert.deepEqual(faults, []);
  await context.close();
});

test("what is drawn on the pad is pieced, and what is painted over matters", async () => {
  const { page, context, faults } = await open("tablet");
  await page.getByRole("button", { name: "Draw one" }).click();
  const pad = page.locator(".pad canvas");
  const box = await pad.boundingBox();
  assert.ok(box);
  await page.getByRole("radio", { name: "Line" }).check();
  await page.mouse.move(box.x + 20, box.y + box.height / 2);
  await page.mouse.down();
  await page.mouse.move(box.x + box.width - 20, box.y + box.height / 2, { steps: 5 });
  await page.mouse.up();
  await page.getByRole("radio", { name: "Fill" }).check();
  await page.getByRole("radio", { name: "#24364f" }).check();
  await page.mouse.click(box.x + 30, box.y + box.height - 20);
  await page.getByRole("button", { name: "Piece it" }).click();
  await page.getByTestId("figures").waitFor({ timeout: 60_000 });
  await settled(page);
  await part(page, "picture");
  await page.getByRole("checkbox", { name: "Paint what matters" }).check();
  const brush = page.locator("canvas.brush");
  await brush.evaluate((one) => one.scrollIntoView({ block: "end" }));
  const over = await brush.boundingBox();
  assert.ok(over);
  await changes(page, async () => {
    await page.mouse.move(over.x + over.width * 0.4, over.y + over.height * 0.7);
    await page.mouse.down();
    await page.mouse.move(over.x + over.width * 0.6, over.y + over.height * 0.75, { steps: 4 });
    await page.mouse.up();
  });
  assert.match((await steps(page)) ?? "", /matters/);
  assert.deepEqual(faults, []);
  await context.close();
});

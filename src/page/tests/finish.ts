/** From the top to the quilt: asked for by taps, in the list, and nothing of the top changes. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { changes, give, open, part, sample, settled } from "./browser";

test("borders, backing and binding are asked for, and stand in the list", async () => {
  const { page, context, faults } = await open("phone");
  await give(page, sample("quay-houses.png"));
  const scene = () => page.locator(".drawn .units").innerHTML();
  const before = await scene();
  await part(page, "finish");
  const panel = page.getByTestId("panel-finish");
  await changes(page, () => panel.getByRole("button", { name: "Backing, batting and binding" }).click());
  await changes(page, () => panel.getByRole("button", { name: "Add a border" }).click());
  await changes(page, () => panel.getByRole("radio", { name: "mitred" }).check());
  // A border wider than any cloth is refused where it was typed, and what was asked for before stays.
  const width = panel.getByLabel("Border 1, finished");
  await width.fill("400");
  await width.press("Tab");
  await panel.getByRole("alert").waitFor();
  await changes(page, async () => {
    await width.fill("2 1/2");
    await width.press("Tab");
  });
  await changes(page, () => panel.getByRole("radio", { name: "in half circles" }).check());
  await changes(page, () => panel.getByRole("checkbox", { name: "A sleeve to hang it by" }).check());
  assert.equal(await scene(), before, "nothing of the top changed");
  await page.getByRole("button", { name: "The list" }).click();
  const list = page.frameLocator("iframe");
  await list.locator("h1").first().waitFor({ timeout: 60_000 });
  await settled(page);
  const text = await list.locator("body").innerText();
  for (const word of ["Borders", "Backing", "Batting", "Binding", "Sleeve"]) assert.match(text, new RegExp(word, "i"));
  assert.doesNotMatch(text, /--[a-z]|undefined|NaN/);
  assert.deepEqual(faults, []);
  await context.close();
});

test("a pieced border, a facing, and what the work takes and costs", async () => {
  const { page, context, faults } = await open("laptop");
  await give(page, sample("quay-houses.png"));
  await part(page, "finish");
  const panel = page.getByTestId("panel-finish");
  await changes(page, () => panel.getByRole("button", { name: "Backing, batting and binding" }).click());
  await changes(page, () => panel.getByRole("button", { name: "Add a border" }).click());
  await changes(page, () => panel.getByRole("radio", { name: "triangle units" }).check());
  await changes(page, () => panel.getByRole("checkbox", { name: "Facing in place of a binding" }).check());
  await part(page, "estimate");
  const reckoned = page.getByTestId("panel-estimate");
  const times = reckoned.getByTestId("times");
  await times.waitFor();
  for (const part of ["Cutting", "Rows", "Joining rows", "Finishing", "Quilting", "In all"]) await times.getByRole("rowheader", { name: part, exact: true }).waitFor();
  const yard = reckoned.getByLabel("A yard of cloth");
  await yard.fill("14,50 €");
  await yard.press("Tab");
  const costs = reckoned.getByTestId("costs");
  await costs.getByRole("rowheader", { name: "Facing" }).waitFor();
  assert.match(await costs.innerText(), /In all\s+\d+,\d\d €/);
  assert.match(await reckoned.innerText(), /has no price is not in the sum/);
  const square = reckoned.getByLabel("A precut square");
  await square.fill("$1");
  await square.press("Tab");
  await reckoned.getByRole("alert").waitFor();
  await square.fill("0,80 €");
  await square.press("Tab");
  await reckoned.getByRole("alert").waitFor({ state: "detached" });
  // What it came to is kept on the device, and a dearer fabric makes it more.
  const sum = async () => Number((await costs.innerText()).match(/In all\s+([\d,]+)/)?.[1]?.replace(",", "."));
  const before = await sum();
  await reckoned.getByText("Fabrics that cost other than the rest").click();
  const dear = reckoned.getByLabel(/, a yard$/).first();
  await dear.fill("90,00 €");
  await dear.press("Tab");
  await page.waitForFunction((before) => Number(document.querySelector('[data-testid="costs"]')?.textContent?.match(/In all([\d,]+)/)?.[1]?.replace(",", ".")) > before, before);
  await page.getByRole("button", { name: "The list" }).click();
  const list = page.frameLocator("iframe");
  await list.locator("h1").first().waitFor({ timeout: 60_000 });
  await settled(page);
  assert.match(await list.locator("body").innerText(), /Facing/);
  assert.deepEqual(faults, []);
  await context.close();
});

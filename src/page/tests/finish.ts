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

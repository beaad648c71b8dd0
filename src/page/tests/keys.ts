/** All of it by keys: units walked, taken, kept, and undone. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { changes, open, settled } from "./browser";

test("units are walked and taken by keys", async () => {
  const { page, context, faults } = await open("laptop");
  await page.getByTestId("sample-lighthouse").focus();
  await page.keyboard.press("Enter");
  await page.getByTestId("figures").waitFor({ timeout: 60_000 });
  await settled(page);
  const list = page.getByRole("listbox");
  await list.focus();
  const first = await list.getAttribute("aria-activedescendant");
  await page.keyboard.press("ArrowRight");
  const second = await list.getAttribute("aria-activedescendant");
  assert.notEqual(second, first);
  const spoken = await page.locator(`[id="${second}"]`).getAttribute("aria-label");
  assert.match(spoken ?? "", /^\d+\.\d+\.\d+\.\d+, (filler|big|small|mini)/);
  await page.keyboard.press("Space");
  assert.equal(await page.locator('[role="option"][aria-selected="true"]').count(), 1);
  await page.keyboard.press("Shift+ArrowDown");
  assert.equal(await page.locator('[role="option"][aria-selected="true"]').count(), 2);
  await changes(page, () => page.keyboard.press("k"));
  assert.equal(await page.locator(".marks .kept").count(), 2);
  await page.keyboard.press("Control+z");
  assert.equal(await page.locator(".marks .kept").count(), 0);
  await page.keyboard.press("Control+Shift+z");
  assert.equal(await page.locator(".marks .kept").count(), 2);
  assert.deepEqual(faults, []);
  await context.close();
});

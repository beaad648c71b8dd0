/** Nothing leaves the device, and nothing is needed from elsewhere. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { fromDisk, give, hosted, newer, open, sample, units } from "./browser";

test("from the disk nothing is asked for but the page", async () => {
  const { page, context, asked, faults } = await open("laptop");
  await give(page, sample("headland-photo.jpg"));
  await page.getByRole("button", { name: "The list" }).click();
  await page.frameLocator("iframe").locator("h1").first().waitFor({ timeout: 60_000 });
  const elsewhere = asked.filter((url) => !/^(blob|data|about):/.test(url) && url !== fromDisk);
  assert.deepEqual(elsewhere, []);
  assert.deepEqual(faults, []);
  await context.close();
});

test("the page may not connect, even where it tries", async () => {
  const address = await hosted();
  const { page, context } = await open("laptop", address);
  const tried = await page.evaluate(async () => {
    const ways = [() => fetch("index.html"), () => fetch("http://127.0.0.1:9/")];
    return Promise.all(ways.map((way) => way().then(() => "went", () => "refused")));
  });
  assert.deepEqual(tried, ["refused", "refused"]);
  await context.close();
});

test("hosted, it opens and works without a network", async () => {
  const address = await hosted();
  const { page, context, asked } = await open("phone", address);
  await page.evaluate(async () => {
    await navigator.serviceWorker.ready;
  });
  await page.waitForTimeout(500);
  const foreign = asked.filter((url) => !/^(blob|data):/.test(url) && !url.startsWith(address));
  assert.deepEqual(foreign, []);
  await context.setOffline(true);
  await page.reload();
  await page.getByTestId("sample-boats").click();
  await page.getByTestId("figures").waitFor({ timeout: 60_000 });
  assert.ok((await units(page)) > 10);
  await context.close();
});

test("a newer page is told of, and taken when she says so", async () => {
  const address = await hosted();
  const { page, context } = await open("phone", address);
  await page.evaluate(async () => {
    await navigator.serviceWorker.ready;
  });
  await page.reload();
  newer.text = "later-";
  await page.reload();
  const take = page.getByRole("button", { name: "Use it now" });
  await take.waitFor();
  await Promise.all([page.waitForEvent("load"), take.click()]);
  await page.getByTestId("sample-boats").waitFor();
  assert.equal(await take.count(), 0);
  newer.text = "";
  await context.close();
});

/** The whole story, from a photo to a printed list, in laptop and phone size, from the disk and hosted. */

import assert from "node:assert/strict";
import { mkdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";

import { unzipSync, strFromU8 } from "fflate";
import type { Page } from "playwright-core";

import type { Plan } from "built/rowscape";

import { built, changes, downloaded, fromDisk, give, hosted, mortal, open, part, reveal, sample, scratch, settled, steps, units, watched } from "./browser";
import type { Size } from "./browser";
import { compare, textOf } from "./printed";

const placed = (plan: Plan) => plan.bands.flatMap((band) => band.columns.flatMap((column) => column.rows.flatMap((row) => row.units)));

async function files(page: Page): Promise<Record<string, Uint8Array>> {
  const { bytes } = await downloaded(page, () => page.getByRole("button", { name: "Save all files" }).click());
  return unzipSync(bytes);
}

/** A pinned fabric stays when others are proposed, and is let go again. */
async function pinned(page: Page): Promise<void> {
  const fabrics = page.getByTestId("panel-fabrics");
  const first = fabrics.locator(".swatches").first();
  const cloth = (at: number) => first.locator(".cloth").nth(at).evaluate((one: HTMLElement) => `${one.textContent} ${one.style.background}`);
  const all = () => first.locator(".cloth").evaluateAll((all) => all.map((one) => `${one.textContent} ${(one as HTMLElement).style.background}`));
  const [kept, before] = [await cloth(2), await all()];
  await changes(page, () => first.locator(".pin").nth(2).click());
  await part(page, "dials");
  await changes(page, () => page.getByRole("slider", { name: /^Fabrics/ }).fill("11"));
  assert.equal((await all()).length, 11);
  assert.equal(await cloth(0), kept, "a pinned fabric comes first, as it was");
  await changes(page, () => fabrics.getByRole("button", { name: "Propose the others afresh" }).click());
  assert.equal(await cloth(0), kept);
  await changes(page, () => page.getByRole("slider", { name: /^Fabrics/ }).fill("8"));
  assert.ok((await all()).includes(kept));
  await changes(page, () => first.locator(".pin").first().click());
  assert.equal(await first.locator('[aria-pressed="true"]').count(), 0);
  await changes(page, () => page.getByRole("slider", { name: /^Fabrics/ }).fill("9"));
  await changes(page, () => page.getByRole("slider", { name: /^Fabrics/ }).fill("8"));
  assert.deepEqual(await all(), before, "with no pin the same are proposed as ever");
}

async function story(page: Page): Promise<void> {
  await give(page, sample("headland-photo.jpg"));
  assert.ok((await units(page)) > 20);

  await part(page, "picture");
  const corner = page.getByRole("button", { name: "Lower right corner" });
  await changes(page, () => corner.press("ArrowLeft"));
  await changes(page, () => page.getByRole("button", { name: "Whole picture" }).click());

  await part(page, "size");
  const width = page.getByLabel("Width", { exact: true });
  await width.fill("wide");
  await width.press("Tab");
  await page.getByRole("alert").getByText("“wide” is not a length").waitFor();
  assert.equal(await width.inputValue(), "wide", "what was refused stays to be mended");
  await changes(page, async () => {
    await page.getByLabel("Width", { exact: true }).fill("54");
    await page.getByLabel("Width", { exact: true }).press("Tab");
  });
  assert.match(await page.getByTestId("figures").innerText(), /54 in × /);

  await part(page, "choices");
  await page.getByRole("radio", { name: "number of fabrics" }).check();
  await page.getByRole("button", { name: "Show me choices" }).click();
  await page.getByRole("button", { name: "Take 8 fabrics" }).waitFor({ timeout: 60_000 });
  await page.getByRole("button", { name: "Take 24 fabrics" }).waitFor({ timeout: 120_000 });
  await changes(page, () => page.getByRole("button", { name: "Take 8 fabrics" }).click());
  await part(page, "fabrics");
  assert.equal(await page.getByTestId("panel-fabrics").locator(".swatches").first().locator("li").count(), 8);

  await pinned(page);

  const polygons = page.locator(".scene polygon[data-unit]");
  await polygons.nth(6).click({ force: true });
  assert.match(await page.getByTestId("taken").innerText(), /^\d+\.\d+\.\d+\.\d+ /);
  await changes(page, () => page.getByRole("button", { name: "Keep", exact: true }).click());
  assert.ok((await page.locator(".marks .kept").count()) >= 1);
  await changes(page, () => page.getByRole("button", { name: "Exchange", exact: true }).click());

  const triangle = page.locator('.scene polygon[data-kind="big"], .scene polygon[data-kind="small"]').first();
  await page.keyboard.press("Escape");
  await triangle.click({ force: true });
  await changes(page, () => page.locator(".marks").getByRole("button", { name: "Turn", exact: true }).click());
  assert.match((await steps(page)) ?? "", /turned/);

  const row = page.getByTestId("row-off");
  await row.locator("summary").click();
  await row.getByRole("textbox").fill("100");
  await row.getByRole("textbox").press("Tab");
  await row.getByText("must measure 54 1/2 in and is 45 1/2 in longer").waitFor();
  assert.doesNotMatch(await row.innerText(), /--|`/);

  const swatches = page.getByTestId("panel-fabrics").locator(".swatches").first().locator(".swatch");
  await swatches.nth(3).click();
  await changes(page, () => page.getByRole("button", { name: "Do without it" }).click());
  assert.equal(await swatches.count(), 7);

  const without = await units(page);
  await page.locator("header button").first().click();
  await settled(page);
  assert.equal(await swatches.count(), 8);
  await page.locator("header button").nth(1).click();
  await settled(page);
  assert.equal(await swatches.count(), 7);
  assert.equal(await units(page), without);

  await page.getByTestId("trial-files").setInputFiles([sample("stash-harbour.toml"), sample("stash-cottage.toml")]);
  await page.getByTestId("trial").getByText("1. ", { exact: false }).first().waitFor({ timeout: 120_000 });
  await settled(page);
  await changes(page, () => page.getByTestId("trial").getByRole("button", { name: "Take this one" }).first().click());
  assert.match((await steps(page)) ?? "", /trial/);
  await changes(page, () => page.locator("header button").first().click());
  assert.equal(await units(page), without);

  await page.getByRole("button", { name: "The list" }).click();
  const list = page.frameLocator("iframe");
  await list.locator("h1").first().waitFor({ timeout: 60_000 });
  const made = await files(page);
  const plan = JSON.parse(strFromU8(made["plan.json"]!)) as Plan;
  const rows = strFromU8(made["rows.csv"]!).split("\n").filter((line) => /(^|,)\d+\.\d+\.\d+\.\d+,/.test(line)).length;
  assert.equal(rows, placed(plan).length);
  assert.equal(rows, without);
  const read = await page.locator("iframe").getAttribute("srcdoc");
  assert.equal(read, strFromU8(made["build-list.html"]!), "the list that is read is the one that is written");
  await reveal(page, "More");
  const shared = unzipSync((await downloaded(page, () => page.getByLabel("Shared out among sewers").selectOption("3"))).bytes);
  assert.deepEqual(Object.keys(shared).sort(), ["packet-1.html", "packet-2.html", "packet-3.html", "packets.html", "packets.plan.json"]);
  await page.getByRole("button", { name: "Back to the scene" }).click();
}

/** What the printed list says, against the plan that it is of. */
async function printed(page: Page): Promise<void> {
  await page.getByRole("button", { name: "The list" }).click();
  await page.frameLocator("iframe").locator("h1").first().waitFor({ timeout: 60_000 });
  const made = await files(page);
  const plan = JSON.parse(strFromU8(made["plan.json"]!)) as Plan;
  const text = (await page.locator("iframe").getAttribute("srcdoc")) ?? "";
  const print = await page.context().newPage();
  await print.setContent(text);
  const pdf = await print.pdf({ format: "Letter" });
  const sheets = pdf.toString("latin1").match(/\/Type\s*\/Page\b/g)?.length ?? 0;
  assert.ok(sheets >= 3, `${sheets} sheets`);
  compare(textOf(pdf), plan, strFromU8(made["cloth.csv"]!));
  await print.close();
  await page.getByRole("button", { name: "Back to the scene" }).click();
}

for (const [size, where] of [["laptop", "disk"], ["phone", "disk"], ["phone", "hosted"]] as const satisfies [Size, string][]) {
  test(`from a photo to a list: ${size}, ${where}`, async () => {
    const { page, context, faults } = await open(size, where === "disk" ? fromDisk : await hosted());
    await story(page);
    if (size === "laptop") await printed(page);
    assert.deepEqual(faults, []);
    await context.close();
  });
}

test("the first list of a scene numbers from 1 and tells of no change; a later one tells what changed since", async () => {
  const { page, context, faults } = await open("phone");
  await give(page, sample("headland-photo.jpg"));
  const finer = async (to: string) => changes(page, () => page.getByRole("slider", { name: /^Detail/ }).fill(to));
  const list = async () => {
    const button = page.getByRole("button", { name: "The list" });
    const top = (await button.boundingBox())?.y ?? -1;
    assert.ok(top >= 0 && top < 60, "the way to the list stays in sight");
    await button.click();
    await page.frameLocator("iframe").locator("h1").first().waitFor({ timeout: 60_000 });
    return page.frameLocator("iframe").locator("body").innerText();
  };
  await part(page, "dials");
  await finer("4");
  await finer("9");
  await page.getByTestId("panel-keep").scrollIntoViewIfNeeded();
  const first = await list();
  assert.doesNotMatch(first, /What has changed/);
  const ids = [...first.matchAll(/^P(\d+)$/gm)].map(([, id]) => Number(id));
  assert.ok(ids.length > 5);
  assert.deepEqual([...new Set(ids)].sort((a, b) => a - b), [...new Set(ids)].map((_, at) => at + 1));
  await page.locator("iframe").evaluate((frame: HTMLIFrameElement) => frame.contentWindow && (frame.contentWindow.print = () => undefined));
  await page.getByRole("button", { name: "Print", exact: true }).click();
  await page.getByRole("button", { name: "Back to the scene" }).click();
  await finer("5");
  assert.match(await list(), /What has changed/);
  assert.deepEqual(faults, []);
  await context.close();
});

test("what was kept is there when the browser was killed, and two windows have a scene each", async () => {
  const folder = join(scratch(), "profile");
  mkdirSync(folder);
  const first = await mortal(folder);
  const one = await watched(await first.context.newPage(), fromDisk);
  await one.page.getByTestId("sample-boats").click();
  await one.page.getByTestId("figures").waitFor({ timeout: 60_000 });
  await changes(one.page, () => one.page.getByRole("slider", { name: /^Detail/ }).fill("7"));
  const made = await units(one.page);
  await one.page.waitForTimeout(1500);
  await first.kill();

  const again = await mortal(folder);
  const two = await watched(await again.context.newPage(), fromDisk);
  await two.page.locator(".kept .tile").first().click();
  await two.page.getByTestId("figures").waitFor({ timeout: 60_000 });
  assert.equal(await units(two.page), made);
  // The same scene in another window is a copy of its own, and says so.
  const three = await watched(await again.context.newPage(), fromDisk);
  await three.page.locator(".kept .tile").first().click();
  await three.page.getByText("open in another window").waitFor({ timeout: 60_000 });
  await again.kill();
});

test("all is saved in one file and opened again; the command line's plan opens too", async () => {
  const { page, context, faults } = await open("laptop");
  await page.getByTestId("sample-houses").click();
  await page.getByTestId("figures").waitFor({ timeout: 60_000 });
  const first = await units(page);
  await changes(page, () => page.getByRole("slider", { name: /^Detail/ }).fill("8"));
  const made = await units(page);
  assert.notEqual(made, first);
  const saved = await downloaded(page, () => page.getByRole("button", { name: "Save", exact: true }).click());
  const path = join(scratch(), saved.name);
  (await import("node:fs")).writeFileSync(path, saved.bytes);
  await page.getByRole("button", { name: "New", exact: true }).click();
  await page.getByTestId("open-file").setInputFiles(path);
  await page.getByTestId("figures").waitFor({ timeout: 60_000 });
  assert.equal(await units(page), made);
  // Steps before it was saved are undone and done again.
  await changes(page, () => page.locator("header button").first().click());
  assert.equal(await units(page), first);
  await changes(page, () => page.locator("header button").nth(1).click());
  assert.equal(await units(page), made);
  await page.getByRole("button", { name: "New", exact: true }).click();
  const plan = strFromU8(unzipSync(saved.bytes)["plan.json"]!);
  await page.getByTestId("open-file").setInputFiles({ name: "plan.json", mimeType: "application/json", buffer: Buffer.from(plan) });
  await page.getByTestId("figures").waitFor({ timeout: 60_000 });
  assert.equal(await units(page), made);
  assert.deepEqual(faults, []);
  await context.close();
});

test("the page's list of what is built is whole", () => {
  const html = readFileSync(join(built, "rowscape.html"));
  assert.ok(html.length <= 4_000_000, `rowscape.html has ${html.length} bytes`);
});

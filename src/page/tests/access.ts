/** axe-core finds nothing on any screen, in light and dark. */

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";

import { root, open } from "./browser";
import type { Size } from "./browser";
import { screens } from "./screens";

const axe = readFileSync(join(root, "src/page/node_modules/axe-core/axe.min.js"), "utf8");

interface Found {
  violations: { id: string; nodes: { html: string; failureSummary?: string }[] }[];
}

for (const [size, dark] of [["phone", false], ["laptop", true]] as [Size, boolean][]) {
  test(`no screen is barred to anyone: ${size}, ${dark ? "dark" : "light"}`, async () => {
    const { page, context } = await open(size, undefined, dark);
    for (const [name, go] of screens) {
      await go(page);
      await page.evaluate(axe);
      const found = (await page.evaluate(
        `axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"], iframes: false })`,
      )) as Found;
      const said = found.violations.map(({ id, nodes }) => `${id}: ${nodes.slice(0, 3).map(({ html, failureSummary }) => `${html.slice(0, 160)} ${failureSummary ?? ""}`).join(" | ")}`);
      assert.deepEqual(said, [], name);
      const text = await page.locator("body").innerText();
      assert.doesNotMatch(text, /(^|\s|`)--[a-z]|undefined|\[object|NaN/, `${name} names an option, or no word at all`);
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
      assert.ok(wide <= 0, `${name} is ${wide} pixels too wide`);
    }
    await context.close();
  });
}

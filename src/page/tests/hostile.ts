/** What may be dropped on the page: each gets a clear word, the engine lives on, and nothing is lost. */

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { strToU8, zipSync } from "fflate";

import { open, sample, settled, units } from "./browser";

const png = readFileSync(sample("harbour-boats.png"));

const hostile: [string, string, Uint8Array][] = [
  ["cut short", "half.png", png.subarray(0, png.length >> 1)],
  ["no picture at all", "noise.jpg", Uint8Array.from({ length: 4000 }, (_, at) => (at * 7919) & 255)],
  ["nothing", "empty.png", new Uint8Array()],
  ["a picture of a million by a million", "huge.png", huge()],
  ["a stash with a mistake", "wrong.toml", strToU8('[[fabric]]\nletter = "A"\nname = "night"\ncolour = "#12"\n')],
  ["a stash of nothing", "none.toml", strToU8("")],
  ["a plan of another program", "other.json", strToU8('{"format":"other","version":1}')],
  ["a plan of a later day", "later.json", strToU8('{"format":"rowscape-plan","version":99}')],
  ["no JSON", "torn.json", strToU8('{"format":"rowscape-plan","ver')],
  ["a file of a kind that is not known", "words.txt", strToU8("hello")],
  ["a zip of nothing", "empty.zip", zipSync({})],
  ["a zip that is none", "torn.zip", strToU8("PK\u0003\u0004 and no more")],
  [
    "a scene with a script for a name",
    "script.rowscape",
    zipSync({ "page.json": strToU8(JSON.stringify({ format: "rowscape-page", version: 1, steps: [{ pictureName: "<img src=x onerror=alert(1)>", asked: { detail: "x", squares: [1, {}] }, look: 7 }] })) }),
  ],
];

/** The head of a picture of 2^20 by 2^20 dots, with the sum that its header must have. */
function huge(): Uint8Array {
  const made = Uint8Array.from(png.subarray(0, 33));
  const view = new DataView(made.buffer);
  view.setUint32(16, 1 << 20);
  view.setUint32(20, 1 << 20);
  let sum = ~0;
  for (const byte of made.subarray(12, 29)) {
    sum ^= byte;
    for (let bit = 0; bit < 8; bit++) sum = sum & 1 ? (sum >>> 1) ^ 0xedb88320 : sum >>> 1;
  }
  view.setUint32(29, ~sum >>> 0);
  return made;
}

test("whatever is dropped, nothing is lost", async () => {
  const { page, context } = await open("laptop");
  const dialogs: string[] = [];
  page.on("dialog", (dialog) => {
    dialogs.push(dialog.message());
    void dialog.dismiss();
  });
  await page.getByTestId("sample-boats").click();
  await page.getByTestId("figures").waitFor({ timeout: 60_000 });
  await settled(page);
  const made = await units(page);
  for (const [what, name, bytes] of hostile) {
    await page.evaluate(
      ([name, bytes]) => {
        const data = new DataTransfer();
        data.items.add(new File([Uint8Array.from(bytes as number[])], name as string));
        dispatchEvent(new DragEvent("drop", { dataTransfer: data, bubbles: true, cancelable: true }));
      },
      [name, [...bytes]] as [string, number[]],
    );
    if (name === "script.rowscape") {
      // It holds no scene: the page begins afresh, and the scene comes back by undo.
      await page.getByTestId("sample-lighthouse").waitFor();
      await page.locator("header button").first().click();
    } else {
      const wrong = page.locator(".wrong").first();
      await wrong.waitFor({ timeout: 60_000 });
      const said = await wrong.innerText();
      assert.ok(said.length > 20 && !/(^|\s|`)--[a-z]|undefined|\[object|NaN|panick/.test(said), `${what}: ${said}`);
      await wrong.getByRole("button", { name: "Dismiss" }).click();
    }
    assert.equal(await units(page), made, what);
  }
  assert.deepEqual(dialogs, []);
  // The engine answers still.
  await page.getByRole("slider", { name: /^Detail/ }).fill("9");
  await page.waitForFunction((made) => !document.querySelector('[data-testid="figures"]')?.textContent?.includes(`${made} units`), made);
  await context.close();
});

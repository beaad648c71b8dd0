/** The heart of the story by scripts alone, for browsers that no driver here has hands in: photo, scene, a fabric exchanged, list. */

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";

import { sample } from "./browser";

/** What an expression comes to in the page. */
export type Value = (expression: string) => Promise<unknown>;

export async function heart(value: Value): Promise<void> {
  const until = async (what: string): Promise<string> => {
    for (let tries = 0; tries < 900; tries++) {
      const found = await value(`(() => { const found = ${what}; return found ? String(found) : null; })()`);
      if (typeof found === "string") return found;
      await new Promise((done) => setTimeout(done, 100));
    }
    throw new Error(`waited in vain for ${what}: ${String(await value("document.body.innerText.slice(0, 400)"))}`);
  };
  const done = (count: number) => until(`document.querySelector(".app")?.dataset.done === "${count}"`);
  const fabrics = (letter: string) => value(`document.querySelectorAll('.scene polygon[data-fabric="${letter}"]').length`);

  await until(`document.querySelector('[data-testid="choose-picture"]')`);
  const photo = readFileSync(sample("headland-photo.jpg")).toString("base64");
  await value(`(() => {
    const bytes = Uint8Array.from(atob("${photo}"), (letter) => letter.charCodeAt(0));
    const given = new DataTransfer();
    given.items.add(new File([bytes], "headland-photo.jpg", { type: "image/jpeg" }));
    const input = document.querySelector('[data-testid="choose-picture"]');
    input.files = given.files;
    input.dispatchEvent(new Event("change", { bubbles: true }));
  })()`);
  assert.match(await until(`document.querySelector('[data-testid="figures"]')?.textContent`), /\d+ units/);
  await done(1);

  const [now, then] = await until(`[...document.querySelectorAll(".exchange select")].map((one) => one.value).join()`).then((both) => both.split(","));
  assert.ok(now && then && Number(await fabrics(now)) > 0);
  await value(`document.querySelector(".exchange button").click()`);
  await done(2);
  assert.equal(await fabrics(now), 0, `all of ${now} is ${then}`);

  await value(`[...document.querySelectorAll("header button")].at(-1).click()`);
  assert.match(await until(`document.querySelector("iframe")?.contentDocument?.querySelector("h1")?.textContent`), /Headland photo/);
  const list = String(await value(`document.querySelector("iframe").contentDocument.body.textContent`));
  assert.match(list, /Pairs of squares/);
  assert.match(list, new RegExp(`Squares [a-z]+: ${then}-1, `), `${then} is cut`);
  assert.doesNotMatch(list, new RegExp(`\\b${now}-1, `), `nothing of ${now} is cut`);
}

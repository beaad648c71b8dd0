/** Pictures of every screen in every size, light and dark, in `target/page/gallery`. */

import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";

import { SIZES, built, end, open } from "./browser";
import type { Size } from "./browser";
import { screens } from "./screens";

const folder = join(built, "gallery");
mkdirSync(folder, { recursive: true });
// Sizes, with or without their look, and beginnings of names: all where none is named.
const given = process.argv.slice(2);
const wanted = given.filter((one) => Object.keys(SIZES).some((size) => one === size || one === `${size}-light` || one === `${size}-dark`));
const named = given.filter((one) => !wanted.includes(one));
const needed = (name: string) => named.length === 0 || name === "start" || name === "scene" || named.some((one) => name.startsWith(one));
const made: string[] = [];
for (const size of Object.keys(SIZES) as Size[]) {
  for (const dark of [false, true]) {
    const look = dark ? "dark" : "light";
    if (wanted.length > 0 && !wanted.includes(size) && !wanted.includes(`${size}-${look}`)) continue;
    const { page, context } = await open(size, undefined, dark);
    for (const [name, go] of screens.filter(([name]) => needed(name))) {
      await go(page);
      await page.waitForTimeout(200);
      const file = `${size}-${look}-${name}.png`;
      await page.screenshot({ path: join(folder, file) });
      made.push(file);
    }
    await context.close();
  }
}
const figures = made.map((file) => `<figure><img src="${file}" alt=""><figcaption>${file}</figcaption></figure>`);
writeFileSync(
  join(folder, "index.html"),
  `<!doctype html><meta charset="utf-8"><title>Every screen</title><style>body{display:flex;flex-wrap:wrap;gap:1rem}figure{margin:0}img{height:420px}</style>${figures.join("\n")}`,
);
console.log(`${made.length} pictures in ${folder}`);
await end();

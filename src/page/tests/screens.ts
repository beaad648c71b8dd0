/** Every screen, one after the other, from a page that was just opened. */

import type { Page } from "playwright-core";

import { part, reveal, sample, settled } from "./browser";
import { photograph } from "./table";

const only = async (page: Page, name: string) => {
  await page.locator("details.section[open]").evaluateAll((open) => open.forEach((one) => one.removeAttribute("open")));
  await part(page, name);
  await page.getByTestId(`panel-${name}`).scrollIntoViewIfNeeded();
  // What is scrolled half beneath the scene, which stays in sight, is brought out of it.
  await page.evaluate(() => {
    const edge = document.querySelector(".seen")?.getBoundingClientRect().bottom ?? 0;
    const half = [...document.querySelectorAll(".panels :is(button, summary, input, select)")].map((one) => one.getBoundingClientRect());
    const tops = half.filter(({ top, bottom, height }) => height > 0 && top < edge && bottom > edge).map(({ top }) => edge - top);
    if (getComputedStyle(document.querySelector(".seen")!).position === "sticky") scrollBy(0, -Math.max(0, ...tops));
  });
};

/** Goes to a part of the work at the machine. */
const chapter = async (page: Page, id: string) => {
  await page.getByRole("button", { name: "All steps" }).click();
  await page.locator(`[data-chapter="${id}"]`).click();
};

export const screens: readonly (readonly [string, (page: Page) => Promise<void>])[] = [
  ["start", async (page) => page.getByTestId("sample-lighthouse").waitFor()],
  [
    "photos",
    async (page) => {
      const buffer = await photograph(page, [0, 1, 2, 3, 4, 5, 6, 7], 20261129);
      await page.getByRole("button", { name: "Photograph my fabrics" }).click();
      await page.getByTestId("choose-photos").setInputFiles({ name: "table.jpg", mimeType: "image/jpeg", buffer });
      await page.getByTestId("photo").waitFor({ timeout: 60_000 });
      await settled(page);
    },
  ],
  [
    "photos-counted",
    async (page) => {
      await page.getByRole("radio", { name: "10 in squares", exact: true }).check();
      await page.locator(".prints").scrollIntoViewIfNeeded();
    },
  ],
  [
    "scene",
    async (page) => {
      await page.getByRole("button", { name: "← Back", exact: true }).click();
      await page.getByTestId("sample-photo").click();
      await page.getByTestId("figures").waitFor({ timeout: 60_000 });
      await settled(page);
    },
  ],
  ["dials", async (page) => only(page, "dials")],
  [
    "pieces",
    async (page) => {
      await only(page, "pieces");
      await page.locator(".scene polygon[data-unit]").nth(12).click({ force: true });
    },
  ],
  [
    "fabrics",
    async (page) => {
      await only(page, "fabrics");
      await page.locator(".swatches button").nth(2).click();
    },
  ],
  ["picture", async (page) => only(page, "picture")],
  ["size", async (page) => only(page, "size")],
  ["finer", async (page) => only(page, "finer")],
  [
    "finish",
    async (page) => {
      await only(page, "finish");
      await page.getByRole("button", { name: "Backing, batting and binding" }).click();
      await settled(page);
      await page.getByRole("button", { name: "Add a border" }).click();
      await settled(page);
    },
  ],
  [
    "choices",
    async (page) => {
      await only(page, "choices");
      await page.getByRole("radio", { name: "number of fabrics" }).check();
      await page.getByRole("button", { name: "Show me choices" }).click();
      await page.getByRole("button", { name: "Take 24 fabrics" }).waitFor({ timeout: 120_000 });
      await settled(page);
    },
  ],
  [
    "trial",
    async (page) => {
      await only(page, "fabrics");
      await page.getByTestId("trial-files").setInputFiles([sample("stash-harbour.toml"), sample("stash-cottage.toml")]);
      await page.getByTestId("trial").getByRole("button", { name: "Take this one" }).first().waitFor({ timeout: 120_000 });
      await settled(page);
      await page.getByTestId("trial").scrollIntoViewIfNeeded();
    },
  ],
  ["keeping", async (page) => only(page, "keep")],
  [
    "letters",
    async (page) => {
      await only(page, "pieces");
      await page.keyboard.press("Escape");
      await reveal(page, "Show");
      for (const name of ["Letters", "Hatching"]) await page.getByRole("checkbox", { name, exact: true }).check();
    },
  ],
  [
    "machine",
    async (page) => {
      await page.getByRole("button", { name: "At the machine" }).click();
      await page.getByTestId("step").waitFor();
    },
  ],
  ["machine-pair", (page) => chapter(page, "sew")],
  ["machine-press", (page) => chapter(page, "press")],
  [
    "machine-rows",
    async (page) => {
      await chapter(page, "rows");
      for (const _ of [1, 2]) {
        await page.getByTestId("tick").click();
        await page.waitForTimeout(400);
      }
    },
  ],
  ["machine-columns", (page) => chapter(page, "columns")],
  ["machine-all", (page) => page.getByRole("button", { name: "All steps" }).click()],
  [
    "machine-wrong",
    async (page) => {
      await page.locator('[data-chapter="rows"]').click();
      await page.getByRole("button", { name: "Something went wrong" }).click();
    },
  ],
  [
    "machine-row-off",
    async (page) => {
      await page.getByRole("button", { name: "The row is too long or too short" }).click();
      await page.getByRole("textbox").fill("61 1/4");
      await page.getByRole("textbox").press("Enter");
      await page.getByTestId("remedy").getByText("must measure").waitFor();
      await settled(page);
    },
  ],
  [
    "machine-answer",
    async (page) => {
      await page.getByRole("button", { name: "Back", exact: true }).click();
      await page.getByRole("button", { name: "Something went wrong" }).click();
      await page.locator("[data-lost]").first().click();
      await page.getByTestId("answer").waitFor({ timeout: 120_000 });
      await settled(page);
    },
  ],
  [
    "machine-left",
    async (page) => {
      for (const _ of [1, 2]) await page.getByRole("button", { name: "Back", exact: true }).click();
      await page.getByTestId("figures").waitFor();
    },
  ],
  [
    "list",
    async (page) => {
      await page.getByRole("button", { name: "The list" }).click();
      await page.frameLocator("iframe").locator("h1").first().waitFor({ timeout: 60_000 });
      await settled(page);
    },
  ],
  ["list-more", (page) => reveal(page, "More")],
  [
    "sketch",
    async (page) => {
      await page.getByRole("button", { name: "Back to the scene" }).click();
      await only(page, "picture");
      await page.getByRole("button", { name: "Draw", exact: true }).click();
      await page.getByRole("button", { name: "From the picture" }).click();
    },
  ],
  [
    "keys",
    async (page) => {
      await page.getByRole("button", { name: "Back", exact: false }).click();
      await page.keyboard.press("?");
      await page.locator("main.keys").waitFor();
    },
  ],
];

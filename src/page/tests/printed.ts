/** What a printed list says, read back off its PDF, against the plan that it is of. */

import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";

import type { Plan } from "built/rowscape";

/** Units that one pair of squares gives. */
const GIVES: Record<string, number> = { two: 2, four: 4, eight: 8 };

/** The text of a PDF in the order that it is drawn, line by line. */
export function textOf(pdf: Buffer): string {
  const read = spawnSync("pdftotext", ["-raw", "-enc", "UTF-8", "-", "-"], { input: pdf, maxBuffer: 1 << 26 });
  if (read.error) throw new Error("reading the printed list needs poppler's pdftotext: `apt-get install poppler-utils`");
  assert.equal(read.status, 0, read.stderr.toString());
  return read.stdout.toString();
}

/** `9 1/2` as a number. */
const inches = (text: string): number =>
  text.trim().split(" ").reduce((sum, part) => {
    const [over, under] = part.split("/").map(Number);
    return sum + (over ?? NaN) / (under ?? 1);
  }, 0);

const counted = (all: Iterable<[string, number]>): Record<string, number> => {
  const counts = new Map<string, number>();
  for (const [key, count] of all) counts.set(key, (counts.get(key) ?? 0) + count);
  return Object.fromEntries([...counts].sort(([a], [b]) => (a < b ? -1 : 1)));
};

/** Pairs, squares, fillers and cloth of the printed text, each held against what the plan's pieces take. */
export function compare(text: string, plan: Plan, cloth: string): void {
  const flat = text.replace(/\s+/g, " ");
  const cell = inches(plan.request.grid.replace(/ ?in$/, ""));
  const seams = 2 * inches(plan.request.seam.working.replace(/ ?in$/, ""));
  const rows = plan.bands.flatMap((band) => band.columns.flatMap((column) => column.rows));
  const units = rows.flatMap((row) => row.units.map((unit) => ({ unit, height: row.height })));

  // Pairs: number, both fabrics (each letter is drawn in two inks), the squares, how sewn, counts, finished size.
  const line = /\bP(\d+) (\w+) \2 (\w+) \3 ([\d /]+?) in (?:a quarter of ([\d /]+?) in )?(two|four|eight) at a time, press to (\w+) \7 (\d+) (\d+) (\d+) [\d /]+? in ([\d /]+?) in (big|small|mini)\b/g;
  const pairs = [...flat.matchAll(line)].map((found) => {
    const [, id, first, second, side, quartered, method, , pairs, gives, spare, finished] = found;
    const made = Number(pairs) * (GIVES[method ?? ""] ?? NaN);
    assert.equal(Number(gives), made, `P${id} gives ${made}`);
    const size = inches(finished ?? "") / cell;
    return { id: Number(id), fabrics: [first ?? "", second ?? ""].sort(), side, quartered, pairs: Number(pairs), used: made - Number(spare), size };
  });
  assert.equal(new Set(pairs.map(({ id }) => id)).size, pairs.length, "every line is printed once");
  const made = counted(pairs.map(({ fabrics, size, used }) => [`${fabrics.join()} ${size}`, used]));
  const isTriangle = units.filter(({ unit }) => unit.triangle);
  const slices = isTriangle.filter(({ unit }) => unit.kind.endsWith("slice"));
  const takes = (all: typeof units) =>
    counted(all.map(({ unit }) => [`${unit.patches.map((patch) => patch.fabric).sort().join()} ${unit.triangle?.block}`, 1]));
  const [least, most] = [takes(isTriangle.filter((one) => !slices.includes(one))), takes(isTriangle)];
  // A slice comes off a unit that is there already, or takes one of its own.
  for (const key of new Set([...Object.keys(made), ...Object.keys(most)])) {
    const count = made[key] ?? 0;
    assert.ok(count >= (least[key] ?? 0) && count <= (most[key] ?? 0), `${key}: ${count} printed, ${least[key]} to ${most[key]} in the plan`);
  }

  // Squares: whole ones of each fabric for its pairs, and four quarters to one.
  const sheets = cloth.trim().split("\n").slice(1).map((row) => row.split(","));
  const distinct = [...new Map(sheets.map((sheet) => [sheet[0], sheet])).values()];
  const bought = (kind: string, value: (sheet: string[]) => number) =>
    counted(distinct.filter((sheet) => sheet[2] === kind).map((sheet) => [sheet[1] ?? "", value(sheet)]));
  const squares = bought("bought square", (sheet) => Number(sheet[3]));
  const lengths = bought("bought length", (sheet) => Number(sheet[3]) * Number(sheet[5]));
  for (const { letter, name } of plan.fabrics) {
    const [, says = ""] = flat.split(`What you need `)[1]?.split(`${letter} ${letter} ${name} `) ?? [];
    const cut = says.slice(0, says.indexOf(next(plan, letter))).trim();
    const [, said, deep = "0"] = /(?:(\d+) squares?)?(?:; )?(?:([\d /]+) in)?$/.exec(cut) ?? [];
    const whole = pairs.filter((pair) => pair.fabrics.includes(letter) && !pair.quartered).reduce((sum, pair) => sum + pair.pairs, 0);
    const quarters = pairs.filter((pair) => pair.fabrics.includes(letter) && pair.quartered).reduce((sum, pair) => sum + pair.pairs, 0);
    assert.equal(Number(said ?? 0), squares[letter] ?? 0, `squares of ${letter}: ${cut}`);
    assert.ok(Number(said ?? 0) >= whole + Math.ceil(quarters / 4), `squares of ${letter} for its pairs`);
    assert.equal(inches(deep), lengths[letter] ?? 0, `cloth of ${letter}: ${cut}`);
  }

  // Fillers: fabric, size as cut, count.
  const filler = /\bF\d+ (\w+) \1 ([\d /]+?)(?: in)? × ([\d /]+?) in (\d+) (?=\d+\.\d+\.\d+)/g;
  const printed = counted([...flat.matchAll(filler)].map(([, fabric, width = "", height = "", count]) => [`${fabric} ${inches(width)} ${inches(height)}`, Number(count)]));
  const planned = units
    .filter(({ unit }) => !unit.triangle)
    .map(({ unit, height }): [string, number] => [`${unit.patches[0]?.fabric} ${unit.width * cell + seams} ${height * cell + seams}`, 1]);
  assert.deepEqual(printed, counted(planned), "fillers");
  // All of a fabric's cut cloth is at least as large as its fillers.
  for (const { letter } of plan.fabrics) {
    const filled = Object.entries(printed).filter(([key]) => key.startsWith(`${letter} `));
    const area = filled.reduce((sum, [key, count]) => sum + count * key.split(" ").slice(1).map(Number).reduce((a, b) => a * b, 1), 0);
    const held = distinct.filter((sheet) => sheet[1] === letter).reduce((sum, sheet) => sum + Number(sheet[3]) * Number(sheet[4]) * Number(sheet[5]), 0);
    assert.ok(area <= held, `fillers of ${letter} take ${area} of ${held} square inches`);
  }
}

/** What follows a fabric's line: the next fabric's, or the words under the table. */
function next(plan: Plan, letter: string): string {
  const at = plan.fabrics.findIndex((fabric) => fabric.letter === letter);
  const after = plan.fabrics[at + 1];
  return after ? `${after.letter} ${after.letter} ` : "Amounts are";
}

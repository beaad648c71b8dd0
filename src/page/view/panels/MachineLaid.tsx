/** What is laid out now: the row and the top, with what is sewn, what is done now, and what comes next. */

import type { Plan, StepShown } from "built/rowscape";

import { cells, placed } from "../scene/layout";
import type { Placed } from "../scene/layout";
import { isDone, sewn, visible } from "../state/machine";
import type { Store } from "../state/store";
import { words } from "../words";
import { Unit, boxOf, fabricsOf } from "./MachineStep";

export function Laid({ store, plan, step }: { store: Store; plan: Plan; step: StepShown }) {
  const { state } = store;
  const { machine: said } = words;
  const all = placed(plan);
  const done = sewn(state);
  const shown = visible(state);
  const next = shown.slice(shown.indexOf(step) + 1).find((one) => !isDone(state, one));
  const inRow = step.chapter === "rows" && step.row ? all.filter(({ unit }) => unit.address.startsWith(`${step.row}.`)) : [];
  const [width, height] = cells(plan);
  const count = (units: readonly Placed[]) => units.filter(({ unit }) => done.has(unit.address)).length;
  const marks = { done, now: new Set(step.units), next: new Set(next?.units ?? []) };
  const row = inRow.length > 1 ? boxOf(inRow) : null;
  return (
    <figure class="laid" data-testid="laid">
      {row && (
        <Marked plan={plan} all={inRow} marks={marks} box={[row.left, row.top, row.right - row.left, row.bottom - row.top]} />
      )}
      <Marked plan={plan} all={all} marks={marks} box={[0, 0, width, height]} />
      <figcaption>
        {row && step.row ? said.laidRow(step.row, count(inRow), inRow.length) : said.laidTop(count(all), all.length)}
      </figcaption>
    </figure>
  );
}

interface Marks {
  done: ReadonlySet<string>;
  now: ReadonlySet<string>;
  next: ReadonlySet<string>;
}

function Marked({ plan, all, marks, box }: { plan: Plan; all: readonly Placed[]; marks: Marks; box: readonly [number, number, number, number] }) {
  const fabrics = fabricsOf(plan);
  const edge = Math.max(box[2], box[3]) * 0.02;
  const line = Math.max(box[2], box[3]) * 0.016;
  const frame = (units: ReadonlySet<string>, name: string) =>
    all.flatMap(({ unit, x, y, width, height }) =>
      units.has(unit.address)
        ? [<rect key={name + unit.address} x={x} y={y} width={width} height={height} class={name} style={{ "stroke-width": line, ...(name === "next" ? { "stroke-dasharray": `${line * 2} ${line * 1.4}` } : {}) }} />]
        : [],
    );
  return (
    <svg viewBox={[box[0] - edge, box[1] - edge, box[2] + 2 * edge, box[3] + 2 * edge].join(" ")} aria-hidden="true">
      {all.map((one) => (
        <Unit key={one.unit.address} one={one} fabrics={fabrics} letters={false} pale={!marks.done.has(one.unit.address)} />
      ))}
      {frame(marks.next, "next")}
      {frame(marks.now, "now")}
    </svg>
  );
}

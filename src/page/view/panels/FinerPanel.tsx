/** The finer points: how it is sewn, bought and weighed. */

import { Dial, Field, OneOf, Section, Switch } from "../parts/controls";
import { measured } from "../parts/measured";
import { finer } from "../state/doc";
import type { Asked } from "../state/doc";
import type { Store } from "../state/store";
import { useStore } from "../state/use";
import { words } from "../words";
import { STOPS, stop } from "./DialsPanel";

export function FinerPanel({ store }: { store: Store }) {
  useStore(store);
  const { asked } = store.asked;
  const { finer: said, steps } = words;
  /** `stay` is how much stays as it is, in per cent: all of it where only the work changes. */
  const change = (patch: Partial<Asked>, stay: number) =>
    void store.change({
      name: steps.finer,
      key: `finer ${Object.keys(patch).join(" ")}`,
      ...(stay === 0 ? { topic: "dial" } : {}),
      where: "size",
      next: (doc) => ({ ...doc, asked: { ...doc.asked, ...patch } }),
      change: ({ asked }) => ({ detail: asked.detail, triangles: asked.triangles, depth: asked.depth, seed: asked.seed, ...finer(asked), stay }),
    });
  const dial = (label: string, help: string, value: number, set: (value: number) => Partial<Asked>) => (
    <Dial
      label={label}
      low={said.fewer}
      high={said.more}
      min={0}
      max={STOPS.length - 1}
      value={stop(value)}
      shown={`${value} %`}
      help={help}
      onInput={(at) => change(set(STOPS[at] ?? 100), 0)}
    />
  );
  const inch = asked.ruler === "inch";
  return (
    <Section title={said.title} id="panel-finer">
      <Field label={said.name} value={asked.title} hint={said.nameHint} onChange={(title) => change({ title: title.trim().slice(0, 120) }, 100)} />
      {dial(said.trims, said.trimsHelp, asked.trims, (trims) => ({ trims }))}
      {dial(said.quiet, said.quietHelp, asked.quiet, (quiet) => ({ quiet }))}
      {dial(said.thrift, said.thriftHelp, asked.thrift || 10, (thrift) => ({ thrift }))}
      <OneOf label={said.pressing} options={[["side", said.side], ["open", said.open]]} value={asked.pressing} onChange={(pressing) => change({ pressing }, 100)} />
      <OneOf label={said.rowEnds} options={[["exact", said.exact], ["spare", said.spare]]} value={asked.rowEnds} onChange={(rowEnds) => change({ rowEnds }, 100)} />
      <p class="help">{inch ? said.spareHelp : said.spareHelpMetric}</p>
      <Switch label={said.cutSquares} value={asked.cutSquares} onChange={(cutSquares) => change({ cutSquares }, 100)} />
      <div class="two">
        <Field
          number
          label={said.margin}
          value={asked.margin === null ? "" : String(asked.margin)}
          hint={said.usual}
          onChange={(text) => change({ margin: text.trim() === "" ? null : Math.min(100, Math.max(0, Math.round(Number(text)) || 0)) }, 100)}
        />
        <Field
          label={said.clothWidth}
          value={asked.clothWidth ?? ""}
          hint={inch ? "42 in" : "110 cm"}
          onChange={(text) => change({ clothWidth: measured(text, asked.ruler) }, 100)}
        />
      </div>
    </Section>
  );
}

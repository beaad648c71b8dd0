/** Detail, triangles and number of fabrics: they answer while they move. */

import { Dial, OneOf, Section } from "../parts/controls";
import { finer, locked } from "../state/doc";
import type { Asked } from "../state/doc";
import type { Store } from "../state/store";
import { useStore } from "../state/use";
import { words } from "../words";

/** Per cent that a dial stops at. */
export const STOPS = [25, 35, 50, 70, 85, 100, 120, 140, 170, 200, 280, 400] as const;

export const stop = (value: number): number => {
  const near = STOPS.map((stop) => Math.abs(Math.log(stop / value)));
  return near.indexOf(Math.min(...near));
};

export function DialsPanel({ store }: { store: Store }) {
  useStore(store);
  const { asked } = store.asked;
  const { dials: said, steps } = words;
  const dial = (name: string, patch: Partial<Asked>) => {
    void store.change({
      name,
      key: `dial ${Object.keys(patch).join(" ")}`,
      topic: "dial",
      where: "size",
      next: (doc) => ({ ...doc, asked: { ...doc.asked, ...patch } }),
      change: ({ asked }) => ({
        detail: asked.detail,
        triangles: asked.triangles,
        depth: asked.depth,
        seed: asked.seed,
        ...finer(asked),
        // What stands is not held: a dial gives the same scene from wherever it comes.
        stay: 0,
      }),
      plan: (doc) => store.base(doc),
    });
  };
  const colours = (colours: number) =>
    void store.change({
      name: steps.colours,
      key: "colours",
      topic: "compose",
      where: "fabrics",
      next: (doc) => ({ ...doc, fabrics: null, without: [], asked: { ...doc.asked, colours } }),
    });
  const pinned = locked(store.state.doc).length;
  const least = Math.min(24, Math.max(2, pinned));
  return (
    <Section title={said.title} id="panel-dials" open>
      <Dial
        label={said.detail}
        low={said.calmer}
        high={said.finer}
        min={0}
        max={STOPS.length - 1}
        value={stop(asked.detail)}
        shown={`${asked.detail} %`}
        help={said.detailHelp}
        onInput={(at) => dial(steps.detail, { detail: STOPS[at] ?? 100 })}
      />
      <Dial
        label={said.triangles}
        low={said.plainer}
        high={said.more}
        min={0}
        max={STOPS.length - 1}
        value={stop(asked.triangles)}
        shown={`${asked.triangles} %`}
        help={said.trianglesHelp}
        onInput={(at) => dial(steps.triangles, { triangles: STOPS[at] ?? 100 })}
      />
      {store.asked.stash === null && store.asked.picture && (
        <Dial
          label={said.colours}
          low={String(least)}
          high="24"
          min={least}
          max={24}
          value={asked.colours}
          shown={String(asked.colours)}
          help={pinned > 0 ? said.coloursBeside : said.coloursHelp}
          onInput={colours}
        />
      )}
      <OneOf
        label={said.depth}
        options={[["bands", said.bands], ["rows", said.rows]]}
        value={asked.depth}
        onChange={(depth) => dial(steps.depth, { depth })}
      />
      <p class="help">{said.depthHelp}</p>
      <button
        type="button"
        onClick={() => {
          const seed = store.asked.asked.seed + 1;
          dial(steps.seed, { seed });
        }}
      >
        {said.seed}
      </button>
    </Section>
  );
}

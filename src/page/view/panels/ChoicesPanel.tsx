/** Scenes of one picture side by side. */

import { useState } from "preact/hooks";

import { OneOf, Section } from "../parts/controls";
import { Small } from "../parts/Small";
import { askingOf } from "../state/store";
import { locked } from "../state/doc";
import type { Asked, Crop, Doc } from "../state/doc";
import type { Choice, Store } from "../state/store";
import { useStore } from "../state/use";
import { words } from "../words";

type Kind = keyof typeof words.choices.kinds;

export function ChoicesPanel({ store }: { store: Store }) {
  const { choices, doc, busy } = useStore(store);
  const [kind, setKind] = useState<Kind>("detail");
  if (!doc.picture) return null;
  const { choices: said } = words;
  const kinds = Object.entries(said.kinds) as [Kind, string][];
  return (
    <Section title={said.title} help={said.help} id="panel-choices">
      <OneOf label={said.by} options={kinds} value={kind} onChange={setKind} />
      <div class="row">
        <button type="button" class="main" onClick={() => void make(store, kind)}>
          {said.make}
        </button>
        {busy && choices.some((choice) => !choice.shown) && (
          <button type="button" onClick={() => store.stop()}>
            {said.stop}
          </button>
        )}
      </div>
      <ul class="tiles" data-testid="choices">
        {choices.map((choice) => choice.shown && <One key={choice.words} store={store} choice={choice} />)}
      </ul>
    </Section>
  );
}

function One({ store, choice }: { store: Store; choice: Choice }) {
  const { shown, doc } = choice;
  if (!shown) return null;
  const { pieces, triangle_share } = shown.answer.figures;
  return (
    <li>
      <button
        type="button"
        class="tile"
        onClick={() => store.commit({ ...doc, shown }, words.steps.choice)}
      >
        <Small plan={shown.answer.plan} label="" />
        <span>
          <span class="spoken">{words.choices.take} </span>
          {choice.words}
        </span>
        <small>
          {words.figures.units(pieces.units)}, {words.figures.triangles(triangle_share)}
        </small>
      </button>
    </li>
  );
}

async function make(store: Store, kind: Kind): Promise<void> {
  const base = store.state.doc;
  const choices = variants(base, kind).map(([words, doc]): Choice => ({ words, doc, shown: null }));
  store.set({ choices });
  for (const choice of choices) {
    const answered = await store.run(() => askingOf(choice.doc), { what: choice.words, where: "page" });
    if (!answered) return;
    if (!("scene" in answered.reply)) continue;
    const shown = answered.reply.scene;
    store.set({ choices: store.state.choices.map((one) => (one.words === choice.words ? { ...one, shown } : one)) });
  }
}

function variants(doc: Doc, kind: Kind): [string, Doc][] {
  const { choices: said } = words;
  const asked = (patch: Partial<Asked>): Doc => ({ ...doc, asked: { ...doc.asked, ...patch } });
  const cropped = (crop: Crop | null): Doc => ({ ...doc, look: { ...doc.look, crop }, asked: { ...doc.asked, height: null } });
  const inch = doc.asked.ruler === "inch";
  if (kind === "colours") return [5, 8, 12, 16, 20, 24].filter((colours) => colours >= locked(doc).length).map((colours) => [said.colours(colours), { ...asked({ colours }), fabrics: null, stash: null }]);
  if (kind === "seeds") return [0, 1, 2, 3, 4, 5].map((at) => [said.dice(doc.asked.seed + at), asked({ seed: doc.asked.seed + at })]);
  if (kind === "crops") {
    const near = { top: 1200, width: 6400, height: 7600 };
    return [
      [said.crops.all, cropped(null)],
      [said.crops.left, cropped({ ...near, left: 0 })],
      [said.crops.middle, cropped({ ...near, left: 1800 })],
      [said.crops.right, cropped({ ...near, left: 3600 })],
    ];
  }
  const squares = inch
    ? [[said.whole, "10in", false], [said.quarters, "5in", true], [said.small, "5in", false]] as const
    : [[said.wholeM, "25cm", false], [said.quartersM, "12.5cm", true], [said.smallM, "12cm", false]] as const;
  const detail = [[said.calm, 60], [said.usual, 100], [said.fine, 170]] as const;
  return squares.flatMap(([name, cut, quartered]) =>
    detail.map(([how, detail]): [string, Doc] => [said.detail(how, name), asked({ detail, squares: [{ cut, quartered }] })]),
  );
}

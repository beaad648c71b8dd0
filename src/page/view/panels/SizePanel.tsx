/** Size, squares and seam. */

import type { Gives } from "built/rowscape";
import { useEffect, useState } from "preact/hooks";

import { Field, OneOf, Section, Switch } from "../parts/controls";
import { measured } from "../parts/measured";
import { holds } from "../state/doc";
import type { Asked } from "../state/doc";
import type { Store } from "../state/store";
import { useStore } from "../state/use";
import { words } from "../words";
import { Said } from "./Said";

/** Tops as they hang and lie (common practice, no source). */
const USUAL = {
  inch: [
    ["wall", "36in", "36in"],
    ["lap", "48in", "60in"],
    ["throw", "54in", "72in"],
    ["single", "66in", "90in"],
    ["double", "81in", "96in"],
    ["wide", "96in", "96in"],
  ],
  metric: [
    ["wall", "90cm", "90cm"],
    ["lap", "120cm", "150cm"],
    ["throw", "140cm", "180cm"],
    ["single", "160cm", "220cm"],
    ["double", "200cm", "240cm"],
    ["wide", "240cm", "240cm"],
  ],
} as const;

/** Squares as they are sold (common practice, no source). */
const SQUARES = {
  inch: [
    ["10 in", "10in", false],
    ["10 in, quartered", "5in", true],
    ["5 in", "5in", false],
    ["8 in", "8in", false],
  ],
  metric: [
    ["25 cm", "25cm", false],
    ["25 cm, quartered", "12.5cm", true],
    ["12 cm", "12cm", false],
    ["18 cm", "18cm", false],
  ],
} as const;

const show = (length: string) => length.replace(/(\d)(in|cm|mm)$/, "$1 $2");

export function SizePanel({ store }: { store: Store }) {
  const { trouble } = useStore(store);
  const { asked } = store.asked;
  const plan = store.state.doc.shown?.answer.plan;
  const { size: said } = words;
  const change = (name: string, patch: Partial<Asked>) => {
    void store.change({
      name,
      topic: "compose",
      where: "size",
      next: (doc) => ({ ...doc, asked: { ...doc.asked, ...patch } }),
    });
  };
  const ruler = (ruler: Asked["ruler"]) =>
    change(words.steps.ruler, { ruler, width: null, height: null, squares: null, seam: null });
  const squares = asked.squares ?? plan?.request.squares ?? [];
  const same = (a: { cut: string; quartered: boolean }, cut: string, quartered: boolean) =>
    a.cut.replace(" ", "") === cut && a.quartered === quartered;
  // What was refused stays where it was typed.
  const typed = (trouble?.where === "size" && trouble.asked) || asked;
  const wrong = (field: "width" | "height" | "seam") => typed[field] !== asked[field];
  return (
    <Section title={said.title} help={said.help} id="panel-size">
      <OneOf
        label={said.ruler}
        options={[["inch", said.inch], ["metric", said.metric]]}
        value={asked.ruler}
        onChange={ruler}
      />
      <div class="two">
        <Field
          label={said.width}
          value={typed.width ?? ""}
          hint={said.widthHint[asked.ruler]}
          wrong={wrong("width")}
          onChange={(width) => change(words.steps.size, { width: measured(width, asked.ruler) })}
        />
        <Field
          label={said.height}
          value={typed.height ?? ""}
          hint={said.heightHint[asked.ruler]}
          wrong={wrong("height")}
          onChange={(height) => change(words.steps.size, { height: measured(height, asked.ruler) })}
        />
      </div>
      <Said store={store} where="size" />
      {holds(store.asked) && (
        <>
          <button type="button" onClick={() => change(words.steps.size, { width: null, height: null, largest: true })}>
            {said.largest}
          </button>
          <p class="help">{said.largestHelp}</p>
        </>
      )}
      <p class="label">{said.usual}</p>
      <div class="row">
        {USUAL[asked.ruler].map(([name, width, height]) => (
          <button key={name} type="button" onClick={() => change(words.steps.size, { width, height })}>
            {words.sizes[name]} <small>{show(width).replace(/ .*/, "")} × {show(height)}</small>
          </button>
        ))}
      </div>
      <fieldset>
        <legend>{said.squares}</legend>
        <p class="help">{said.squaresHelp}</p>
        <div class="row">
          {SQUARES[asked.ruler].map(([name, cut, quartered]) => (
            <Switch
              key={name}
              label={name}
              value={squares.some((one) => same(one, cut, quartered))}
              onChange={(on) => {
                const others = squares.filter((one) => !same(one, cut, quartered));
                const now = on ? [...others, { cut, quartered }] : others;
                if (now.length > 0) change(words.steps.size, { squares: now });
                else store.set({});
              }}
            />
          ))}
        </div>
      </fieldset>
      <Field
        label={said.seam}
        value={typed.seam ?? ""}
        wrong={wrong("seam")}
        hint={asked.ruler === "inch" ? "1/4 in" : "7.5 mm"}
        onChange={(seam) => change(words.steps.size, { seam: measured(seam, asked.ruler) })}
      />
      <p class="help">{asked.ruler === "inch" ? said.seamHelp : said.seamHelpMetric}</p>
      <What store={store} asked={asked} />
    </Section>
  );
}

/** What the squares give, unit by unit. */
function What({ store, asked }: { store: Store; asked: Asked }) {
  const [gives, setGives] = useState<Gives[]>([]);
  const sizes = { ...(asked.squares ? { squares: asked.squares } : {}), ...(asked.seam ? { seam: asked.seam } : {}) };
  const question = { sizes: { sizes, ruler: asked.ruler } };
  useEffect(() => {
    let current = true;
    store.bridge
      .ask(() => ({ question }), { topic: "sizes" })
      .then(({ reply }) => current && "sizes" in reply && setGives(reply.sizes))
      .catch(() => current && setGives([]));
    return () => {
      current = false;
    };
  }, [JSON.stringify(question)]);
  if (gives.length === 0) return null;
  return (
    <>
      <p class="label">{words.size.gives}</p>
      <ul class="plain">
        {gives.map((one) => (
          <li key={one.cut + one.method}>
            {words.size.finished(one.size, one.finished, one.cut)} <small>{one.method}</small>
          </li>
        ))}
      </ul>
    </>
  );
}

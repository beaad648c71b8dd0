/** From the top to the quilt: borders, backing, batting, binding, quilting, sleeve and label. */

import type { Border, ComeTo, Finish, Label } from "built/rowscape";

import { Field, OneOf, Section, Switch } from "../parts/controls";
import { measured } from "../parts/measured";
import { finer, planOf } from "../state/doc";
import type { Store } from "../state/store";
import { useStore } from "../state/use";
import { words } from "../words";
import { Said } from "./Said";

const { finish: said } = words;

const MOST_BORDERS = 3;
const USUAL: Finish = { backing: {}, batting: true, binding: {} };

/** Mattresses as they are sold, width and length; the engine names them too. */
const BEDS = {
  inch: [
    ["crib", "27in", "52in"],
    ["twin", "38in", "75in"],
    ["full", "54in", "75in"],
    ["queen", "60in", "80in"],
    ["king", "76in", "80in"],
  ],
  metric: [
    ["cot", "60cm", "120cm"],
    ["single", "90cm", "200cm"],
    ["smallDouble", "140cm", "200cm"],
    ["double", "160cm", "200cm"],
    ["wideDouble", "180cm", "200cm"],
  ],
} as const;
const USUAL_BORDER = { inch: "3in", metric: "8cm" } as const;
const DROP = { inch: "14in", metric: "35cm" } as const;

type Bed = Extract<ComeTo, { bed: unknown }>["bed"];

export function FinishPanel({ store }: { store: Store }) {
  const { doc } = useStore(store);
  const { asked } = store.asked;
  const { finish, ruler } = asked;
  const fabrics = (planOf(doc)?.fabrics ?? []).filter(({ letter }) => !doc.without.includes(letter));
  const change = (finish: Finish) =>
    void store.change({
      name: words.steps.finish,
      key: `finish ${Object.keys(finish).join(" ")}`,
      where: "finish",
      next: (doc) => ({ ...doc, asked: { ...doc.asked, finish } }),
      change: ({ asked }) => ({ detail: asked.detail, triangles: asked.triangles, depth: asked.depth, seed: asked.seed, ...finer(asked), stay: 100 }),
    });
  const patch = (patch: Partial<Finish>) => change(cleared({ ...finish, ...patch }));
  const length = (label: string, value: string | null | undefined, hint: string, set: (value: string | null) => void) => (
    <Field label={label} value={value ?? ""} hint={hint} onChange={(text) => set(measured(text, ruler))} />
  );
  const cloth = (label: string, usual: string, value: string | null | undefined, set: (letter: string | null) => void) => (
    <label class="field">
      {label}
      <select value={value ?? ""} onChange={(event) => set(event.currentTarget.value || null)}>
        <option value="">{usual}</option>
        {fabrics.map(({ letter, name }) => (
          <option key={letter} value={letter}>{`${letter} ${name}`}</option>
        ))}
      </select>
    </label>
  );
  const inch = ruler === "inch";
  const borders = finish.borders ?? [];
  const border = (at: number, patched: Partial<Border>) =>
    patch({ borders: borders.map((one, index) => (index === at ? cleared({ ...one, ...patched }) : one)) });
  const comes = finish.come_to ? ("bed" in finish.come_to ? "bed" : "size") : "none";
  const bed: Bed | null = finish.come_to && "bed" in finish.come_to ? finish.come_to.bed : null;
  const size = finish.come_to && "size" in finish.come_to ? finish.come_to.size : null;
  const begin = { bed: { bed: { width: BEDS[ruler][1][1], length: BEDS[ruler][1][2], drop: DROP[ruler] } }, size: { size: inch ? ["60in", "80in"] : ["150cm", "200cm"] } } as const;
  const setComes = (to: "none" | "bed" | "size") => patch({ come_to: to === "none" ? null : (begin[to] as unknown as ComeTo) });
  const setBed = (patched: Partial<Bed>) => bed && patch({ come_to: { bed: cleared({ ...bed, ...patched }) } });
  const label = (key: keyof Label) => (
    <Field label={said.label[key]} value={finish.label?.[key] ?? ""} onChange={(text) => patch({ label: lettered({ ...finish.label, [key]: text.trim().slice(0, 80) }) })} />
  );
  return (
    <Section title={said.title} help={said.help} id="panel-finish">
      <Said store={store} where="finish" />
      <div class="row">
        <button type="button" onClick={() => change({ ...finish, ...USUAL })}>{said.usual}</button>
        <button type="button" disabled={Object.keys(finish).length === 0} onClick={() => change({})}>{said.nothing}</button>
      </div>
      <div class="part">
        <h3>{said.borders}</h3>
        {borders.map((one, at) => (
          <div key={at} class="two" role="group" aria-label={said.border(at + 1)}>
            {length(said.borderWidth(at + 1), one.width, said.workedOut, (width) => border(at, { width }))}
            <OneOf
              label={said.pieced}
              options={[["none", said.units.none], ["squares", said.units.squares], ["rectangles", said.units.rectangles], ["triangles", said.units.triangles]]}
              value={one.pieced ? (one.pieced.units ?? "squares") : "none"}
              onChange={(units) => patch({ borders: borders.map((old, index) => (index !== at ? old : units === "none" ? { width: old.width ?? USUAL_BORDER[ruler] } : { pieced: { units } })) })}
            />
            {one.pieced && <p class="help">{said.piecedHelp}</p>}
            {!one.pieced && cloth(said.fabric, said.darkest, one.fabric, (fabric) => border(at, { fabric }))}
            {!one.pieced && <OneOf label={said.corners} options={[["square", said.square], ["cornerstones", said.cornerstones], ["mitred", said.mitred]]} value={one.corners ?? "square"} onChange={(corners) => border(at, { corners })} />}
            <button type="button" class="quiet" onClick={() => patch({ borders: borders.filter((other) => other !== one) })}>{said.dropBorder(at + 1)}</button>
          </div>
        ))}
        {borders.length < MOST_BORDERS && (
          <button type="button" onClick={() => patch({ borders: [...borders, { width: USUAL_BORDER[ruler] }] })}>{said.addBorder}</button>
        )}
        <OneOf label={said.comes} options={[["none", said.asItIs], ["bed", said.bed], ["size", said.size]]} value={comes} onChange={setComes} />
        {comes !== "none" && <p class="help">{said.comesHelp}</p>}
        {bed && (
          <>
            <div class="row">
              {BEDS[ruler].map(([name, width, long]) => (
                <button key={name} type="button" aria-pressed={bare(bed.width) === width && bare(bed.length) === long} onClick={() => setBed({ width, length: long })}>
                  {said.beds[name]}
                </button>
              ))}
            </div>
            <div class="two">
              {length(said.mattressWidth, bed.width, "", (width) => width && setBed({ width }))}
              {length(said.mattressLength, bed.length, "", (long) => long && setBed({ length: long }))}
              {length(said.drop, bed.drop, "", (drop) => drop && setBed({ drop }))}
              {length(said.depth, bed.depth, said.unsaid, (depth) => setBed({ depth }))}
              {length(said.tuck, bed.tuck, said.none, (tuck) => setBed({ tuck: tuck ?? "0in" }))}
            </div>
          </>
        )}
        {size && (
          <div class="two">
            {length(words.size.width, size[0], "", (width) => width && patch({ come_to: { size: [width, size[1]] } }))}
            {length(words.size.height, size[1], "", (height) => height && patch({ come_to: { size: [size[0], height] } }))}
          </div>
        )}
      </div>
      <div class="part">
        <h3>{said.layers}</h3>
        <div class="row">
          <Switch label={said.backing} value={!!finish.backing} onChange={(on) => patch({ backing: on ? {} : null })} />
          <Switch label={said.batting} value={finish.batting ?? false} onChange={(batting) => patch({ batting })} />
          {finish.backing && <Switch label={said.piecedBack} value={finish.backing.pieced ?? false} onChange={(pieced) => patch({ backing: cleared({ ...finish.backing, pieced }) })} />}
          {finish.backing && <Switch label={said.halves} value={finish.backing.halves ?? false} onChange={(halves) => patch({ backing: cleared({ ...finish.backing, halves }) })} />}
        </div>
        {finish.backing && (
          <div class="two">
            {cloth(said.fabric, said.otherCloth, finish.backing.fabric, (fabric) => patch({ backing: cleared({ ...finish.backing, fabric }) }))}
            {length(said.backingWidth, finish.backing.width, inch ? "42 in" : "110 cm", (width) => patch({ backing: cleared({ ...finish.backing, width }) }))}
          </div>
        )}
        {(finish.backing || finish.batting) && length(said.overhang, finish.overhang, inch ? "4 in" : "10 cm", (overhang) => patch({ overhang }))}
        <OneOf
          label={said.quilting}
          options={[["none", said.unsaid], ["ditch", said.ditch], ["rows", said.rows], ["half-circles", said.circles]]}
          value={finish.quilting ? (finish.quilting.motif ?? "ditch") : "none"}
          onChange={(motif) => patch({ quilting: motif === "none" ? null : { motif } })}
        />
        {finish.quilting && (finish.quilting.motif ?? "ditch") !== "ditch" &&
          length(said.scale, finish.quilting.scale, said.usually, (scale) => patch({ quilting: cleared({ ...finish.quilting, scale }) }))}
      </div>
      <div class="part">
        <h3>{said.edge}</h3>
        <div class="row">
          <Switch label={said.binding} value={!!finish.binding} onChange={(on) => patch({ binding: on ? {} : null, facing: null })} />
          <Switch label={said.facing} value={!!finish.facing} onChange={(on) => patch({ facing: on ? {} : null, binding: null })} />
          {finish.binding && <Switch label={said.bias} value={finish.binding.bias ?? false} onChange={(bias) => patch({ binding: cleared({ ...finish.binding, bias }) })} />}
          <Switch label={said.sleeve} value={finish.sleeve ?? false} onChange={(sleeve) => patch({ sleeve })} />
        </div>
        {finish.facing && (
          <>
            <p class="help">{said.facingHelp}</p>
            <div class="two">
              {length(said.strip, finish.facing.strip, inch ? "2 1/2 in" : "6.5 cm", (strip) => patch({ facing: cleared({ ...finish.facing, strip }) }))}
              {cloth(said.fabric, said.backFabric, finish.facing.fabric, (fabric) => patch({ facing: cleared({ ...finish.facing, fabric }) }))}
            </div>
          </>
        )}
        {finish.binding && (
          <>
            <OneOf label={said.fold} options={[["double", said.double], ["single", said.single]]} value={finish.binding.fold ?? "double"} onChange={(fold) => patch({ binding: cleared({ ...finish.binding, fold }) })} />
            <div class="two">
              {length(said.bindingWidth, finish.binding.width, inch ? "3/8 in" : "1 cm", (width) => patch({ binding: cleared({ ...finish.binding, width }) }))}
              {cloth(said.fabric, said.outer, finish.binding.fabric, (fabric) => patch({ binding: cleared({ ...finish.binding, fabric }) }))}
            </div>
          </>
        )}
        <h3>{said.labelTitle}</h3>
        <p class="help">{said.labelHelp}</p>
        <div class="two">{(["maker", "date", "place", "care"] as const).map(label)}</div>
      </div>
      <p class="help">{said.inTheList}</p>
    </Section>
  );
}

const bare = (length: string) => length.replace(/\s/g, "");

/** Without what says nothing, as it is written. */
function cleared<T extends object>(made: T): T {
  const says = ([, value]: [string, unknown]) => value !== null && value !== undefined && value !== false && !(Array.isArray(value) && value.length === 0);
  return Object.fromEntries(Object.entries(made).filter(says)) as T;
}

function lettered(label: Label): Label | null {
  const written = Object.fromEntries(Object.entries(label).filter(([, text]) => text !== "")) as Label;
  return Object.keys(written).length > 0 ? written : null;
}

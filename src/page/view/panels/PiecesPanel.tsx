/** More to be taken, and fabrics exchanged in it. */

import { useEffect, useState } from "preact/hooks";

import { Section } from "../parts/controls";
import { paint } from "../scene/draw";
import { placed } from "../scene/layout";
import { planOf } from "../state/doc";
import { exchange } from "../state/marks";
import type { Store } from "../state/store";
import { useStore } from "../state/use";
import { words } from "../words";
import { RowPart } from "./RowPart";
import { Said } from "./Said";

export function PiecesPanel({ store }: { store: Store }) {
  const { doc, taken } = useStore(store);
  const plan = planOf(doc);
  if (!plan) return null;
  const { pieces: said } = words;
  const take = (holds: (address: string, from: string) => boolean) => {
    const all = placed(plan).map(({ unit }) => unit.address);
    const from = [...taken];
    store.set({ taken: new Set(all.filter((address) => from.some((one) => holds(address, one)))) });
  };
  const same = (parts: number) => (address: string, from: string) =>
    address.split(".").slice(0, parts).join(".") === from.split(".").slice(0, parts).join(".");
  return (
    <Section title={said.title} help={said.help} id="panel-pieces" open>
      <div class="row">
        <button type="button" disabled={taken.size === 0} onClick={() => take(same(3))}>{said.row}</button>
        <button type="button" disabled={taken.size === 0} onClick={() => take(same(2))}>{said.column}</button>
        <button type="button" disabled={taken.size === 0} onClick={() => take(same(1))}>{said.band}</button>
        <button type="button" onClick={() => store.set({ taken: new Set(placed(plan).map(({ unit }) => unit.address)) })}>{said.all}</button>
        <button type="button" class="quiet" disabled={taken.size === 0} onClick={() => store.set({ taken: new Set() })}>{said.nothing}</button>
        <button type="button" class="quiet" onClick={() => store.set({ screen: "keys" })}>{words.keys.title}</button>
      </div>
      <Said store={store} where="pieces" />
      <Exchange store={store} />
      <Changed store={store} />
      <RowPart store={store} plan={plan} />
    </Section>
  );
}

function Exchange({ store }: { store: Store }) {
  const { doc, taken } = useStore(store);
  const plan = planOf(doc);
  const units = plan ? placed(plan).map(({ unit }) => unit) : [];
  const shown = units.filter((unit) => taken.size === 0 || taken.has(unit.address));
  const letters = new Set(shown.flatMap((unit) => unit.patches.map((patch) => patch.fabric)));
  const fabrics = (plan?.fabrics ?? []).filter(({ letter }) => !doc.without.includes(letter));
  const here = fabrics.filter(({ letter }) => letters.has(letter));
  const [from, setFrom] = useState("");
  const [to, setTo] = useState("");
  const now = here.some(({ letter }) => letter === from) ? from : (here[0]?.letter ?? "");
  const others = fabrics.filter(({ letter }) => letter !== now);
  const then = others.some(({ letter }) => letter === to) ? to : (others[0]?.letter ?? "");
  useEffect(() => setFrom(now), [now]);
  const chip = (letter: string) => paint(fabrics.find((fabric) => fabric.letter === letter)?.colour ?? "");
  const { pieces: said } = words;
  return (
    <fieldset class="exchange">
      <legend>
        {said.fabric} {taken.size === 0 && <small>{said.everywhere}</small>}
      </legend>
      <label>
        {said.from}
        <i class="chip" style={{ background: chip(now) }} />
        <select value={now} onChange={(event) => setFrom(event.currentTarget.value)}>
          {here.map(({ letter, name }) => (
            <option key={letter} value={letter}>{`${letter} ${name}`}</option>
          ))}
        </select>
      </label>
      <label>
        {said.to}
        <i class="chip" style={{ background: chip(then) }} />
        <select value={then} onChange={(event) => setTo(event.currentTarget.value)}>
          {others.map(({ letter, name }) => (
            <option key={letter} value={letter}>{`${letter} ${name}`}</option>
          ))}
        </select>
      </label>
      <button type="button" onClick={() => void exchange(store, now, then)}>
        {said.change}
      </button>
    </fieldset>
  );
}

function Changed({ store }: { store: Store }) {
  const { doc, history } = useStore(store);
  const changes = doc.shown?.changes;
  if (!changes || history.past.length === 0) return null;
  return <p class="help">{words.pieces.changedOf(changes.units - changes.same, changes.units)}</p>;
}

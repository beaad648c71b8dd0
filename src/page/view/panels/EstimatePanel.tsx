/** How long the work takes and what the cloth costs, at her own rates and prices. */

import type { Rates, Reckoned } from "built/rowscape";
import { useState } from "preact/hooks";

import { Field, Section } from "../parts/controls";
import { planOf } from "../state/doc";
import { own } from "../state/pace";
import type { Store } from "../state/store";
import { useStore } from "../state/use";
import { words } from "../words";

const { estimate: said } = words;

/** What she wrote: rates in seconds, prices of a square, a length and the batting, and of fabrics by letter. */
interface Costs {
  rates: Rates | null;
  prices: [string, string, string];
  fabrics: [string, [string, string]][];
}

const NOTHING: Costs = { rates: null, prices: ["", "", ""], fabrics: [] };
const RATES = ["cut", "seam", "yard", "trim", "quilting", "hand"] as const;
const LONGEST = 36_000;

interface Shown {
  reckoned: Reckoned;
  /** Parts at her own pace, in milliseconds. */
  own: Map<string, number>;
}

export function EstimatePanel({ store }: { store: Store }) {
  const { doc } = useStore(store);
  const plan = planOf(doc);
  const [costs, setCosts] = useState<Costs>(NOTHING);
  const [shown, setShown] = useState<Shown | null>(null);
  if (!plan) return null;
  const ask = async (costs: Costs) => {
    setCosts(costs);
    const asked = { what: said.reckoning, plain: true, topic: "estimate", where: "page" as const };
    const answered = await store.run(() => ({ question: { estimate: { plan, ...costs } } }), asked);
    if (!answered || !("estimate" in answered.reply)) return;
    const { estimate: reckoned } = answered.reply;
    const known = await store.book.rates().catch(() => new Map<string, number>());
    const listed = known.size > 0 ? await store.run(() => ({ question: { steps: plan } }), { ...asked, topic: "steps" }) : null;
    const steps = listed && "steps" in listed.reply ? listed.reply.steps.steps : [];
    const parts = reckoned.parts.flatMap(([name]): [string, number][] => {
      const took = own(name, steps, known);
      return took === null ? [] : [[name, took]];
    });
    setShown({ reckoned, own: new Map(parts) });
  };
  const begin = async () => ask((await store.book.costs<Costs>().catch(() => null)) ?? NOTHING);
  const change = (patch: Partial<Costs>) => {
    const next = { ...costs, ...patch };
    void store.book.keepCosts(next).catch(() => undefined);
    void ask(next);
  };
  const { ruler } = plan.request;
  const price = (at: 0 | 1 | 2, label: string) => (
    <Field label={label} value={costs.prices[at]} hint={said.priceHint} onChange={(text) => change({ prices: costs.prices.map((old, index) => (index === at ? text.trim() : old)) as Costs["prices"] })} />
  );
  const written = (letter: string) => costs.fabrics.find(([other]) => other === letter)?.[1] ?? ["", ""];
  const ofFabric = (letter: string, at: 0 | 1, text: string) => {
    const next = written(letter).map((old, index) => (index === at ? text.trim() : old)) as [string, string];
    const others = costs.fabrics.filter(([other]) => other !== letter);
    change({ fabrics: next.some((text) => text !== "") ? [...others, [letter, next]] : others });
  };
  const rate = (name: (typeof RATES)[number], rates: Rates) => (
    <Field
      key={name}
      label={said.rates[name]}
      value={String(rates[name])}
      hint={said.seconds}
      onChange={(text) => {
        const seconds = Number(text);
        if (Number.isInteger(seconds) && seconds >= 0 && seconds <= LONGEST) change({ rates: { ...rates, [name]: seconds } });
      }}
    />
  );
  return (
    <Section title={said.title} help={said.help} id="panel-estimate" onToggle={(open) => open && void begin()}>
      {shown && (
        <>
          <Times shown={shown} />
          <details>
            <summary>{said.ratesTitle}</summary>
            <p class="help">{said.ratesHelp}</p>
            <div class="two">{RATES.map((name) => rate(name, shown.reckoned.rates))}</div>
            {costs.rates && <button type="button" class="quiet" onClick={() => change({ rates: null })}>{said.usualRates}</button>}
          </details>
          <div class="part">
            <h3>{said.cost}</h3>
            <div class="two">
              {price(0, said.square)}
              {price(1, said.length[ruler])}
              {price(2, said.batting)}
            </div>
            <details>
              <summary>{said.byFabric}</summary>
              {plan.fabrics.map(({ letter, name }) => (
                <div key={letter} class="two" role="group" aria-label={`${letter} ${name}`}>
                  <Field label={said.squareOf(letter, name)} value={written(letter)[0]} onChange={(text) => ofFabric(letter, 0, text)} />
                  <Field label={said.lengthOf[ruler](letter, name)} value={written(letter)[1]} onChange={(text) => ofFabric(letter, 1, text)} />
                </div>
              ))}
            </details>
            {shown.reckoned.unread.map((text) => (
              <p key={text} class="trouble" role="alert">{said.unread(text)}</p>
            ))}
            {shown.reckoned.sum && <Costing reckoned={shown.reckoned} />}
          </div>
        </>
      )}
    </Section>
  );
}

function Times({ shown: { reckoned, own } }: { shown: Shown }) {
  const took = (name: string, seconds: number) => (own.get(name) ?? 0) / 1000 || seconds;
  const parts = reckoned.parts.filter(([, seconds]) => seconds > 0);
  const all = parts.reduce((sum, [name, seconds]) => sum + took(name, seconds), 0);
  return (
    <table data-testid="times">
      <caption>{said.times}</caption>
      <tbody>
        {parts.map(([name, seconds]) => (
          <tr key={name}>
            <th scope="row">{said.parts[name] ?? name}</th>
            <td>{hours(took(name, seconds))}</td>
            <td>{own.has(name) ? said.ownPace : ""}</td>
          </tr>
        ))}
        <tr>
          <th scope="row">{said.all}</th>
          <td>{hours(all)}</td>
          <td />
        </tr>
      </tbody>
    </table>
  );
}

/** To the next five minutes: it is no more exact than that. */
function hours(seconds: number): string {
  const minutes = Math.ceil(seconds / 300) * 5;
  return words.machine.hours(Math.floor(minutes / 60), minutes % 60);
}

function Costing({ reckoned: { lines, sum, open } }: { reckoned: Reckoned }) {
  return (
    <>
      <table data-testid="costs">
        <caption>{said.costs}</caption>
        <tbody>
          {lines.map(([name, price]) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              <td>{price ?? said.noPrice}</td>
            </tr>
          ))}
          <tr>
            <th scope="row">{said.all}</th>
            <td>{sum}</td>
          </tr>
        </tbody>
      </table>
      {open && <p class="help">{said.open}</p>}
    </>
  );
}

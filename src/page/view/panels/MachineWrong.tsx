/** Where something went wrong: what happened, and the least change, before and after side by side. */

import type { Plan } from "built/rowscape";
import { useState } from "preact/hooks";

import { Field } from "../parts/controls";
import { measured } from "../parts/measured";
import { Cloth } from "../parts/Swatch";
import { cells, placed } from "../scene/layout";
import type { Placed } from "../scene/layout";
import { JOINS, ask, current, take, view } from "../state/machine";
import type { Store } from "../state/store";
import { useStore } from "../state/use";
import { words } from "../words";
import { Unit, fabricsOf } from "./MachineStep";
import { noteWords } from "./note-words";

const said = words.machine;
/** Steps that are named. */
const NAMED = 4;
const MADE = ["apart", "press", "trim", "strips"];

export function Wrong({ store, plan }: { store: Store; plan: Plan }) {
  const state = useStore(store);
  const step = current(state);
  if (!step) return null;
  const fabrics = fabricsOf(plan);
  const units = placed(plan).filter(({ unit }) => step.units.includes(unit.address));
  const last = units.at(-1);
  const joins = step.chapter === "rows";
  const lost = JOINS.has(step.chapter) ? units : MADE.includes(step.chapter) && last ? [last] : [];
  const called = ({ unit: { address } }: Placed) => (joins && step.parts ? (address === step.parts[0] ? said.left(address) : said.right(address)) : address);
  const isUnit = JOINS.has(step.chapter) || step.chapter === "strips";
  const name = (one: Placed) => (isUnit ? said.lost(called(one)) : said.lostOf(step.title.split(":")[0] ?? ""));
  return (
    <div class="say wrong-way">
      <p>{said.wrongHelp}</p>
      <ul>
        {lost.map((one) => (
          <li key={one.unit.address}>
            <button type="button" data-lost={one.unit.address} onClick={() => void ask(store, { lost: one.unit.address })}>
              <Picture one={one} plan={plan} /> <span>{name(one)}</span>
            </button>
          </li>
        ))}
        {joins && (
          <li>
            <button type="button" onClick={() => view(store, "row")}>
              <span>{said.rowOff}</span>
            </button>
          </li>
        )}
        {step.fabrics.map((letter) => (
          <li key={letter}>
            <button type="button" data-out={letter} onClick={() => void ask(store, { out: letter })}>
              <Cloth fabric={fabrics.get(letter)} /> <span>{said.out(fabrics.get(letter)?.name ?? letter)}</span>
            </button>
          </li>
        ))}
      </ul>
      {step.parts && joins && units.filter(({ unit }) => unit.triangle).map((one) => <Turned key={one.unit.address} store={store} plan={plan} one={one} called={called(one)} />)}
    </div>
  );
}

function Picture({ one, plan, turn = 0 }: { one: Placed; plan: Plan; turn?: number }) {
  const side = Math.max(one.width, one.height);
  return (
    <svg class="unit" viewBox={`0 0 ${side} ${side}`} aria-hidden="true">
      <g transform={`rotate(${90 * turn} ${side / 2} ${side / 2}) translate(${(side - one.width) / 2 - one.x} ${(side - one.height) / 2 - one.y})`}>
        <Unit one={one} fabrics={fabricsOf(plan)} letters={false} />
      </g>
    </svg>
  );
}

/** The ways that a unit may have been turned: one with a strip cut off fits in two ways only. */
function Turned({ store, plan, one, called }: { store: Store; plan: Plan; one: Placed; called: string }) {
  const ways = one.unit.triangle?.cut === "whole" ? [1, 2, 3] : [2];
  const { address } = one.unit;
  return (
    <>
      <h2>{said.turned(called)}</h2>
      <ul class="turns">
        {ways.map((by) => (
          <li key={by}>
            <button type="button" data-turned={`${address} ${by}`} aria-label={said.turnedBy(address, by)} onClick={() => void ask(store, { turned: address, by })}>
              <Picture one={one} plan={plan} turn={by} />
            </button>
          </li>
        ))}
      </ul>
    </>
  );
}

export function RowOff({ store, plan }: { store: Store; plan: Plan }) {
  const step = current(useStore(store));
  const [told, setTold] = useState<string[]>([]);
  const [found, setFound] = useState("");
  const { ruler } = plan.request;
  const at = step?.units[0];
  if (!step?.row || at === undefined) return null;
  const go = async (text: string) => {
    setFound(text);
    const measures = measured(text, ruler);
    if (measures === null) return setTold([]);
    const answered = await store.run(() => ({ question: { remedy: { plan, at, measures } } }), { what: said.asking, plain: true, topic: "advice", where: "page" });
    if (answered && "text" in answered.reply) setTold(answered.reply.text.trim().split("\n"));
  };
  return (
    <div class="say">
      <p>{said.rowHelp}</p>
      <Field label={words.pieces.offField(step.row)} value={found} hint={words.pieces.offHint[ruler]} onChange={(text) => void go(text)} />
      <p class="row">
        <button type="button" class="main">{said.rowAsk}</button>
      </p>
      <div role="status" data-testid="remedy">
        {told.map((line) => (
          <p key={line}>{line}</p>
        ))}
      </div>
    </div>
  );
}

export function Answer({ store, plan }: { store: Store; plan: Plan }) {
  const { machine } = useStore(store);
  const { proposed } = machine;
  if (!proposed) return null;
  const { shown, buy, more, unpick } = proposed;
  const then = shown.answer.plan;
  const fabrics = fabricsOf(then);
  const notes = shown.answer.notes.map(noteWords).filter((note) => note !== null);
  const { changes } = shown;
  return (
    <>
      <div class="show both" data-testid="answer">
        <Top plan={plan} changed={proposed.changed} label={said.before} />
        <Top plan={then} changed={proposed.changed} label={said.after} />
      </div>
      <div class="say" tabIndex={0} role="group" aria-label={said.costs}>
        {changes && <p>{words.pieces.changedOf(changes.units - changes.same, changes.units)}</p>}
        {notes.map((note) => (
          <p key={note}>{note}</p>
        ))}
        <h2>{said.costs}</h2>
        <p>{said.unpick(unpick.length)}</p>
        <ul class="plain">
          {unpick.map((step) => (
            <li key={step.key}>{step.title}</li>
          ))}
        </ul>
        {buy.length === 0 ? (
          <p>{said.buyNone}</p>
        ) : (
          <>
            <h3>{said.buy}</h3>
            <ul class="plain">
              {buy.map(([letter, what]) => (
                <li key={letter}>
                  <Cloth fabric={fabrics.get(letter)} /> {fabrics.get(letter)?.name}: {what}
                </li>
              ))}
            </ul>
          </>
        )}
        <p>{said.more(more.length)}</p>
        <ul class="plain">
          {more.slice(0, NAMED).map((step) => (
            <li key={step.key}>{step.title}</li>
          ))}
          {more.length > NAMED && <li>{said.andMore(more.length - NAMED)}</li>}
        </ul>
      </div>
      <div class="do two">
        <button type="button" onClick={() => view(store, "step")}>
          {said.leave}
        </button>
        <button type="button" class="main" data-testid="take" onClick={() => void take(store)}>
          {said.take}
        </button>
      </div>
    </>
  );
}

/** The whole top with what is changed framed. */
function Top({ plan, changed, label }: { plan: Plan; changed: readonly string[]; label: string }) {
  const [width, height] = cells(plan);
  const fabrics = fabricsOf(plan);
  const all = placed(plan);
  const line = Math.max(width, height) * 0.012;
  return (
    <figure>
      <svg viewBox={[-line, -line, width + 2 * line, height + 2 * line].join(" ")} role="img" aria-label={label}>
        {all.map((one) => (
          <Unit key={one.unit.address} one={one} fabrics={fabrics} letters={false} />
        ))}
        {all.map(({ unit, x, y, width: w, height: h }) =>
          changed.includes(unit.address) ? <rect key={unit.address} x={x} y={y} width={w} height={h} class="now" style={{ "stroke-width": line }} /> : null,
        )}
      </svg>
      <figcaption>{label}</figcaption>
    </figure>
  );
}

/** At the machine: one step, large, with a tick; all steps, and what to do where something went wrong. */

import { useEffect, useState } from "preact/hooks";

import { Spoken } from "../parts/controls";
import { Cloth } from "../parts/Swatch";
import { planOf } from "../state/doc";
import { current, go, isDone, jump, leave, load, only, progress, rest, tick, view, visible } from "../state/machine";
import type { State, Store } from "../state/store";
import { doneKeys } from "../state/ticks";
import { useStore } from "../state/use";
import { words } from "../words";
import { Laid } from "./MachineLaid";
import { StepDrawing } from "./MachineStep";
import { Answer, RowOff, Wrong } from "./MachineWrong";

const said = words.machine;

export function MachineScreen({ store }: { store: Store }) {
  const state = useStore(store);
  const awake = useAwake();
  const { machine, doc } = state;
  const plan = planOf(doc);
  useEffect(() => void (machine.steps || load(store)), []);
  const [quilt] = useState(doc.quilt);
  // Another file was opened over it.
  useEffect(() => {
    if (quilt !== doc.quilt) store.set({ screen: "page" });
  }, [doc.quilt]);
  const step = current(state);
  const [done, all] = progress(state);
  const kept = doneKeys(state.ticks).length;
  const title = machine.view === "step" ? (step?.title ?? "") : titles[machine.view];
  return (
    <main class={`machine view-${machine.view}`} data-testid="machine" data-at={machine.at} data-title={step?.title} data-kept={kept} data-units={step?.units.length} data-fabrics={step?.fabrics.join(" ")}>
      <header class="bar">
        <button type="button" class="quiet" aria-label={said.close} onClick={() => leave(store)}>
          ←
        </button>
        <h1>{machine.view === "step" ? (machine.steps?.chapters.find(({ id }) => id === step?.chapter)?.title ?? said.title) : title}</h1>
        {(machine.view === "step" || machine.view === "all") && (
          <span class="count" data-testid="count">{machine.steps && said.progress(done, all)}</span>
        )}
        <button type="button" class="quiet" aria-label={said.all} aria-pressed={machine.view === "all"} onClick={() => view(store, machine.view === "all" ? "step" : "all")}>
          ☰
        </button>
      </header>
      <progress max={Math.max(1, all)} value={done} aria-label={said.progress(done, all)} />
      {plan && machine.view === "step" && <Step store={store} awake={awake} />}
      {plan && machine.view === "all" && <All store={store} awake={awake} />}
      {plan && machine.view === "wrong" && <Wrong store={store} plan={plan} />}
      {plan && machine.view === "row" && <RowOff store={store} plan={plan} />}
      {plan && machine.view === "answer" && <Answer store={store} plan={plan} />}
      <Spoken words={step ? said.said(title, done, all) : ""} />
    </main>
  );
}

const titles = { step: "", all: said.all, wrong: said.wrong, row: said.rowTitle, answer: said.answer };

function Step({ store, awake }: { store: Store; awake: boolean | null }) {
  const state = useStore(store);
  const { machine } = state;
  const plan = planOf(state.doc);
  const step = current(state);
  if (!plan || !step) return null;
  const done = isDone(state, step);
  const of = machine.steps?.steps.filter(({ chapter }) => chapter === step.chapter) ?? [];
  const chapter = machine.steps?.chapters.find(({ id }) => id === step.chapter);
  const begins = of.every((one) => !isDone(state, one));
  const shown = visible(state);
  const fabric = plan.fabrics.find(({ letter }) => letter === machine.fabric);
  const finished = shown.every((one) => isDone(state, one));
  const at = shown.indexOf(step);
  return (
    <>
      <div class="show">
        <StepDrawing plan={plan} step={step} />
        <Laid store={store} plan={plan} step={step} />
      </div>
      <div class="say" tabIndex={0} role="group" aria-label={step.title}>
        {machine.told && <p class="told" role="status">{machine.told}</p>}
        {!state.ticksKept && <p class="told" role="alert">{said.cannot}</p>}
        {finished && <p class="told" data-testid="finished">{fabric ? said.finishedOnly(fabric.name) : said.finished}</p>}
        <h2 data-testid="step">{step.title}</h2>
        {step.words.map((line) => (
          <p key={line}>{line}</p>
        ))}
        {begins && chapter && (
          <div class="care" data-testid="care">
            {chapter.words && <p>{chapter.words}</p>}
            {chapter.cautions.length > 0 && <h3>{said.care}</h3>}
            {chapter.cautions.map((line) => (
              <p key={line}>{line}</p>
            ))}
            {awake === false && <p>{said.asleep}</p>}
          </div>
        )}
      </div>
      <div class="do">
        <button type="button" class="fault" onClick={() => view(store, "wrong")}>
          {said.wrong}
        </button>
        <button type="button" aria-label={said.back} disabled={at <= 0} onClick={() => go(store, -1)}>
          ‹
        </button>
        <button type="button" class={done ? "tick done" : "tick main"} data-testid="tick" aria-pressed={done} onClick={() => void tick(store)}>
          {done ? (
            <>
              <span aria-hidden="true">✓</span> {said.untick}
            </>
          ) : (
            said.tick
          )}
        </button>
        <button type="button" aria-label={said.next} disabled={at < 0 || at >= shown.length - 1} onClick={() => go(store, 1)}>
          ›
        </button>
      </div>
    </>
  );
}

function All({ store, awake }: { store: Store; awake: boolean | null }) {
  const state = useStore(store);
  const { machine, doc } = state;
  const steps = machine.steps?.steps ?? [];
  const shown = visible(state);
  const rows = [...new Set(shown.flatMap(({ row, chapter }) => (row !== null && row !== undefined && chapter === "rows" ? [row] : [])))];
  const here = current(state)?.row ?? "";
  const letters = new Set(steps.flatMap(({ fabrics }) => fabrics));
  const fabrics = (planOf(doc)?.fabrics ?? []).filter(({ letter }) => letters.has(letter));
  return (
    <div class="say all">
      <h2>{said.chapters}</h2>
      <ul>
        {machine.steps?.chapters.map(({ id, title }) => {
          const of = shown.filter(({ chapter }) => chapter === id);
          const [done, all] = progress(state, of);
          return of.length === 0 ? null : (
            <li key={id}>
              <button type="button" data-chapter={id} onClick={() => jump(store, (step) => step.chapter === id && visible(store.state).includes(step))}>
                <span>{title}</span> <span class="count">{done === all ? "✓ " : ""}{said.progress(done, all)}</span>
              </button>
            </li>
          );
        })}
      </ul>
      {rows.length > 0 && (
        <label class="field">
          {said.rows}
          <select
            value={rows.includes(here) ? here : ""}
            onChange={(event) => {
              const row = event.currentTarget.value;
              jump(store, (step) => step.row === row && step.chapter === "rows");
            }}
          >
            {!rows.includes(here) && <option value="">…</option>}
            {rows.map((row) => (
              <option key={row} value={row}>
                {said.row(row)}
              </option>
            ))}
          </select>
        </label>
      )}
      <h2>{said.fabric}</h2>
      <ul class="chips">
        <li>
          <button type="button" aria-pressed={machine.fabric === null} onClick={() => only(store, null)}>
            {said.anyFabric}
          </button>
        </li>
        {fabrics.map((fabric) => (
          <li key={fabric.letter}>
            <button type="button" aria-pressed={machine.fabric === fabric.letter} data-fabric={fabric.letter} onClick={() => only(store, fabric.letter)}>
              <Cloth fabric={fabric} /> {fabric.name}
            </button>
          </li>
        ))}
      </ul>
      <h2>{said.pace}</h2>
      <p data-testid="pace">{paceWords(state)}</p>
      <p>{state.ticksKept ? said.kept : said.cannot}</p>
      <p>{awake === false ? said.asleep : said.awake}</p>
      <p>{said.laidHelp}</p>
      <p>{words.list.care}</p>
    </div>
  );
}

function paceWords(state: State): string {
  const known = rest(state);
  if (!known) return said.paceNone;
  // To five minutes: it is no more exact than that.
  const minutes = Math.max(5, Math.round(known.left / 300_000) * 5);
  const is = said.paceIs(said.hours(Math.floor(minutes / 60), minutes % 60), known.from);
  return known.guessed > 0 ? `${is} ${said.paceGuess}` : is;
}

/** Keeps the screen awake while it is open; whether the browser does, none while that is asked. */
function useAwake(): boolean | null {
  const [awake, setAwake] = useState<boolean | null>(null);
  useEffect(() => {
    let lock: WakeLockSentinel | null = null;
    let gone = false;
    const ask = async () => {
      if (document.visibilityState !== "visible") return;
      try {
        lock = await navigator.wakeLock.request("screen");
        if (gone) void lock.release();
        else setAwake(true);
      } catch {
        if (!gone) setAwake(false);
      }
    };
    void ask();
    document.addEventListener("visibilitychange", ask);
    return () => {
      gone = true;
      document.removeEventListener("visibilitychange", ask);
      void lock?.release();
    };
  }, []);
  return awake;
}

/** The page. */

import { useEffect, useState } from "preact/hooks";

import { ChoicesPanel } from "./panels/ChoicesPanel";
import { DialsPanel } from "./panels/DialsPanel";
import { FabricsPanel } from "./panels/FabricsPanel";
import { FinerPanel } from "./panels/FinerPanel";
import { EstimatePanel } from "./panels/EstimatePanel";
import { FinishPanel } from "./panels/FinishPanel";
import { KeepPanel } from "./panels/KeepPanel";
import { KeysScreen } from "./panels/KeysScreen";
import { ListScreen } from "./panels/ListScreen";
import { MachineScreen } from "./panels/MachineScreen";
import { Notes } from "./panels/Notes";
import { PhotoScreen } from "./panels/PhotoScreen";
import { PicturePanel } from "./panels/PicturePanel";
import { PiecesPanel } from "./panels/PiecesPanel";
import { Said } from "./panels/Said";
import { Shows } from "./panels/Shows";
import { SizePanel } from "./panels/SizePanel";
import { Sketch } from "./panels/Sketch";
import { Start } from "./panels/Start";
import { StepsPanel } from "./panels/StepsPanel";
import { TakenBar } from "./panels/TakenBar";
import { Working } from "./panels/Working";
import { Spoken } from "./parts/controls";
import { Scene } from "./scene/Scene";
import { action, press } from "./state/actions";
import { planOf } from "./state/doc";
import { save } from "./state/files";
import type { Keeper } from "./state/keep";
import { fresh, openFile } from "./state/open";
import type { Newer } from "./state/newer";
import type { Store } from "./state/store";
import { useStore } from "./state/use";
import { words } from "./words";

export function App({ store, keeper, newer }: { store: Store; keeper: Keeper; newer: Newer }) {
  const state = useStore(store);
  const [hovering, setHovering] = useState(false);
  const plan = planOf(state.doc);
  useEffect(() => gestures(store, setHovering), []);
  const figures = state.doc.shown?.answer.figures.pieces.units;
  return (
    <div class={`app ${plan ? "with-scene" : "without"} ${hovering ? "hovering" : ""} ${state.taken.size > 0 ? "taking" : ""} at-${state.screen}`} data-done={state.done}>
      {state.screen !== "machine" && <Top store={store} keeper={keeper} />}
      <Newest newer={newer} />
      <Said store={store} where="page" />
      {state.said !== null && (
        <div class="newer" role="status">
          {state.said}{" "}
          <button type="button" onClick={() => store.set({ said: null })}>
            {words.machine.dismiss}
          </button>
        </div>
      )}
      {state.screen === "machine" && plan && <MachineScreen store={store} />}
      {state.screen === "list" && plan && <ListScreen store={store} />}
      {state.screen === "sketch" && <Sketch store={store} />}
      {state.screen === "photos" && <PhotoScreen store={store} />}
      {state.screen === "keys" && <KeysScreen store={store} />}
      {state.screen === "page" && !plan && (
        <main>
          <Said store={store} where="picture" />
          <Said store={store} where="size" />
          <Said store={store} where="fabrics" />
          <Start store={store} keeper={keeper} />
        </main>
      )}
      {state.screen === "page" && plan && (
        <main class="work">
          <div class="seen">
            <Scene store={store} plan={plan} />
            <TakenBar store={store} />
            <Shows store={store} />
          </div>
          <div class="panels">
            <Notes store={store} />
            <DialsPanel store={store} />
            <PiecesPanel store={store} />
            <FabricsPanel store={store} />
            <PicturePanel store={store} />
            <SizePanel store={store} />
            <FinerPanel store={store} />
            <FinishPanel store={store} />
            <EstimatePanel store={store} />
            <ChoicesPanel store={store} />
            <StepsPanel store={store} />
            <KeepPanel store={store} keeper={keeper} />
          </div>
        </main>
      )}
      <p class="on-paper">{words.list.printHow}</p>
      <Working store={store} />
      <Spoken words={figures === undefined ? "" : words.figures.units(figures)} />
    </div>
  );
}

function Top({ store, keeper }: { store: Store; keeper: Keeper }) {
  const { doc, history, screen } = useStore(store);
  const plan = planOf(doc);
  const steps = history.past.length + history.future.length > 0;
  return (
    <header class="top">
      <h1>{words.name}</h1>
      {(plan || steps) && (
        <div class="row">
          {["undo", "redo"].map(action).map((one) => (
            <button
              key={one.id}
              type="button"
              class="quiet"
              disabled={!one.allowed(store)}
              aria-label={one.words(store)}
              title={one.words(store)}
              onClick={() => one.run(store)}
            >
              {one.id === "undo" ? "↶" : "↷"} <span class="wide">{one.id === "undo" ? words.top.undo : words.top.redo}</span>
            </button>
          ))}
          <button
            type="button"
            class="quiet"
            onClick={() => {
              keeper.another();
              fresh(store);
            }}
          >
            {words.top.fresh}
          </button>
          <button type="button" class="quiet" disabled={!plan} onClick={() => save(store)}>
            {words.top.save}
          </button>
          <button
            type="button"
            class="main"
            disabled={!plan}
            aria-pressed={screen === "list"}
            onClick={() => store.set({ screen: screen === "list" ? "page" : "list", list: null })}
          >
            {words.top.list}
          </button>
        </div>
      )}
    </header>
  );
}

function Newest({ newer }: { newer: Newer }) {
  const [ready, setReady] = useState(newer.ready);
  useEffect(() => newer.follow(() => setReady(true)), []);
  if (!ready) return null;
  return (
    <div class="newer" role="status">
      {words.keep.newer}{" "}
      <button type="button" onClick={() => newer.take()}>
        {words.keep.takeNewer}
      </button>
    </div>
  );
}

/** Files dropped and pasted anywhere, and keys. */
function gestures(store: Store, hover: (over: boolean) => void): () => void {
  const ended = new AbortController();
  const { signal } = ended;
  const over = (event: DragEvent) => {
    event.preventDefault();
    hover(true);
  };
  addEventListener("dragover", over, { signal });
  addEventListener("dragleave", (event) => event.relatedTarget === null && hover(false), { signal });
  const drop = (event: DragEvent) => {
    event.preventDefault();
    hover(false);
    const file = event.dataTransfer?.files[0];
    if (file) void openFile(store, file);
  };
  addEventListener("drop", drop, { signal });
  const paste = (event: ClipboardEvent) => {
    const file = [...(event.clipboardData?.files ?? [])].find((file) => file.type.startsWith("image/"));
    if (file) void openFile(store, file);
  };
  addEventListener("paste", paste, { signal });
  const key = (event: KeyboardEvent) => {
    const { target } = event;
    const writes = target instanceof HTMLElement && target.matches("input:not([type=range]):not([type=checkbox]):not([type=radio]), select, textarea");
    if (!writes && press(store, event)) event.preventDefault();
  };
  addEventListener("keydown", key, { signal });
  return () => ended.abort();
}

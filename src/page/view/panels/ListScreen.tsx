/** The list as it is written, to read and to print. */

import { useEffect, useRef, useState } from "preact/hooks";

import { Switch } from "../parts/controls";
import { planOf } from "../state/doc";
import { give, share } from "../state/files";
import type { Store } from "../state/store";
import { useStore } from "../state/use";
import { words } from "../words";

export function ListScreen({ store }: { store: Store }) {
  const { list, doc } = useStore(store);
  const [map, setMap] = useState(false);
  const [greys, setGreys] = useState(false);
  const [more, setMore] = useState(false);
  const frame = useRef<HTMLIFrameElement>(null);
  const plan = planOf(doc);
  useEffect(() => {
    if (!plan) return;
    void store
      .run(() => ({ question: { list: { plan, large_map: map, greys } } }), { what: words.work.stages.files, topic: "list", where: "page" })
      .then((answered) => answered && "text" in answered.reply && store.set({ list: answered.reply.text }));
  }, [plan, map, greys]);
  const print = () => {
    store.hand();
    frame.current?.contentWindow?.print();
  };
  useEffect(() => {
    const key = (event: KeyboardEvent) => {
      if (!(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== "p" || !frame.current) return;
      event.preventDefault();
      print();
    };
    addEventListener("keydown", key);
    return () => removeEventListener("keydown", key);
  }, []);
  const { list: said } = words;
  return (
    <main class="list" data-testid="list">
      <div class="row bar">
        <button type="button" onClick={() => store.set({ screen: "page" })}>
          ← {said.close}
        </button>
        <button type="button" class="main" disabled={list === null} onClick={print}>
          {said.print}
        </button>
        <button type="button" onClick={() => void give(store, null, map, greys)}>
          {said.files}
        </button>
        <button type="button" class="more" aria-expanded={more} aria-controls="list-more" onClick={() => setMore(!more)}>
          {said.more}
        </button>
        <div class={`row rest ${more ? "open" : ""}`} id="list-more">
          <label class="field inline">
            {said.single}
            <select
              value=""
              onChange={(event) => {
                const name = event.currentTarget.value;
                event.currentTarget.value = "";
                if (name) void give(store, name, map, greys);
              }}
            >
              <option value="">…</option>
              {Object.entries(said.kinds).map(([name, what]) => (
                <option key={name} value={name}>
                  {what} ({name})
                </option>
              ))}
            </select>
          </label>
          <label class="field inline">
            {said.sewers}
            <select
              value=""
              onChange={(event) => {
                const sewers = Number(event.currentTarget.value);
                event.currentTarget.value = "";
                if (sewers > 1) void share(store, sewers);
              }}
            >
              <option value="">…</option>
              {[2, 3, 4, 5, 6, 8, 10, 12, 16, 20].map((sewers) => (
                <option key={sewers}>{sewers}</option>
              ))}
            </select>
          </label>
          <Switch label={said.map} value={map} onChange={setMap} />
          <Switch label={said.greys} value={greys} onChange={setGreys} />
        </div>
      </div>
      <p class="help">{said.care}</p>
      {list !== null && <iframe ref={frame} title={said.title} sandbox="allow-same-origin allow-modals" srcdoc={list} />}
    </main>
  );
}

/** The scene: to look at, to walk through, and to take units of. */

import type { Plan } from "built/rowscape";
import { useEffect, useLayoutEffect, useMemo, useRef, useState } from "preact/hooks";

import type { Store } from "../state/store";
import { useStore } from "../state/use";
import { words } from "../words";
import { draw, element, hatches, pixels, small } from "./draw";
import { beside, cells, placed } from "./layout";
import type { Placed, Way } from "./layout";
import { prints as patternsOf } from "./prints";
import { Sight } from "./sight";

const ID = "unit";
const WAYS: Record<string, Way> = { ArrowLeft: "left", ArrowRight: "right", ArrowUp: "up", ArrowDown: "down" };

export function Scene({ store, plan }: { store: Store; plan: Plan }) {
  const { taken, showing, changed, before, doc, looks } = useStore(store);
  const frame = useRef<HTMLDivElement>(null);
  const host = useRef<HTMLDivElement>(null);
  const marks = useRef<SVGGElement | null>(null);
  const [at, setAt] = useState<string | null>(null);
  const all = useMemo(() => placed(plan), [plan]);
  const byAddress = useMemo(() => new Map(all.map((one) => [one.unit.address, one])), [all]);
  const [width, height] = useMemo(() => cells(plan), [plan]);
  const sight = useMemo(() => new Sight(), []);

  useLayoutEffect(() => {
    const svg = element("svg", { viewBox: `0 0 ${width} ${height}`, class: "drawn", role: "presentation" });
    const { units, prints, seams, letters, hatching, addresses } = draw(plan, all, ID);
    const drawn = element("g", { class: "marks", "aria-hidden": "true" });
    const patterns = patternsOf(plan, ID);
    if (patterns) svg.append(patterns);
    svg.append(hatches(plan, ID), units, prints, hatching, seams, letters, addresses, drawn);
    marks.current = drawn;
    host.current?.replaceChildren(svg);
  }, [plan]);

  useEffect(() => {
    if (frame.current && host.current) return sight.follow(frame.current, host.current, width / height);
    return undefined;
  }, [width, height]);

  // Only what is marked is drawn again when units are taken.
  useLayoutEffect(() => {
    const drawn = marks.current;
    if (!drawn) return;
    const box = (one: Placed, kind: string) =>
      element("rect", { x: one.x, y: one.y, width: one.width, height: one.height, class: kind });
    const boxes: SVGElement[] = [];
    for (const one of all) {
      if (one.unit.state !== "free") boxes.push(stitch(one));
    }
    if (showing.has("changed")) {
      for (const address of changed) {
        const one = byAddress.get(address);
        if (one) boxes.push(box(one, "dark"), box(one, "changed"));
      }
    }
    for (const address of taken) {
      const one = byAddress.get(address);
      if (one) boxes.push(box(one, "under"), box(one, "taken"));
    }
    const here = at === null ? undefined : byAddress.get(at);
    if (here) boxes.push(box(here, "here"));
    drawn.replaceChildren(...boxes);
    for (const option of host.current?.querySelectorAll('[aria-selected="true"]') ?? []) option.setAttribute("aria-selected", "false");
    for (const address of taken) document.getElementById(`${ID}-${address}`)?.setAttribute("aria-selected", "true");
  }, [plan, taken, changed, showing, at]);

  const take = (address: string, more: boolean) => {
    const now = new Set(more ? store.state.taken : []);
    if (store.state.taken.has(address) && (more || store.state.taken.size === 1)) now.delete(address);
    else now.add(address);
    store.set({ taken: now });
    setAt(address);
  };

  useEffect(() => {
    const element = frame.current;
    if (!element) return undefined;
    return sight.takes(element, {
      tap: (address, more) => take(address, more),
      over: (addresses) => {
        store.set({ taken: new Set([...store.state.taken, ...addresses]) });
      },
      begin: (more) => {
        if (!more) store.set({ taken: new Set() });
      },
    });
  }, []);

  const walk = (event: KeyboardEvent) => {
    const way = WAYS[event.key];
    const here = at === null ? all[0] : (byAddress.get(at) ?? all[0]);
    if (way && here) {
      const next = at === null ? here : (beside(all, here, way) ?? here);
      setAt(next.unit.address);
      if (event.shiftKey) store.set({ taken: new Set([...store.state.taken, next.unit.address]) });
      event.preventDefault();
    } else if ((event.key === " " || event.key === "Enter") && here) {
      take(here.unit.address, true);
      event.preventDefault();
    } else if (event.key === "+" || event.key === "=") {
      sight.zoom(1.25);
    } else if (event.key === "-") {
      sight.zoom(0.8);
    } else if (event.key === "0") {
      sight.whole();
    }
  };

  const label = words.scene.label(doc.shown?.size[0] ?? "", doc.shown?.size[1] ?? "");
  const classes = ["scene", ...[...showing].map((one) => `shows-${one}`)].join(" ");
  return (
    <div class={classes} ref={frame} data-testid="scene" style={{ "--aspect": String(width / height) }}>
      <div
        class="sheet"
        ref={host}
        role="listbox"
        aria-multiselectable="true"
        aria-label={label}
        tabIndex={0}
        aria-activedescendant={at === null ? undefined : `${ID}-${at}`}
        onKeyDown={walk}
        onFocus={() => at === null && all[0] && setAt(all[0].unit.address)}
      />
      {showing.has("before") && before && <Curtain of={() => small(before.answer.plan)} key={`before ${store.state.done}`} label={words.scene.beforeHow} />}
      {showing.has("photo") && <Curtain of={() => pixels(plan)} key={`photo ${store.state.done}`} label={words.scene.photoHow} />}
      <div class="sight">
        <button type="button" class="text looks" aria-expanded={looks} aria-controls="shows" onClick={() => store.set({ looks: !looks, taken: new Set() })}>
          {words.scene.show}
        </button>
        <button type="button" onClick={() => sight.zoom(1.4)} aria-label={words.scene.nearer}>+</button>
        <button type="button" onClick={() => sight.zoom(0.7)} aria-label={words.scene.farther}>−</button>
        <button type="button" class="text" onClick={() => sight.whole()}>{words.scene.whole}</button>
      </div>
    </div>
  );
}

/** A running stitch round what is kept; a whole line round what is sewn. */
function stitch({ x, y, width, height, unit }: Placed): SVGElement {
  const inset = 0.3;
  return element("rect", {
    x: x + inset,
    y: y + inset,
    width: Math.max(0.1, width - 2 * inset),
    height: Math.max(0.1, height - 2 * inset),
    class: unit.state,
  });
}

/** Something else over the scene, uncovered from the left. */
function Curtain({ of, label }: { of: () => Element; label: string }) {
  const host = useRef<HTMLDivElement>(null);
  const [share, setShare] = useState(50);
  useLayoutEffect(() => host.current?.replaceChildren(of()), []);
  return (
    <div class="before">
      <div class="old" ref={host} style={{ clipPath: `inset(0 ${100 - share}% 0 0)` }} />
      <div class="line" style={{ left: `${share}%` }} />
      <input
        type="range"
        min={0}
        max={100}
        value={share}
        aria-label={label}
        onInput={(event) => setShare(Number(event.currentTarget.value))}
      />
    </div>
  );
}

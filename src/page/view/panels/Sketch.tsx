/** A pad of few dots: empty, or the picture brought down to it. */

import { useEffect, useRef, useState } from "preact/hooks";

import { OneOf, Switch } from "../parts/controls";
import { drawn, png } from "../picture/adjust";
import { loadBytes } from "../picture/load";
import { paint } from "../scene/draw";
import { planOf } from "../state/doc";
import { download } from "../state/files";
import { takePicture } from "../state/open";
import type { Store } from "../state/store";
import { useStore } from "../state/use";
import { words } from "../words";
import { Pad } from "./pad";

/** Dots of the longer side. */
const DOTS = 60;
/** Colours to draw with where there are no fabrics yet: land, sea and sky. */
const COLOURS = ["#f3e9d2", "#f0c27b", "#d9784a", "#a33f2d", "#6d8f5b", "#38583f", "#8fb6c9", "#3f6f94", "#24364f", "#7d6a58", "#2b2521", "#ffffff"];

type Tool = "pencil" | "line" | "fill" | "pick";

export function Sketch({ store }: { store: Store }) {
  const { doc } = useStore(store);
  const plan = planOf(doc);
  const fabrics = plan?.fabrics.filter(({ letter }) => !doc.without.includes(letter)) ?? [];
  const colours = fabrics.length > 0 ? fabrics.map(({ colour, name, letter }) => ({ colour: paint(colour), name: `${letter} ${name}` })) : COLOURS.map((colour) => ({ colour, name: colour }));
  const [pad, setPad] = useState(() => Pad.empty(DOTS, Math.round(DOTS * 0.75), colours[0]?.colour ?? "#ffffff"));
  const [tool, setTool] = useState<Tool>("pencil");
  const [mirror, setMirror] = useState(false);
  const [colour, setColour] = useState(colours[1]?.colour ?? "#000000");
  const [past, setPast] = useState<Pad[]>([]);
  const [at, setAt] = useState<[number, number]>([0, 0]);
  const canvas = useRef<HTMLCanvasElement>(null);
  const from = useRef<{ start: [number, number]; pad: Pad } | null>(null);
  useEffect(() => pad.show(canvas.current), [pad]);
  const { sketch: said } = words;

  const commit = (made: Pad) => {
    setPast([...past, pad]);
    setPad(made);
  };
  const place = (event: PointerEvent): [number, number] => {
    const box = canvas.current?.getBoundingClientRect();
    if (!box) return [0, 0];
    const x = Math.floor(((event.clientX - box.x) / box.width) * pad.width);
    const y = Math.floor(((event.clientY - box.y) / box.height) * pad.height);
    return [Math.min(pad.width - 1, Math.max(0, x)), Math.min(pad.height - 1, Math.max(0, y))];
  };
  const down = (event: PointerEvent) => {
    const dot = place(event);
    if (tool === "pick") {
      setColour(pad.at(...dot));
      setTool("pencil");
    } else if (tool === "fill") {
      commit(pad.fill(dot, colour, mirror));
    } else {
      from.current = { start: dot, pad };
      (event.currentTarget as Element).setPointerCapture(event.pointerId);
      setPad(pad.line(dot, dot, colour, mirror));
    }
    event.preventDefault();
  };
  const move = (event: PointerEvent) => {
    const { current } = from;
    if (!current) return;
    const dot = place(event);
    if (tool === "line") {
      setPad(current.pad.line(current.start, dot, colour, mirror));
    } else {
      setPad((pad) => pad.line(current.start, dot, colour, mirror));
      current.start = dot;
    }
  };
  const up = () => {
    if (from.current) setPast([...past, from.current.pad]);
    from.current = null;
  };
  const keys = (event: KeyboardEvent) => {
    const ways: Record<string, [number, number]> = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
    const way = ways[event.key];
    if (way) {
      setAt([Math.min(pad.width - 1, Math.max(0, at[0] + way[0])), Math.min(pad.height - 1, Math.max(0, at[1] + way[1]))]);
    } else if (event.key === " ") {
      commit(tool === "fill" ? pad.fill(at, colour, mirror) : pad.line(at, at, colour, mirror));
    } else return;
    event.preventDefault();
  };
  const fromPicture = async () => {
    if (!doc.picture) return;
    const made = await drawn(doc.picture, doc.look, 600);
    commit(Pad.of(made, DOTS, colours.map(({ colour }) => colour)));
  };
  const use = async () => {
    const bytes = await png(pad.canvas(10));
    store.set({ screen: "page" });
    await takePicture(store, await loadBytes(bytes, "sketch.png"), words.steps.sketch);
  };
  const left = `${((at[0] + 0.5) / pad.width) * 100}%`;
  const top = `${((at[1] + 0.5) / pad.height) * 100}%`;
  return (
    <main class="sketch" data-testid="sketch">
      <div class="row bar">
        <button type="button" onClick={() => store.set({ screen: "page" })}>← {said.close}</button>
        <button type="button" class="main" onClick={() => void use()}>{said.use}</button>
        <button type="button" onClick={() => void png(pad.canvas(10)).then((bytes) => download("sketch.png", bytes))}>{said.save}</button>
      </div>
      <p class="help">{said.help}</p>
      <div class="pad" style={{ "--aspect": String(pad.width / pad.height) }}>
        <canvas
          ref={canvas}
          tabIndex={0}
          role="application"
          aria-label={said.pad(pad.width, pad.height)}
          onPointerDown={down}
          onPointerMove={move}
          onPointerUp={up}
          onPointerCancel={up}
          onKeyDown={keys}
        />
        <i class="cursor" style={{ left, top }} />
      </div>
      <div class="tools">
        <OneOf label={said.tools} options={[["pencil", said.pencil], ["line", said.line], ["fill", said.fill], ["pick", said.pick]]} value={tool} onChange={setTool} />
        <div class="row">
          <Switch label={said.mirror} value={mirror} onChange={setMirror} />
          <button
            type="button"
            disabled={past.length === 0}
            onClick={() => {
              const last = past.at(-1);
              if (last) setPad(last);
              setPast(past.slice(0, -1));
            }}
          >
            {said.undo}
          </button>
          <button type="button" onClick={() => commit(Pad.empty(pad.width, pad.height, colour))}>{said.clear}</button>
          {doc.picture && <button type="button" onClick={() => void fromPicture()}>{said.fromPicture}</button>}
        </div>
        <fieldset class="colours">
          <legend class="spoken">{said.colours}</legend>
          {colours.map((one) => (
            <label key={one.colour} class="dab" style={{ background: one.colour }} title={one.name}>
              <input type="radio" name="colour" aria-label={one.name} checked={one.colour === colour} onChange={() => setColour(one.colour)} />
            </label>
          ))}
        </fieldset>
      </div>
    </main>
  );
}

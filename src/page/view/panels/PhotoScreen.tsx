/** Her fabrics, laid on a table and photographed: what is taken of them, and how much there is of each. */

import type { Point, Swatch as Taken } from "built/rowscape";
import { useEffect, useRef, useState } from "preact/hooks";

import { Choose, Field, OneOf, sentence, useAddress } from "../parts/controls";
import { add, box, mark, remove, say, set, take, unmark, use } from "../state/photos";
import { joined, middle, within } from "../state/table";
import type { Kind, Photo, Print } from "../state/table";
import type { Store } from "../state/store";
import { useStore } from "../state/use";
import { words } from "../words";
import { Said } from "./Said";

const said = words.photos;

type Tool = "look" | "add" | "box" | "drop" | "join" | "paper" | "card";
const TOOLS: readonly (readonly [Tool, string])[] = [
  ["look", said.look],
  ["add", said.add],
  ["box", said.box],
  ["drop", said.drop],
  ["join", said.join],
  ["paper", said.paper],
  ["card", said.card],
];

/** How far the arrow keys move the cross, as a part of the photograph. */
const STEP = 0.02;
const part = (value: number) => Math.min(1, Math.max(0, value));

/** A box smaller than this, as a part of the photograph, is a slip of the finger. */
const LEAST = 0.01;

export function PhotoScreen({ store }: { store: Store }) {
  const { table, doc } = useStore(store);
  const photo = table.photos[table.at];
  const metric = doc.asked.ruler === "metric";
  const count = joined(table).length;
  const kinds: [Kind, string][] = [
    ["none", said.kinds.none],
    ["large", metric ? said.kinds.largeM : said.kinds.large],
    ["small", metric ? said.kinds.smallM : said.kinds.small],
    ["pack", metric ? said.kinds.packM : said.kinds.pack],
    ["quarters", said.kinds.quarters],
    ["length", metric ? said.kinds.lengthM : said.kinds.length],
  ];
  return (
    <main class="photos" data-testid="photos">
      <div class="row bar">
        <button type="button" onClick={() => store.set({ screen: "page" })}>← {said.close}</button>
        <button type="button" class="main" disabled={count < 2} onClick={() => void use(store)}>{said.use(count)}</button>
      </div>
      <h2>{said.title}</h2>
      <p class="help">{said.help}</p>
      <Said store={store} where="fabrics" />
      <div class="row">
        <Choose label={table.photos.length > 0 ? said.another : said.choose} accept="image/*,.heic,.heif" multiple main={table.photos.length === 0} id="choose-photos" onFiles={(files) => void take(store, files)} />
        <span class="by-camera">
          <Choose label={said.photograph} accept="image/*" capture onFiles={(files) => void take(store, files)} />
        </span>
      </div>
      {table.photos.length > 1 && (
        <OneOf label={said.which} options={table.photos.map(({ picture }, at) => [String(at), `${at + 1} ${picture.name}`] as const)} value={String(table.at)} onChange={(at) => set(store, { at: Number(at) })} />
      )}
      {photo && <Look key={photo.picture.id} store={store} photo={photo} />}
      {table.twins.length > 0 && <Twins store={store} />}
      {count > 0 && (
        <section class="part">
          <h3>{said.amount}</h3>
          <p class="help">{said.amountHelp}</p>
          <OneOf label={said.each} options={kinds} value={table.kind} onChange={(kind) => set(store, { kind, each: kind === "length" ? 2 : kind === "pack" ? count : 1 })} />
          {table.kind === "pack" && <Field number label={said.inAll} value={String(table.each)} onChange={(text) => set(store, { each: Math.min(9999, Math.max(1, Math.round(Number(text)) || 1)) })} />}
          {counts(table.kind) && <Count label={said.ofEach} kind={table.kind} metric={metric} value={table.each} onChange={(each) => set(store, { each })} />}
          <Field label={said.width} value={table.wide} hint={metric ? said.widthHint.metric : said.widthHint.inch} onChange={(wide) => set(store, { wide: wide.trim() })} />
        </section>
      )}
      {photo && <Prints store={store} photo={photo} metric={metric} />}
    </main>
  );
}

/** The photograph with what is taken of it. */
function Look({ store, photo }: { store: Store; photo: Photo }) {
  const [tool, setTool] = useState<Tool>("look");
  const [first, setFirst] = useState<Point | null>(null);
  const [drawn, setDrawn] = useState<Point | null>(null);
  const [cross, setCross] = useState<Point>({ x: 0.5, y: 0.5 });
  const pad = useRef<HTMLDivElement>(null);
  const down = useRef<Point | null>(null);
  const address = useAddress(photo.picture.bytes);
  useEffect(() => {
    setFirst(null);
    setDrawn(null);
  }, [tool, photo.asked]);

  const place = (event: PointerEvent): Point => {
    const seen = pad.current?.getBoundingClientRect();
    return seen ? { x: part((event.clientX - seen.x) / seen.width), y: part((event.clientY - seen.y) / seen.height) } : { x: 0, y: 0 };
  };
  const boxed = (one: Point, other: Point) => {
    const from = { x: Math.min(one.x, other.x), y: Math.min(one.y, other.y) };
    const to = { x: Math.max(one.x, other.x), y: Math.max(one.y, other.y) };
    if (to.x - from.x < LEAST || to.y - from.y < LEAST) return;
    void box(store, photo, { from, to });
  };
  const act = (at: Point) => {
    const { asked } = photo;
    const print = within(photo, at);
    if (tool === "look" && print !== null) document.getElementById(`print-${print}`)?.scrollIntoView({ block: "center" });
    else if (tool === "add") void add(store, photo, at);
    else if (tool === "drop" && print !== null) void mark(store, photo, { without: [...asked.without, at] });
    else if (tool === "paper") void mark(store, photo, { neutral: [...asked.neutral, { paper: at }] });
    else if (tool === "card") void mark(store, photo, { neutral: [...asked.neutral, { card: at }] });
    else if (tool === "join" && print !== null) {
      if (first) void mark(store, photo, { merges: [...asked.merges, [first, at]] });
      else setFirst(at);
    } else if (tool === "box") {
      if (first) boxed(first, at);
      else setFirst(at);
    }
  };
  const begin = (event: PointerEvent) => {
    down.current = place(event);
    if (tool === "box") (event.currentTarget as Element).setPointerCapture(event.pointerId);
  };
  const move = (event: PointerEvent) => {
    if (tool === "box" && down.current) setDrawn(place(event));
  };
  const end = (event: PointerEvent) => {
    const [from, to] = [down.current, place(event)];
    down.current = null;
    if (!from) return;
    const isTap = Math.abs(from.x - to.x) < LEAST && Math.abs(from.y - to.y) < LEAST;
    if (tool === "box" && !isTap) boxed(from, to);
    else if (isTap) act(to);
    setDrawn(null);
  };
  const keys = (event: KeyboardEvent) => {
    const ways: Record<string, [number, number]> = { ArrowLeft: [-STEP, 0], ArrowRight: [STEP, 0], ArrowUp: [0, -STEP], ArrowDown: [0, STEP] };
    const way = ways[event.key];
    if (way) setCross({ x: part(cross.x + way[0]), y: part(cross.y + way[1]) });
    else if (event.key === "Enter" || event.key === " ") act(cross);
    else return;
    event.preventDefault();
    event.stopPropagation();
  };
  const { prints, found, asked } = photo;
  const start = down.current ?? first;
  return (
    <section class="part" data-testid="photo">
      <OneOf label={said.tools} options={TOOLS} value={tool} onChange={setTool} />
      <p class="help" role="status">{first && (tool === "join" || tool === "box") ? said.second[tool] : said.how[tool]}</p>
      <div
        ref={pad}
        class={`snap ${tool}`}
        style={{ "--aspect": found ? found.size[0] / found.size[1] : photo.picture.width / photo.picture.height }}
        tabIndex={0}
        role="application"
        aria-label={said.photo(photo.picture.name, prints.length)}
        onPointerDown={begin}
        onPointerMove={move}
        onPointerUp={end}
        onPointerCancel={() => (down.current = null)}
        onKeyDown={keys}
      >
        <img src={address} alt="" draggable={false} />
        <svg viewBox="0 0 1 1" preserveAspectRatio="none" aria-hidden="true">
          {prints.map(({ swatch }, at) => {
            const points = swatch.outline.map(({ x, y }) => `${x},${y}`).join(" ");
            return (
              <g key={at}>
                <polygon class="under" points={points} />
                <polygon class={sureness(swatch)} points={points} />
              </g>
            );
          })}
          {start && drawn && <rect x={Math.min(start.x, drawn.x)} y={Math.min(start.y, drawn.y)} width={Math.abs(drawn.x - start.x)} height={Math.abs(drawn.y - start.y)} />}
        </svg>
        {prints.map(({ swatch }, at) => {
          const { x, y } = middle(swatch);
          return <b key={at} aria-hidden="true" style={{ left: `${x * 100}%`, top: `${y * 100}%` }}>{at + 1}</b>;
        })}
        {asked.neutral.map((neutral, at) => {
          const point = "paper" in neutral ? neutral.paper : "card" in neutral ? neutral.card : null;
          return point && <i key={at} class="white" aria-hidden="true" style={{ left: `${point.x * 100}%`, top: `${point.y * 100}%` }} />;
        })}
        {first && <i class="first" aria-hidden="true" style={{ left: `${first.x * 100}%`, top: `${first.y * 100}%` }} />}
        <i class="cursor" aria-hidden="true" style={{ left: `${cross.x * 100}%`, top: `${cross.y * 100}%` }} />
      </div>
      <div class="row">
        <button type="button" disabled={photo.past.length === 0} onClick={() => void unmark(store, photo)}>{said.undo}</button>
        <button type="button" onClick={() => remove(store, photo.picture.id)}>{said.without}</button>
      </div>
      {found?.notes.map((note) => <p key={note} class="help">{sentence(note)}</p>)}
    </section>
  );
}

/** Whether there is a number of it for each print. */
const counts = (kind: Kind): boolean => kind !== "none" && kind !== "pack";

/** Surely, fairly or hardly read. */
const sureness = ({ certainty }: Taken): "sure" | "fair" | "unsure" => (certainty >= 0.75 ? "sure" : certainty >= 0.5 ? "fair" : "unsure");

function Prints({ store, photo, metric }: { store: Store; photo: Photo; metric: boolean }) {
  const { table } = useStore(store);
  // What is doubtful of all of them is said once.
  const all = (photo.prints[0]?.doubts ?? []).filter((doubt) => photo.prints.every(({ doubts }) => doubts.includes(doubt)));
  return (
    <section class="part">
      <h3>{said.prints(photo.prints.length)}</h3>
      {all.map((doubt) => (
        <p key={doubt} class="help">{said.ofAll(sentence(doubt))}</p>
      ))}
      <ul class="prints">
        {photo.prints.map((print, at) => (
          <li key={at} id={`print-${at}`}>
            <One store={store} photo={photo} print={print} at={at} doubts={print.doubts.filter((doubt) => !all.includes(doubt))} metric={metric} kind={table.kind} each={table.each} />
          </li>
        ))}
      </ul>
    </section>
  );
}

function One({ store, photo, print, at, doubts, metric, kind, each }: { store: Store; photo: Photo; print: Print; at: number; doubts: string[]; metric: boolean; kind: Kind; each: number }) {
  const { swatch } = print;
  const { x, y } = middle(swatch);
  const name = print.name || swatch.name;
  const change = (patch: Partial<Print>) => say(store, photo.picture.id, at, patch);
  return (
    <>
      <span class="pair">
        <img src={swatch.thumbnail} alt="" />
        <i class="reads" style={{ background: swatch.colour }} />
      </span>
      <div class="told">
        <Field label={said.name(at + 1)} value={name} onChange={(name) => change({ name: name.trim() })} />
        <p class={`help ${sureness(swatch)}`}>
          {said.sure[sureness(swatch)]}, {said.value(swatch.value)}, {swatch.one_colour ? said.plain(swatch.spread) : said.many}
        </p>
        {doubts.slice(0, 2).map((doubt) => (
          <p key={doubt} class="help">{sentence(doubt)}</p>
        ))}
        {counts(kind) && <Count label={said.countOf(name)} kind={kind} metric={metric} value={print.count ?? each} onChange={(count) => change({ count })} />}
      </div>
      <button type="button" class="quiet" aria-label={said.dropWhich(name)} onClick={() => void mark(store, photo, { without: [...photo.asked.without, { x, y }] })}>
        {said.dropOne}
      </button>
    </>
  );
}

/** A number by taps. */
function Count(props: { label: string; kind: Kind; metric: boolean; value: number; onChange: (value: number) => void }) {
  const { value, onChange } = props;
  const shown = props.kind === "length" ? said.long(value, props.metric) : String(value);
  return (
    <div class="count" role="group" aria-label={props.label}>
      <span aria-hidden="true">{props.label}</span>
      <button type="button" aria-label={said.fewer(props.label)} disabled={value <= 0} onClick={() => onChange(value - 1)}>−</button>
      <output>{shown}</output>
      <button type="button" aria-label={said.more(props.label)} disabled={value >= 999} onClick={() => onChange(value + 1)}>+</button>
    </div>
  );
}

/** What looks like one fabric. */
function Twins({ store }: { store: Store }) {
  const { table } = useStore(store);
  const { photos, twins, two } = table;
  const print = ([photo, at]: readonly number[]) => photos[photo ?? 0]?.prints[at ?? 0];
  const name = (at: readonly number[]) => said.which2((at[0] ?? 0) + 1, (at[1] ?? 0) + 1);
  return (
    <section class="part" data-testid="twins">
      <h3>{said.twins(twins.length)}</h3>
      <p class="help">{said.twinsHelp}</p>
      <ul class="plain">
        {twins.map((twin) => {
          const key = [...twin.one, ...twin.other].join("-");
          const [one, other] = [print(twin.one), print(twin.other)];
          if (!one || !other) return null;
          const isTwo = two.includes(key);
          return (
            <li key={key} class="twin">
              <img src={one.swatch.thumbnail} alt="" />
              <img src={other.swatch.thumbnail} alt="" />
              <OneOf
                label={said.pair(name(twin.one), name(twin.other))}
                options={[["one", said.oneFabric], ["two", said.twoFabrics]]}
                value={isTwo ? "two" : "one"}
                onChange={(as) => set(store, { two: as === "two" ? [...two, key] : two.filter((other) => other !== key) })}
              />
            </li>
          );
        })}
      </ul>
    </section>
  );
}

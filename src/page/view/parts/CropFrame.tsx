/** A frame over a picture with a handle at each corner, by hand and by keys. */

import { useEffect, useRef, useState } from "preact/hooks";

import type { Crop } from "../state/doc";
import { words } from "../words";

const WHOLE: Crop = { left: 0, top: 0, width: 10000, height: 10000 };
/** The least side of a crop. */
const LEAST = 500;
const STEP = 100;

type Handle = "nw" | "ne" | "sw" | "se" | "move";

export function CropFrame(props: { crop: Crop | null; onChange: (crop: Crop | null) => void }) {
  const [crop, setCrop] = useState(props.crop ?? WHOLE);
  const frame = useRef<HTMLDivElement>(null);
  const drag = useRef<{ handle: Handle; x: number; y: number; from: Crop } | null>(null);
  useEffect(() => setCrop(props.crop ?? WHOLE), [props.crop]);
  const done = (made: Crop) => props.onChange(made.width >= 9990 && made.height >= 9990 ? null : made);
  const begin = (handle: Handle) => (event: PointerEvent) => {
    drag.current = { handle, x: event.clientX, y: event.clientY, from: crop };
    (event.currentTarget as Element).setPointerCapture(event.pointerId);
    event.preventDefault();
  };
  const move = (event: PointerEvent) => {
    const box = frame.current?.getBoundingClientRect();
    const { current } = drag;
    if (!box || !current) return;
    const across = ((event.clientX - current.x) / box.width) * 10000;
    const down = ((event.clientY - current.y) / box.height) * 10000;
    setCrop(moved(current.from, current.handle, across, down));
  };
  const end = () => {
    if (drag.current) done(crop);
    drag.current = null;
  };
  const keys = (handle: Handle) => (event: KeyboardEvent) => {
    const ways: Record<string, [number, number]> = { ArrowLeft: [-STEP, 0], ArrowRight: [STEP, 0], ArrowUp: [0, -STEP], ArrowDown: [0, STEP] };
    const way = ways[event.key];
    if (!way) return;
    event.preventDefault();
    const made = moved(crop, handle, ...way);
    setCrop(made);
    done(made);
  };
  const place = {
    left: `${crop.left / 100}%`,
    top: `${crop.top / 100}%`,
    width: `${crop.width / 100}%`,
    height: `${crop.height / 100}%`,
  };
  const corners = ["nw", "ne", "sw", "se"] as const;
  return (
    <div class="crop" ref={frame} onPointerMove={move} onPointerUp={end} onPointerCancel={end}>
      <div class="kept-part" style={place}>
        <button type="button" class="middle" aria-label={words.picture.move} onPointerDown={begin("move")} onKeyDown={keys("move")} />
        {corners.map((corner) => (
          <button
            key={corner}
            type="button"
            class={`corner ${corner}`}
            aria-label={words.picture.corner[corner]}
            onPointerDown={begin(corner)}
            onKeyDown={keys(corner)}
          />
        ))}
      </div>
    </div>
  );
}

function moved(from: Crop, handle: Handle, across: number, down: number): Crop {
  const held = (value: number, least: number, most: number) => Math.round(Math.min(most, Math.max(least, value)));
  let { left, top } = from;
  let [right, bottom] = [left + from.width, top + from.height];
  if (handle === "move") {
    left = held(left + across, 0, 10000 - from.width);
    top = held(top + down, 0, 10000 - from.height);
    return { ...from, left, top };
  }
  if (handle.endsWith("w")) left = held(left + across, 0, right - LEAST);
  else right = held(right + across, left + LEAST, 10000);
  if (handle.startsWith("n")) top = held(top + down, 0, bottom - LEAST);
  else bottom = held(bottom + down, top + LEAST, 10000);
  return { left, top, width: right - left, height: bottom - top };
}

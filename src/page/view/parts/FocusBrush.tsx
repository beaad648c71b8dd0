/** A soft brush over the picture: what is painted matters more. */

import { useEffect, useRef } from "preact/hooks";

import type { Mask } from "../state/doc";
import type { Store } from "../state/store";
import { tell } from "../picture/load";
import { words } from "../words";

/** Dots of the layer's longer side. */
const DOTS = 200;
/** How far the brush reaches, of the longer side. */
const REACH = 0.09;

export function FocusBrush({ store, mask }: { store: Store; mask: Mask | null }) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const painting = useRef(false);
  const levels = useRef<{ width: number; height: number; levels: Uint8Array<ArrayBuffer> } | null>(null);
  useEffect(() => {
    const to = canvas.current;
    if (!to) return;
    const { width, height } = to.getBoundingClientRect();
    const shrink = DOTS / Math.max(width, height, 1);
    const [across, down] = [Math.max(1, Math.round(width * shrink)), Math.max(1, Math.round(height * shrink))];
    [to.width, to.height] = [across, down];
    const same = mask && mask.width === across && mask.height === down;
    levels.current = { width: across, height: down, levels: same ? mask.levels.slice() : new Uint8Array(across * down) };
    show();
  }, [mask]);
  const show = () => {
    const { current } = levels;
    const context = canvas.current?.getContext("2d");
    if (!current || !context) return;
    const data = new ImageData(current.width, current.height);
    current.levels.forEach((level, at) => data.data.set([200, 60, 60, level * 0.6], at * 4));
    context.putImageData(data, 0, 0);
  };
  const paint = (event: PointerEvent) => {
    const { current } = levels;
    const box = canvas.current?.getBoundingClientRect();
    if (!painting.current || !current || !box) return;
    const [x, y] = [((event.clientX - box.x) / box.width) * current.width, ((event.clientY - box.y) / box.height) * current.height];
    const reach = DOTS * REACH;
    for (let row = Math.max(0, Math.floor(y - reach)); row < Math.min(current.height, y + reach); row++) {
      for (let column = Math.max(0, Math.floor(x - reach)); column < Math.min(current.width, x + reach); column++) {
        const near = 1 - Math.hypot(column - x, row - y) / reach;
        const at = row * current.width + column;
        if (near > 0) current.levels[at] = Math.min(255, Math.max(current.levels[at] ?? 0, 255 * near * 1.4));
      }
    }
    show();
  };
  const end = () => {
    const { current } = levels;
    if (!painting.current || !current) return;
    painting.current = false;
    const made = { ...current, levels: current.levels.slice() };
    void store.change({
      name: words.steps.matters,
      topic: "compose",
      where: "picture",
      next: (doc) => ({ ...doc, mask: { id: tell(made.levels), ...made } }),
    });
  };
  return (
    <canvas
      ref={canvas}
      class="brush"
      role="img"
      aria-label={words.picture.brush}
      onPointerDown={(event) => {
        painting.current = true;
        event.currentTarget.setPointerCapture(event.pointerId);
        paint(event);
      }}
      onPointerMove={paint}
      onPointerUp={end}
      onPointerCancel={end}
    />
  );
}

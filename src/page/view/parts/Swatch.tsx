/** A fabric as a swatch: its letter on its colour, its name beside. */

import type { Fabric } from "built/rowscape";

import { ink, paint } from "../scene/draw";

export function Cloth({ fabric }: { fabric: Fabric | undefined }) {
  if (!fabric) return null;
  return (
    <span class="cloth" style={{ background: paint(fabric.colour), color: ink(fabric.colour) }}>
      {fabric.letter}
    </span>
  );
}

export function Swatch(props: { fabric: Fabric; said: string; pressed: boolean; onPress: () => void }) {
  const { fabric } = props;
  return (
    <button
      type="button"
      class="swatch"
      aria-pressed={props.pressed}
      onClick={props.onPress}
    >
      <Cloth fabric={fabric} />
      <span class="name">
        {fabric.name}
        {props.said && <small> {props.said}</small>}
      </span>
    </button>
  );
}

/** Fabrics as swatches; the one that is tapped opens below them. */

import type { Fabric } from "built/rowscape";
import type { ComponentChildren } from "preact";

import { words } from "../words";
import { Swatch } from "./Swatch";

export function Swatches(props: {
  fabrics: readonly Fabric[];
  /** The letter of the open one. */
  at: string | null;
  onAt: (letter: string | null) => void;
  /** What is said beside a name. */
  said?: (fabric: Fabric) => string;
  /** Letters of the pinned ones, where there are pins. */
  pinned?: readonly string[];
  onPin?: (letter: string) => void;
  sheet: (fabric: Fabric) => ComponentChildren;
}) {
  const { fabrics, at, onAt, onPin } = props;
  const open = fabrics.find(({ letter }) => letter === at);
  return (
    <>
      <ul class="swatches">
        {fabrics.map((fabric) => {
          const { letter, name } = fabric;
          const isPinned = props.pinned?.includes(letter) ?? false;
          return (
            <li key={letter} class={isPinned ? "pinned" : ""}>
              <Swatch fabric={fabric} said={props.said?.(fabric) ?? ""} pressed={letter === at} onPress={() => onAt(letter === at ? null : letter)} />
              {onPin && (
                <button type="button" class="pin quiet" aria-pressed={isPinned} aria-label={words.fabrics.pin(`${letter} ${name}`)} title={words.fabrics.pin(name)} onClick={() => onPin(letter)}>
                  <Pin />
                </button>
              )}
            </li>
          );
        })}
      </ul>
      {open && props.sheet(open)}
    </>
  );
}

/** A glass-headed pin. */
const Pin = () => (
  <svg viewBox="0 0 24 24" width="22" height="22" aria-hidden="true">
    <line x1="14.5" y1="9.5" x2="3" y2="21" />
    <circle cx="17" cy="7" r="3.4" />
  </svg>
);

/** What went wrong here; the part of the page that it is in opens for it. */

import { useEffect, useRef } from "preact/hooks";

import { Wrong } from "../parts/controls";
import type { Store, Trouble } from "../state/store";
import { useStore } from "../state/use";
import { words } from "../words";

export function Said({ store, where }: { store: Store; where: Trouble["where"] }) {
  const { trouble } = useStore(store);
  const place = useRef<HTMLDivElement>(null);
  const here = trouble?.where === where ? trouble : null;
  useEffect(() => {
    if (!here) return;
    place.current?.closest("details")?.setAttribute("open", "");
    place.current?.scrollIntoView({ block: "nearest" });
  }, [here]);
  return (
    <div ref={place}>
      {here && (
        <Wrong words={here.words} hint={here.hint} dismiss={words.trouble.dismiss} onDismiss={() => store.set({ trouble: null })} />
      )}
    </div>
  );
}

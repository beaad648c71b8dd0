/** How the scene is shown. */

import { Switch } from "../parts/controls";
import type { Showing, Store } from "../state/store";
import { useStore } from "../state/use";
import { words } from "../words";

const WAYS: Showing[] = ["seams", "letters", "hatching", "addresses", "greys", "squint", "photo", "changed", "before"];

export function Shows({ store }: { store: Store }) {
  const { showing, changed, before, looks } = useStore(store);
  const allowed = WAYS.filter((way) => (way !== "before" || before) && (way !== "changed" || changed.length > 0));
  return (
    <fieldset class={`shows ${looks ? "open" : ""}`} id="shows">
      <legend class="spoken">{words.scene.looks}</legend>
      {allowed.map((way) => (
        <Switch
          key={way}
          label={words.scene[way]}
          value={showing.has(way)}
          onChange={(on) => {
            const now = new Set(showing);
            if (on) now.add(way);
            else now.delete(way);
            // One curtain at a time.
            if (on && way === "photo") now.delete("before");
            if (on && way === "before") now.delete("photo");
            store.set({ showing: now });
          }}
        />
      ))}
    </fieldset>
  );
}

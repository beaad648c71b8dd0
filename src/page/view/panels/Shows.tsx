/** How the scene is shown. */

import { Switch } from "../parts/controls";
import { planOf } from "../state/doc";
import type { Showing, Store } from "../state/store";
import { useStore } from "../state/use";
import { words } from "../words";

const WAYS: Showing[] = ["prints", "seams", "letters", "hatching", "addresses", "greys", "squint", "photo", "changed", "before"];

export function Shows({ store }: { store: Store }) {
  const { showing, changed, before, looks, doc } = useStore(store);
  const pictured = planOf(doc)?.fabrics.some((fabric) => fabric.thumbnail) ?? false;
  const without: Partial<Record<Showing, boolean>> = { before: !before, changed: changed.length === 0, prints: !pictured };
  const allowed = WAYS.filter((way) => !without[way]);
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

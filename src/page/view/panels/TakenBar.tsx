/** What is taken, under the scene: what it is, and what may be done with it. */

import { action } from "../state/actions";
import type { Store } from "../state/store";
import { useStore } from "../state/use";
import { words } from "../words";
import { Steps } from "./Steps";

const MARKS = ["keep", "free", "turn", "filler", "whole", "cut", "sewn", "spoilt"] as const;

export function TakenBar({ store }: { store: Store }) {
  const { taken, takes } = useStore(store);
  const [first] = taken;
  // Its room stays where there is enough, so that the scene does not jump as the first unit is tapped.
  if (first === undefined) {
    return (
      <div class="taken-bar idle">
        {words.pieces.help}
        <Steps store={store} />
      </div>
    );
  }
  const nothing = action("nothing");
  const [what, ...more] = (taken.size === 1 ? takes?.units.find(([at]) => at === first)?.[1] : undefined)?.split("; ") ?? [];
  return (
    <div class="taken-bar">
      <div class="what">
        <p role="status" data-testid="taken">
          <b>{taken.size === 1 ? first : words.pieces.taken(taken.size)}</b> {what}
          {more.length > 0 && <span class="wide">; {more.join("; ")}</span>}
        </p>
        <button type="button" class="quiet" aria-label={nothing.words(store)} title={nothing.words(store)} onClick={() => nothing.run(store)}>
          ✕
        </button>
      </div>
      <div class="marks">
        {MARKS.map(action)
          .filter((one) => one.allowed(store))
          .map((one) => (
            <button key={one.id} type="button" onClick={() => one.run(store)}>
              {one.words(store)}
            </button>
          ))}
      </div>
    </div>
  );
}

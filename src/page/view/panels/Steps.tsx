/** The steps so far, as small pictures: tap one to go back to it. */

import { Small } from "../parts/Small";
import { planOf } from "../state/doc";
import type { Store } from "../state/store";
import { useStore } from "../state/use";
import { words } from "../words";

/** Pictures in the strip. */
const SHOWN = 8;

export function Steps({ store }: { store: Store }) {
  const { history } = useStore(store);
  const past = history.past.map((entry, at) => ({ ...entry, steps: history.past.length - at }));
  const shown = past.slice(-SHOWN).filter(({ doc }) => planOf(doc));
  if (shown.length === 0) return null;
  return (
    <ol class="steps">
      {shown.map(({ doc, name, steps }) => {
        const plan = planOf(doc);
        return (
          <li key={steps}>
            <button type="button" aria-label={words.top.undoWhat(name)} title={words.top.undoWhat(name)} onClick={() => store.undo(steps)}>
              {plan && <Small plan={plan} label="" />}
            </button>
          </li>
        );
      })}
    </ol>
  );
}

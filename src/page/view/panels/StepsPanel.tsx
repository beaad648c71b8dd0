/** Every step so far with its picture: tap one to go back to before it. */

import { Section } from "../parts/controls";
import { Small } from "../parts/Small";
import { planOf } from "../state/doc";
import type { Store } from "../state/store";
import { useStore } from "../state/use";
import { words } from "../words";

export function StepsPanel({ store }: { store: Store }) {
  const { history } = useStore(store);
  const { length } = history.past;
  if (length === 0) return null;
  const steps = history.past.map((entry, at) => ({ ...entry, back: length - at })).reverse();
  return (
    <Section title={words.stepsSoFar.title} help={words.stepsSoFar.help} id="panel-steps">
      <ol class="tiles">
        {steps.map(({ doc, name, back }) => {
          const plan = planOf(doc);
          return (
            <li key={back}>
              <button type="button" class="tile" onClick={() => store.undo(back)}>
                {plan && <Small plan={plan} label="" />}
                <span>{words.stepsSoFar.before(name)}</span>
              </button>
            </li>
          );
        })}
      </ol>
    </Section>
  );
}

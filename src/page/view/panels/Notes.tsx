/** What is said of the scene: how near it is, doubts, notes, and what to buy. */

import { Cloth } from "../parts/Swatch";
import { begin } from "../state/machine";
import type { Store } from "../state/store";
import { useStore } from "../state/use";
import { words } from "../words";
import { Figures } from "./Figures";
import { noteWords } from "./note-words";

export function Notes({ store }: { store: Store }) {
  const { doc, takes } = useStore(store);
  const { shown } = doc;
  if (!shown) return null;
  const byLetter = new Map(shown.answer.plan.fabrics.map((fabric) => [fabric.letter, fabric]));
  const notes = shown.answer.notes.map(noteWords).filter((words) => words !== null);
  return (
    <div class="notes">
      <Figures store={store} />
      <p class="row">
        <button type="button" class="main" onClick={() => void begin(store)}>
          {words.machine.open}
        </button>
        <span class="help">{words.machine.help}</span>
      </p>
      <ul class="plain">
        {shown.doubts.map((doubt) => (
          <li key={doubt} class="doubt">{doubt}</li>
        ))}
        {notes.map((note) => (
          <li key={note}>{note}</li>
        ))}
      </ul>
      {takes && takes.buy.length > 0 && (
        <details class="needs" data-testid="needs">
          <summary>{words.figures.needs}</summary>
          <p class="help">{words.figures.needsHelp}</p>
          <ul class="buy">
            {takes.buy.map((one) => (
              <li key={one.letter}>
                <Cloth fabric={byLetter.get(one.letter)} /> <span>{byLetter.get(one.letter)?.name}</span> <b>{one.words.join(", ")}</b>
              </li>
            ))}
          </ul>
        </details>
      )}
    </div>
  );
}

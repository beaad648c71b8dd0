/** What is said of the scene: how near it is, doubts, notes, and what to buy. */

import type { Store } from "../state/store";
import { useStore } from "../state/use";
import { words } from "../words";
import { Figures } from "./Figures";
import { noteWords } from "./note-words";

export function Notes({ store }: { store: Store }) {
  const { doc, takes } = useStore(store);
  const { shown } = doc;
  if (!shown) return null;
  const notes = shown.answer.notes.map(noteWords).filter((words) => words !== null);
  return (
    <div class="notes">
      <Figures store={store} />
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
          <ul class="plain">
            {takes.buy.map((one) => (
              <li key={one.letter}>
                <b>{one.letter}</b> {one.words.join(", ")}
              </li>
            ))}
          </ul>
        </details>
      )}
    </div>
  );
}

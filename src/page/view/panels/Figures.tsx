/** What the scene comes to, in a line. */

import type { Store } from "../state/store";
import { useStore } from "../state/use";
import { words } from "../words";

export function Figures({ store }: { store: Store }) {
  const { doc, takes } = useStore(store);
  const { shown } = doc;
  if (!shown) return null;
  const { figures } = shown.answer;
  const [width, height] = shown.size;
  const said = [
    words.figures.size(width, height),
    words.figures.units(figures.pieces.units),
    ...(takes ? [words.figures.squares(takes.squares)] : []),
    words.figures.rows(figures.layout[2]),
    words.figures.triangles(figures.triangle_share),
  ];
  return (
    <p class="figures" data-testid="figures">
      {said.map((one) => (
        <span key={one}>{one}</span>
      ))}
    </p>
  );
}

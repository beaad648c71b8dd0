/** Every key, from the list of actions. */

import { actions } from "../state/actions";
import type { Store } from "../state/store";
import { words } from "../words";

export function KeysScreen({ store }: { store: Store }) {
  const { keys: said } = words;
  const more = [
    ["← ↑ ↓ →", said.walk],
    ["space", said.take],
    ["shift ← ↑ ↓ →", said.more],
    ["+ − 0", said.zoom],
  ] as const;
  const plain: Record<string, string> = { undo: words.top.undo, redo: words.top.redo };
  const listed = actions.flatMap((one) => (one.key ? [[words.keys.named[one.key] ?? one.key, plain[one.id] ?? one.words(store)] as const] : []));
  return (
    <main class="keys">
      <h2>{said.title}</h2>
      <dl>
        {[...more, ...listed].map(([key, what]) => (
          <div key={key}>
            <dt><kbd>{key}</kbd></dt>
            <dd>{what}</dd>
          </div>
        ))}
      </dl>
      <button type="button" class="main" onClick={() => store.set({ screen: "page" })}>
        {said.close}
      </button>
    </main>
  );
}

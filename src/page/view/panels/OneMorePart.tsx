/** What one more square or print would do to a scene within a stash. */

import type { Plan } from "built/rowscape";
import { useEffect, useState } from "preact/hooks";

import type { Store } from "../state/store";
import { words } from "../words";

export function OneMorePart({ store, plan }: { store: Store; plan: Plan }) {
  const [told, setTold] = useState<string[]>([]);
  const { fabrics: said } = words;
  useEffect(() => setTold([]), [plan]);
  if (plan.fabrics.every(({ supply }) => !supply)) return null;
  const find = async () => {
    const answered = await store.run(() => ({ question: { oneMore: plan } }), { what: said.oneMoreAt, plain: true, topic: "advice", where: "fabrics" });
    if (answered && "text" in answered.reply) setTold(answered.reply.text.trim().split("\n"));
  };
  return (
    <div class="part" data-testid="one-more">
      <h3>{said.oneMore}</h3>
      <p class="help">{said.oneMoreHelp}</p>
      <button type="button" onClick={() => void find()}>
        {said.oneMoreGo}
      </button>
      <div role="status">
        {told.map((line) => (
          <p key={line}>{line}</p>
        ))}
      </div>
    </div>
  );
}

/** A row that came out too long or too short: what to do about it. */

import type { Plan } from "built/rowscape";
import { useEffect, useState } from "preact/hooks";

import { Field } from "../parts/controls";
import { measured } from "../parts/measured";
import type { Store } from "../state/store";
import { useStore } from "../state/use";
import { words } from "../words";

export function RowPart({ store, plan }: { store: Store; plan: Plan }) {
  const { taken } = useStore(store);
  const [told, setTold] = useState<string[]>([]);
  const [found, setFound] = useState("");
  const [at] = taken;
  const row = at?.split(".").slice(0, 3).join(".");
  const { ruler } = plan.request;
  const { pieces: said } = words;
  useEffect(() => {
    setTold([]);
    setFound("");
  }, [plan, row]);
  const ask = async (text: string) => {
    setFound(text);
    const measures = measured(text, ruler);
    if (at === undefined || measures === null) return setTold([]);
    const answered = await store.run(() => ({ question: { remedy: { plan, at, measures } } }), { what: said.off, plain: true, topic: "advice", where: "pieces" });
    if (answered && "text" in answered.reply) setTold(answered.reply.text.trim().split("\n"));
  };
  return (
    <details class="needs" data-testid="row-off">
      <summary>{said.off}</summary>
      <p class="help">{said.offHelp}</p>
      {row === undefined ? (
        <p class="help">{said.offNone}</p>
      ) : (
        <Field label={said.offField(row)} value={found} hint={said.offHint[ruler]} onChange={(text) => void ask(text)} />
      )}
      <div role="status">
        {told.map((line) => (
          <p key={line}>{line}</p>
        ))}
      </div>
    </details>
  );
}

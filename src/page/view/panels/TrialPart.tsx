/** The scene in several stashes, side by side. */

import type { Plan } from "built/rowscape";
import { useState } from "preact/hooks";

import { Choose, OneOf, Switch } from "../parts/controls";
import { Small } from "../parts/Small";
import type { Store, Trial } from "../state/store";
import { useStore } from "../state/use";
import { words } from "../words";

export function TrialPart({ store, plan }: { store: Store; plan: Plan }) {
  const { trial } = useStore(store);
  const [greys, setGreys] = useState(false);
  const { fabrics: said } = words;
  const go = async (stashes: [string, string][], afresh: boolean) => {
    const answered = await store.run(() => ({ question: { trial: { plan, stashes, afresh } } }), {
      what: words.work.stages.stash,
      topic: "trial",
      where: "fabrics",
    });
    if (answered && "trial" in answered.reply) store.set({ trial: { stashes, afresh, tried: answered.reply.trial } });
  };
  const chosen = async (files: File[]) => {
    const texts = files.map(async (file): Promise<[string, string]> => [file.name.replace(/\.toml$/i, ""), await file.text()]);
    const stashes = [...(trial?.stashes ?? []), ...(await Promise.all(texts))];
    await go([...new Map(stashes)], trial?.afresh ?? false);
  };
  const again = (trial: Trial, afresh: boolean) => void go(trial.stashes, afresh);
  return (
    <div class="part" data-testid="trial">
      <h3>{said.trial}</h3>
      <p class="help">{said.trialHelp}</p>
      <div class="row">
        <Choose label={said.trialOpen} accept=".toml" multiple id="trial-files" onFiles={(files) => void chosen(files)} />
      </div>
      {trial && (
        <>
          <OneOf
            label={said.trialHow}
            options={[["same", said.trialSame], ["afresh", said.trialAfresh]]}
            value={trial.afresh ? "afresh" : "same"}
            onChange={(value) => again(trial, value === "afresh")}
          />
          <Switch label={said.greys} value={greys} onChange={setGreys} />
          <ul class={`trials ${greys ? "greys" : ""}`}>
            {trial.tried.map((one) => (
              <li key={one.name} class="trial">
                <Small plan={one.plan} label={one.name} />
                <div>
                  <b>
                    {said.rank(one.rank)} {one.name}
                  </b>
                  <ul class="plain">
                    {one.why.map((why) => (
                      <li key={why}>{why}</li>
                    ))}
                  </ul>
                  <button type="button" onClick={() => void take(store, trial, one.name)}>
                    {said.take}
                  </button>
                </div>
              </li>
            ))}
          </ul>
        </>
      )}
    </div>
  );
}

/** Takes the scene as it was tried; its stash holds from then on. */
async function take(store: Store, trial: Trial, name: string): Promise<void> {
  const one = trial.tried.find((tried) => tried.name === name);
  const text = trial.stashes.find(([of]) => of === name)?.[1];
  if (!one || text === undefined) return;
  const answered = await store.run(() => ({ question: { open: JSON.stringify(one.plan) } }), {
    what: words.work.stages.scene,
    where: "fabrics",
  });
  if (!answered || !("scene" in answered.reply)) return;
  const { doc } = store.state;
  store.commit(
    { ...doc, stash: text, stashName: name, fabrics: null, without: [], shown: answered.reply.scene },
    words.steps.trial,
  );
}

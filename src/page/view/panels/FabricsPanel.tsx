/** The fabrics: those of the scene, and her own. */

import type { Fabric, Plan } from "built/rowscape";
import { useState } from "preact/hooks";

import { Choose, Section } from "../parts/controls";
import { FabricSheet } from "../parts/FabricSheet";
import { Swatches } from "../parts/Swatches";
import { holds, planOf, unitsOf } from "../state/doc";
import { add, compose, drop, lock, merge, more, move, patch, split } from "../state/fabrics";
import { download } from "../state/files";
import { openFile, openStash } from "../state/open";
import type { Store } from "../state/store";
import { useStore } from "../state/use";
import { words } from "../words";
import { OneMorePart } from "./OneMorePart";
import { Said } from "./Said";
import { TrialPart } from "./TrialPart";

export function FabricsPanel({ store }: { store: Store }) {
  const { doc, held } = useStore(store);
  const [at, setAt] = useState<string | null>(null);
  const plan = planOf(doc);
  if (!plan) return null;
  const { fabrics: said } = words;
  const shown = plan.fabrics.filter(({ letter }) => !doc.without.includes(letter));
  const used = patches(plan);
  return (
    <Section title={said.title} help={holds(doc) ? said.heldHelp : said.help} id="panel-fabrics">
      <Swatches
        fabrics={shown}
        at={at}
        onAt={setAt}
        said={({ letter }) => (used.get(letter) ? said.used(used.get(letter) ?? 0) : said.unused)}
        pinned={doc.locked}
        {...(doc.picture ? { onPin: (letter: string) => lock(store, letter) } : {})}
        sheet={(one) => (
          <FabricSheet
            key={one.letter}
            fabric={one}
            ruler={plan.request.ruler}
            pinned={doc.locked.includes(one.letter)}
            others={shown.filter((fabric) => fabric !== one)}
            onPatch={(change) => void patch(store, one.letter, change)}
            onMove={(by) => void move(store, one.letter, by)}
            onDrop={() => void drop(store, one.letter)}
            onMerge={(to) => void merge(store, one.letter, to)}
            onSplit={() => void split(store, one.letter)}
            onDone={() => setAt(null)}
          />
        )}
      />
      {doc.picture && <p class="help">{said.pinHelp}</p>}
      <Said store={store} where="fabrics" />
      <div class="row">
        <button type="button" onClick={() => void add(store)}>
          {said.add}
        </button>
        {doc.picture && (holds(doc) || doc.locked.length > 0) && (
          <button type="button" onClick={() => void compose(store, null, words.steps.propose)}>
            {doc.locked.length > 0 ? said.proposeOthers : said.propose}
          </button>
        )}
        <button type="button" onClick={() => store.set({ screen: "photos" })}>
          {words.photos.open}
        </button>
        <Choose label={said.open} accept=".toml,.gpl,.txt" id="open-stash" onFiles={([file]) => file && void openFile(store, file)} />
        <button type="button" onClick={() => void saveStash(store)}>
          {said.save}
        </button>
        {doc.stash !== null && doc.fabrics === null && (
          <button type="button" title={said.familiesHelp} onClick={() => void group(store, doc.stashName, doc.stash ?? "")}>
            {said.families}
          </button>
        )}
      </div>
      {held && held.notes.length > 0 && (
        <>
          <p class="label">{said.doubts}</p>
          <ul class="plain">
            {held.notes.map((note) => (
              <li key={note}>{note}</li>
            ))}
          </ul>
        </>
      )}
      {doc.picture && <OwnStash store={store} ruler={plan.request.ruler} />}
      <OneMorePart store={store} plan={plan} />
      <TrialPart store={store} plan={plan} />
    </Section>
  );
}

/** Her own fabrics, from nothing. */
function OwnStash({ store, ruler }: { store: Store; ruler: "inch" | "metric" }) {
  const [own, setOwn] = useState<Fabric[]>([]);
  const [at, setAt] = useState<string | null>(null);
  const { fabrics: said } = words;
  const set = (change: Partial<Fabric>) =>
    setOwn(own.map((fabric) => (fabric.letter === at ? { ...fabric, ...change } : fabric)));
  return (
    <div class="part" data-testid="own-stash">
      <h3>{said.own}</h3>
      <p class="help">{said.ownHelp}</p>
      <Swatches
        fabrics={own}
        at={at}
        onAt={setAt}
        sheet={(one) => (
          <FabricSheet
            key={one.letter}
            fabric={one}
            ruler={ruler}
            others={[]}
            onPatch={set}
            onDrop={() => setOwn(own.filter((fabric) => fabric !== one))}
            onDone={() => setAt(null)}
          />
        )}
      />
      <div class="row">
        <button
          type="button"
          onClick={() => {
            const made = more(own);
            setOwn([...own, made]);
            setAt(made.letter);
          }}
        >
          {said.add}
        </button>
        {own.length >= 2 && (
          <button type="button" class="main" onClick={() => void compose(store, own, words.steps.stash)}>
            {words.sketch.use}
          </button>
        )}
      </div>
    </div>
  );
}

/** Opens the stash again with a family for every fabric that has none. */
async function group(store: Store, name: string, text: string): Promise<void> {
  const answered = await store.run(() => ({ question: { group: text } }), { what: words.work.stages.stash, where: "fabrics" });
  if (answered && "stash" in answered.reply) await openStash(store, name, answered.reply.stash.text);
}

async function saveStash(store: Store): Promise<void> {
  const plan = planOf(store.state.doc);
  if (!plan) return;
  const answered = await store.run(() => ({ question: { writeStash: plan } }), { what: words.work.stages.files, where: "fabrics" });
  if (answered && "text" in answered.reply) download("stash.toml", new TextEncoder().encode(answered.reply.text));
}

/** How many patches show each fabric. */
function patches(plan: Plan): Map<string, number> {
  const counts = new Map<string, number>();
  for (const unit of unitsOf(plan)) {
    for (const { fabric } of unit.patches) counts.set(fabric, (counts.get(fabric) ?? 0) + 1);
  }
  return counts;
}

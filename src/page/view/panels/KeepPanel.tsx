/** Keeping: one file, and what this device keeps. */

import { useEffect, useState } from "preact/hooks";

import { Choose, Section } from "../parts/controls";
import { save } from "../state/files";
import type { Keeper } from "../state/keep";
import { openFile } from "../state/open";
import type { Store } from "../state/store";
import { useStore } from "../state/use";
import { words } from "../words";

export function KeepPanel({ store, keeper }: { store: Store; keeper: Keeper }) {
  useStore(store);
  const [promised, setPromised] = useState<boolean | null>(null);
  const [asked, setAsked] = useState(false);
  useEffect(() => void navigator.storage?.persisted?.().then(setPromised), []);
  const ask = () =>
    void navigator.storage?.persist?.().then((kept) => {
      setPromised(kept);
      setAsked(true);
    });
  const { keep: said } = words;
  return (
    <Section title={said.title} help={keeper.works ? said.help : said.cannot} id="panel-keep">
      <div class="row">
        <button type="button" class="main" onClick={() => save(store)}>
          {said.save}
        </button>
        <Choose label={said.open} accept=".rowscape,.zip,.json" onFiles={([file]) => file && void openFile(store, file)} />
      </div>
      <p class="help">{promised ? said.persistent : said.warning}</p>
      {promised === false && !asked && (
        <button type="button" onClick={ask}>
          {said.ask}
        </button>
      )}
      {asked && !promised && <p class="help">{said.asked}</p>}
    </Section>
  );
}

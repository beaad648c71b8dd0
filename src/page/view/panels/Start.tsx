/** The first thing seen: a picture is asked for, and samples are there to try. */

import { useEffect, useState } from "preact/hooks";

import { Choose, useAddress } from "../parts/controls";
import { load } from "../picture/load";
import type { KeptScene, Keeper } from "../state/keep";
import { openFile, takePicture, takeSample } from "../state/open";
import { samples } from "../state/samples";
import type { Store } from "../state/store";
import { words } from "../words";

const OPENS = ".json,.toml,.gpl,.txt,.zip,.rowscape,application/json";

export function Start({ store, keeper }: { store: Store; keeper: Keeper }) {
  const open = (files: File[]) => files[0] && void openFile(store, files[0]);
  return (
    <div class="start">
      <p class="lede">{words.lede}</p>
      <div class="begin">
        <h2>{words.start.title}</h2>
        <div class="row">
          <Choose label={words.start.choose} accept="image/*,.heic,.heif" main id="choose-picture" onFiles={open} />
          <span class="by-camera">
            <Choose label={words.start.photograph} accept="image/*" capture onFiles={open} />
          </span>
          <button type="button" onClick={() => void paste(store)}>
            {words.start.paste}
          </button>
          <button type="button" onClick={() => store.set({ screen: "sketch" })}>
            {words.start.sketch}
          </button>
          <button type="button" onClick={() => store.set({ screen: "photos" })}>
            {words.photos.open}
          </button>
        </div>
        <p class="help by-hand">{words.start.drop}</p>
      </div>
      <div class="samples">
        <h2>{words.start.samples}</h2>
        <ul class="tiles">
          {samples.map((sample) => (
            <li key={sample.id}>
              <Sample store={store} sample={sample} />
            </li>
          ))}
        </ul>
      </div>
      <KeptList store={store} keeper={keeper} />
      <div class="row">
        <Choose label={words.start.open} accept={OPENS} id="open-file" onFiles={open} />
      </div>
      <p class="promise">{words.promise}</p>
    </div>
  );
}

function Sample({ store, sample }: { store: Store; sample: (typeof samples)[number] }) {
  const address = useAddress(sample.bytes);
  return (
    <button
      type="button"
      class="tile"
      data-testid={`sample-${sample.id}`}
      onClick={() => void takeSample(store, sample.bytes, sample.file)}
    >
      <img src={address} alt="" />
      <span>{sample.name}</span>
    </button>
  );
}

function KeptList({ store, keeper }: { store: Store; keeper: Keeper }) {
  const [kept, setKept] = useState<KeptScene[]>([]);
  const list = () => void keeper.list().then(setKept);
  useEffect(list, []);
  if (kept.length === 0) return null;
  return (
    <div class="kept">
      <h2>{words.start.kept}</h2>
      <ul class="tiles">
        {kept.map((scene) => (
          <li key={scene.id}>
            <button type="button" class="tile" onClick={() => void keeper.open(store, scene.id)}>
              <img src={scene.picture} alt="" />
              <span>{scene.name}</span>
            </button>
            <button
              type="button"
              class="quiet"
              aria-label={words.start.forgetWhich(scene.name)}
              onClick={() => void keeper.forget(scene.id).then(list)}
            >
              {words.start.forget}
            </button>
          </li>
        ))}
      </ul>
    </div>
  );
}

async function paste(store: Store): Promise<void> {
  const nothing = () => store.set({ trouble: { where: "page", words: words.start.pasteNone, hint: null } });
  try {
    for (const item of await navigator.clipboard.read()) {
      const type = item.types.find((type) => type.startsWith("image/"));
      if (type) return takePicture(store, await load(store.bridge, await item.getType(type), "pasted"), words.steps.picture);
    }
    nothing();
  } catch {
    nothing();
  }
}

/** The picture: cropped, turned, straightened, lightened, each seen at once. */

import { useEffect, useRef, useState } from "preact/hooks";

import { Choose, Dial, Section, Switch } from "../parts/controls";
import { CropFrame } from "../parts/CropFrame";
import { FocusBrush } from "../parts/FocusBrush";
import { drawn } from "../picture/adjust";
import { PLAIN } from "../state/doc";
import type { Look } from "../state/doc";
import { openFile } from "../state/open";
import type { Store } from "../state/store";
import { useStore } from "../state/use";
import { words } from "../words";
import { Said } from "./Said";

/** The longest side of the picture as it is shown here. */
const SHOWN = 720;

export function PicturePanel({ store }: { store: Store }) {
  useStore(store);
  const { picture, look, asked, mask } = store.asked;
  const canvas = useRef<HTMLCanvasElement>(null);
  const [painting, setPainting] = useState(false);
  const [open, setOpen] = useState(false);
  const { crop, ...rest } = look;
  useEffect(() => {
    if (!picture || !open) return;
    let current = true;
    void drawn(picture, look, SHOWN).then((made) => {
      const to = canvas.current;
      if (!current || !to) return;
      [to.width, to.height] = [made.width, made.height];
      to.getContext("2d")?.drawImage(made, 0, 0);
    });
    return () => {
      current = false;
    };
  }, [picture, open, JSON.stringify(rest)]);
  if (!picture) return null;
  const change = (name: string, patch: Partial<Look>) =>
    void store.change({
      name,
      key: `look ${Object.keys(patch).join(" ")}`,
      topic: "compose",
      where: "picture",
      next: (doc) => ({ ...doc, look: { ...doc.look, ...patch } }),
    });
  const { picture: said, steps } = words;
  const number = (value: number) => (value > 0 ? `+${value}` : String(value));
  return (
    <Section title={said.title} help={said.help} id="panel-picture" onToggle={setOpen}>
      <div class="picture">
        <canvas ref={canvas} role="img" aria-label={picture.name} />
        {painting ? (
          <FocusBrush store={store} mask={mask} />
        ) : (
          <CropFrame
            crop={crop}
            onChange={(crop) => change(steps.crop, { crop })}
          />
        )}
      </div>
      <Said store={store} where="picture" />
      <div class="row">
        <button type="button" onClick={() => change(steps.turn, { turns: (look.turns + 1) % 4, crop: null })}>
          {said.turn}
        </button>
        <button type="button" disabled={crop === null} onClick={() => change(steps.crop, { crop: null })}>
          {said.whole}
        </button>
        <Switch label={said.matters} value={painting} onChange={setPainting} />
        {mask && (
          <button
            type="button"
            onClick={() =>
              void store.change({
                name: steps.matters,
                topic: "compose",
                where: "picture",
                next: (doc) => ({ ...doc, mask: null }),
              })
            }
          >
            {said.clear}
          </button>
        )}
      </div>
      <p class="help">{painting ? said.mattersHelp : said.cropHelp}</p>
      <Dial label={said.tilt} low="↺" high="↻" min={-10} max={10} step={0.5} value={look.tilt} shown={`${number(look.tilt)}${said.tiltUnit}`} onInput={(tilt) => change(steps.look, { tilt })} />
      <Dial label={said.light} low="−" high="+" min={-60} max={60} step={5} value={look.light} shown={number(look.light)} onInput={(light) => change(steps.look, { light })} />
      <Dial label={said.contrast} low="−" high="+" min={-60} max={60} step={5} value={look.contrast} shown={number(look.contrast)} onInput={(contrast) => change(steps.look, { contrast })} />
      <Dial label={said.colour} low="−" high="+" min={-100} max={100} step={10} value={look.colour} shown={number(look.colour)} onInput={(colour) => change(steps.look, { colour })} />
      <div class="row">
        <Switch
          label={said.level}
          value={asked.straighten}
          onChange={(straighten) =>
            void store.change({
              name: steps.level,
              topic: "compose",
              where: "picture",
              next: (doc) => ({ ...doc, asked: { ...doc.asked, straighten } }),
            })
          }
        />
        <button type="button" onClick={() => change(steps.look, PLAIN)}>
          {said.plain}
        </button>
        <Choose label={said.other} accept="image/*,.heic,.heif" onFiles={([file]) => file && void openFile(store, file)} />
        <button type="button" onClick={() => store.set({ screen: "sketch" })}>
          {words.sketch.title}
        </button>
      </div>
    </Section>
  );
}

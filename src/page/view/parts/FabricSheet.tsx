/** One fabric, to be changed: its colour, name, family, and how much there is. */

import type { Fabric, Supply } from "built/rowscape";

import { NO_SUPPLY, SOLD } from "../state/fabrics";
import { words } from "../words";
import { Field } from "./controls";

const bare = (length: string) => length.replace(/\s/g, "");

export function FabricSheet(props: {
  fabric: Fabric;
  ruler: "inch" | "metric";
  others: readonly Fabric[];
  /** A pinned one is not split, joined or left out. */
  pinned?: boolean;
  onPatch: (patch: Partial<Fabric>) => void;
  onMove?: (by: number) => void;
  onDrop: () => void;
  onMerge?: (to: string) => void;
  onSplit?: () => void;
  onDone: () => void;
}) {
  const { fabric, ruler, onPatch } = props;
  const { fabrics: said } = words;
  const sold = SOLD[ruler];
  const supply = fabric.supply ?? NO_SUPPLY;
  const squares = (size: string) => supply.squares.filter((one) => bare(one.size) === size).reduce((sum, one) => sum + one.count, 0);
  const count = (text: string) => Math.min(10000, Math.max(0, Math.round(Number(text)) || 0));
  const give = (made: Supply) => {
    const none = made.squares.length + made.yardage.length + made.oddments.length + made.fat_quarters === 0;
    const { supply: _, ...rest } = fabric;
    onPatch(none ? { supply: null } : { ...rest, supply: made });
  };
  const setSquares = (size: string) => (text: string) => {
    const others = supply.squares.filter((one) => bare(one.size) !== size);
    give({ ...supply, squares: count(text) > 0 ? [...others, { size, count: count(text) }] : others });
  };
  const length = supply.yardage.filter((one) => bare(one.width) === sold.width);
  const long = length.reduce((sum, one) => sum + (parseFloat(one.length) || 0) / sold.long, 0);
  const setLength = (text: string) => {
    const amount = Math.round(Math.min(50, Math.max(0, Number(text) || 0)) * sold.long);
    const others = supply.yardage.filter((one) => bare(one.width) !== sold.width);
    give({ ...supply, yardage: amount > 0 ? [...others, { width: sold.width, length: `${amount}${sold.unit}` }] : others });
  };
  return (
    <div class="sheet-of" data-testid="fabric-sheet">
      <div class="two">
        <div class="field colour">
          <label>
            {said.colour}
            <input type="color" value={fabric.colour} onChange={(event) => onPatch({ colour: event.currentTarget.value })} />
          </label>
        </div>
        <Field label={said.name} value={fabric.name} onChange={(name) => name.trim() && onPatch(fabric.family === fabric.name ? { name: name.trim(), family: name.trim() } : { name: name.trim() })} />
        <Field label={said.family} value={fabric.family} onChange={(family) => family.trim() && onPatch({ family: family.trim() })} />
      </div>
      <p class="help">{said.familyHelp}</p>
      <p class="label">{said.counted}</p>
      <p class="help">{said.countedHelp}</p>
      <div class="two">
        <Field number label={ruler === "inch" ? said.squares10 : said.squaresM} value={String(squares(sold.large))} onChange={setSquares(sold.large)} />
        <Field number label={ruler === "inch" ? said.squares5 : said.squaresM5} value={String(squares(sold.small))} onChange={setSquares(sold.small)} />
        <Field number label={ruler === "inch" ? said.fatQuarters : said.fatQuartersM} value={String(supply.fat_quarters)} onChange={(text) => give({ ...supply, fat_quarters: count(text) })} />
        <Field label={ruler === "inch" ? said.yards : said.metres} value={String(Math.round(long * 100) / 100)} onChange={setLength} />
      </div>
      <div class="row">
        {props.onMove && (
          <>
            <button type="button" onClick={() => props.onMove?.(-1)} aria-label={said.earlier}>↑</button>
            <button type="button" onClick={() => props.onMove?.(1)} aria-label={said.later}>↓</button>
          </>
        )}
        {props.onSplit && !props.pinned && (
          <button type="button" onClick={props.onSplit}>
            {said.split}
          </button>
        )}
        {props.onMerge && !props.pinned && props.others.length > 0 && (
          <label class="field inline">
            {said.merge}
            <select
              value=""
              onChange={(event) => {
                const to = event.currentTarget.value;
                event.currentTarget.value = "";
                if (to) props.onMerge?.(to);
              }}
            >
              <option value="">…</option>
              {props.others.map((other) => (
                <option key={other.letter} value={other.letter}>
                  {said.mergeWith(`${other.letter} ${other.name}`)}
                </option>
              ))}
            </select>
          </label>
        )}
        {props.pinned ? (
          <p class="help">{said.pinned}</p>
        ) : (
          <button type="button" onClick={props.onDrop}>
            {said.drop}
          </button>
        )}
        <button type="button" class="quiet" onClick={props.onDone}>
          {said.done}
        </button>
      </div>
    </div>
  );
}

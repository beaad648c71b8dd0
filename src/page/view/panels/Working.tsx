/** Long work: what it is at, the best so far, and ways to end it. */

import { Small } from "../parts/Small";
import type { Store } from "../state/store";
import { useStore } from "../state/use";
import { words } from "../words";

export function Working({ store }: { store: Store }) {
  const { busy } = useStore(store);
  if (!busy) return null;
  const { told, best, gap } = busy;
  const what = told && !busy.plain ? words.work.stages[told.stage] : busy.what;
  const said = what + (told ? words.work.part(told.part, told.parts) : "");
  const share = told && told.parts > 1 ? told.part / told.parts : null;
  return (
    <div class="working" role="status" data-testid="working">
      <div class="stitching" aria-hidden="true">
        <i style={share === null ? {} : { width: `${Math.round(share * 100)}%`, animation: "none" }} />
      </div>
      <span>{said}</span>
      {best && <Small plan={best} label={words.work.bestAlt} />}
      {best && gap !== null && <span>{words.work.best((gap * 100).toFixed(1))}</span>}
      {best && (
        <button type="button" class="main" onClick={() => void store.enough()}>
          {words.work.enough}
        </button>
      )}
      <button type="button" class="quiet" onClick={() => store.stop()}>
        {words.work.stop}
      </button>
    </div>
  );
}

/** A small picture of a scene; one that is said beside it has no label. */

import type { Plan } from "built/rowscape";
import { useLayoutEffect, useRef } from "preact/hooks";

import { small } from "../scene/draw";

export function Small({ plan, label }: { plan: Plan; label: string }) {
  const host = useRef<HTMLSpanElement>(null);
  useLayoutEffect(() => host.current?.replaceChildren(small(plan)), [plan]);
  const said = label === "" ? ({ "aria-hidden": "true" } as const) : ({ role: "img", "aria-label": label } as const);
  return <span class="smallhost" {...said} ref={host} />;
}

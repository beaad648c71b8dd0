/** The store's state in a view. */

import { useEffect, useState } from "preact/hooks";

import type { State, Store } from "./store";

export function useStore(store: Store): State {
  const [state, setState] = useState(store.state);
  useEffect(() => {
    setState(store.state);
    return store.follow(() => setState(store.state));
  }, [store]);
  return state;
}

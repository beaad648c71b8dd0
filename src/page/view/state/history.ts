/** Undo and redo as plain values. */

export interface Entry<T> {
  /** What the document was before. */
  doc: T;
  /** What was done to it. */
  name: string;
}

export interface History<T> {
  past: Entry<T>[];
  future: Entry<T>[];
  /** Steps of one key that follow each other are one step. */
  key: string | null;
}

export const none = <T>(): History<T> => ({ past: [], future: [], key: null });

/** A step from one document to the next; one that changes nothing leaves no entry. */
export function step<T>(history: History<T>, from: T, to: T, name: string, key: string | null = null): History<T> {
  if (from === to) return history;
  if (key !== null && key === history.key && history.past.length > 0) return { ...history, future: [] };
  return { past: [...history.past, { doc: from, name }], future: [], key };
}

/** Goes back over so many steps. */
export function back<T>(history: History<T>, now: T, steps = 1): { history: History<T>; doc: T } | null {
  let { past, future } = history;
  let doc = now;
  for (let at = 0; at < steps; at++) {
    const last = past.at(-1);
    if (!last) return at === 0 ? null : { history: { past, future, key: null }, doc };
    past = past.slice(0, -1);
    future = [{ doc, name: last.name }, ...future];
    doc = last.doc;
  }
  return { history: { past, future, key: null }, doc };
}

export function forth<T>(history: History<T>, now: T): { history: History<T>; doc: T } | null {
  const [next, ...future] = history.future;
  if (!next) return null;
  return { history: { past: [...history.past, { doc: now, name: next.name }], future, key: null }, doc: next.doc };
}

/** How long the rest takes, by her own pace. */

export interface Did {
  /** When it was ticked, in milliseconds. */
  at: number;
  chapter: string;
  amount: number;
}

export interface Pace {
  /** What is left, in milliseconds. */
  left: number;
  /** From how many times between ticks. */
  from: number;
  /** Chapters of which it is a guess. */
  guessed: number;
}

/** Below this several ticks were made up for; above this there was a break, in milliseconds: by eye, no source. */
const CAUGHT_UP = 3_000;
const BREAK = 20 * 60_000;
/** A time so many times the middle one is a break too. */
const FAR = 8;
/** So many times at least, in all and of a chapter. */
const LEAST = 6;
const LEAST_OF_CHAPTER = 3;

export const median = (numbers: readonly number[]): number => {
  const sorted = [...numbers].sort((one, other) => one - other);
  const half = sorted.length >> 1;
  return sorted.length % 2 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
};

/** The middle of the times between ticks, breaks left out, chapter by chapter; none before there are some. */
export function pace(done: readonly Did[], left: readonly Omit<Did, "at">[]): Pace | null {
  const sorted = [...done].sort((one, other) => one.at - other.at);
  const times = sorted
    .slice(1)
    .map((one, at) => ({ ...one, took: one.at - sorted[at]!.at }))
    .filter(({ took }) => took >= CAUGHT_UP && took <= BREAK);
  if (times.length === 0) return null;
  const middle = median(times.map(({ took }) => took));
  const fair = times.filter(({ took }) => took <= FAR * middle);
  if (fair.length < LEAST) return null;
  const all = median(fair.map(({ took }) => took));
  const chapters = new Map<string, number | null>();
  const rate = (chapter: string) => {
    let known = chapters.get(chapter);
    if (known === undefined) {
      const of = fair.filter((one) => one.chapter === chapter);
      known = of.length < LEAST_OF_CHAPTER ? null : median(of.map(({ took, amount }) => took / Math.max(1, amount)));
      chapters.set(chapter, known);
    }
    return known;
  };
  let sum = 0;
  for (const { chapter, amount } of left) {
    const each = rate(chapter);
    sum += each === null ? all : each * Math.max(1, amount);
  }
  return { left: sum, from: fair.length, guessed: [...chapters.values()].filter((each) => each === null).length };
}

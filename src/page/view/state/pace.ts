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

/** How long a step takes for each amount, in milliseconds, chapter by chapter; from how many times, and their middle. */
interface Rates {
  chapters: Map<string, number>;
  from: number;
  all: number;
}

/** The middle of the times between ticks, breaks left out, chapter by chapter; none before there are some. */
export function rates(done: readonly Did[]): Rates | null {
  const sorted = [...done].sort((one, other) => one.at - other.at);
  const times = sorted
    .slice(1)
    .map((one, at) => ({ ...one, took: one.at - sorted[at]!.at }))
    .filter(({ took }) => took >= CAUGHT_UP && took <= BREAK);
  if (times.length === 0) return null;
  const middle = median(times.map(({ took }) => took));
  const fair = times.filter(({ took }) => took <= FAR * middle);
  if (fair.length < LEAST) return null;
  const chapters = new Map<string, number>();
  for (const chapter of new Set(fair.map((one) => one.chapter))) {
    const of = fair.filter((one) => one.chapter === chapter);
    if (of.length >= LEAST_OF_CHAPTER) chapters.set(chapter, median(of.map(({ took, amount }) => took / Math.max(1, amount))));
  }
  return { chapters, from: fair.length, all: median(fair.map(({ took }) => took)) };
}

export function pace(done: readonly Did[], left: readonly Omit<Did, "at">[]): Pace | null {
  const known = rates(done);
  if (!known) return null;
  const { chapters, from, all } = known;
  const took = ({ chapter, amount }: Omit<Did, "at">) => (chapters.has(chapter) ? chapters.get(chapter)! * Math.max(1, amount) : all);
  const guessed = new Set(left.map(({ chapter }) => chapter).filter((chapter) => !chapters.has(chapter)));
  return { left: left.reduce((sum, one) => sum + took(one), 0), from, guessed: guessed.size };
}

/** Parts of the work as they are reckoned, and the chapters that make each. */
export const PARTS: Readonly<Record<string, readonly string[]>> = {
  cutting: ["cut"],
  pairs: ["pair", "sew", "apart", "press", "trim", "strips"],
  rows: ["rows"],
  joining: ["columns", "bands", "top"],
};

/** How long a part takes at her rates, in milliseconds; none where she has not been in all of its chapters. */
export function own(part: string, steps: readonly Omit<Did, "at">[], known: ReadonlyMap<string, number>): number | null {
  const of = steps.filter(({ chapter }) => PARTS[part]?.includes(chapter));
  if (of.length === 0 || of.some(({ chapter }) => !known.has(chapter))) return null;
  return of.reduce((sum, { chapter, amount }) => sum + known.get(chapter)! * Math.max(1, amount), 0);
}

/** What is looked at on the screen at the machine. */

import type { Shown, StepShown, Steps } from "built/rowscape";

import type { Doc } from "./doc";

/** A change that is shown before it is taken. */
export interface Proposed {
  name: string;
  doc: Doc;
  shown: Shown;
  steps: Steps;
  /** Addresses of units that are other than before. */
  changed: readonly string[];
  /** What is to be bought: letters and words. */
  buy: readonly (readonly [string, string])[];
  /** Steps that are to do because of it, and seams that are to be unpicked for it. */
  more: readonly StepShown[];
  unpick: readonly StepShown[];
  /** What becomes of ticks. */
  ticks: readonly (readonly [string, boolean])[];
}

export interface Machine {
  steps: Steps | null;
  /** The key of the step that is shown. */
  at: string | null;
  view: "step" | "all" | "wrong" | "row" | "answer";
  /** The fabric of which alone steps are shown. */
  fabric: string | null;
  /** What is said of the last thing done. */
  told: string;
  proposed: Proposed | null;
}

export const IDLE: Machine = { steps: null, at: null, view: "step", fabric: null, told: "", proposed: null };

/** What is said beside an answer, in the page's words. */

import type { Note } from "built/rowscape";

import { words } from "../words";

export function noteWords(note: Note): string | null {
  const said = words.notes;
  if (note === "Levelled") return said.levelled;
  if (note === "OldPicture") return null;
  if ("Picture" in note) return note.Picture;
  if ("Height" in note) return said.height(note.Height);
  if ("Width" in note) return said.width(note.Width);
  if ("LeftOut" in note) return said.leftOut(note.LeftOut.taken, note.LeftOut.left);
  if ("AllTaken" in note) return said.allTaken(note.AllTaken);
  if ("Largest" in note) return said.largest(...note.Largest);
  if ("Within" in note) return said.within((note.Within.whole * 100).toFixed(1));
  if ("Forced" in note) return said.forced(note.Forced.changed, note.Forced.of);
  if ("Loosened" in note) return said.loosened(note.Loosened);
  if ("Again" in note) {
    const { unit, from } = note.Again;
    if (from === "Otherwise") return said.again.otherwise(unit);
    if ("Spare" in from) return said.again.spare(unit, from.Spare);
    return said.again.again(unit, "Pairs" in from ? from.Pairs.id : from.Cut);
  }
  if ("Unused" in note) return said.unused;
  if ("Next" in note) return null;
  return null;
}

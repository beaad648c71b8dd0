/** The document: all that is undone and redone, and kept. What is merely looked at is in `store`. */

import type { Brief, Fabric, Finish, Plan, Shown, UnitFile } from "built/rowscape";

/** A picture as it was given. */
export interface Picture {
  /** Tells it from every other. */
  id: string;
  name: string;
  bytes: Uint8Array<ArrayBuffer>;
  width: number;
  height: number;
}

/** A part of a picture, in hundredths of a per cent of its sides. */
export interface Crop {
  left: number;
  top: number;
  width: number;
  height: number;
}

/** How the picture is looked at before it is pieced. */
export interface Look {
  crop: Crop | null;
  /** Quarter turns clockwise. */
  turns: number;
  /** Degrees clockwise. */
  tilt: number;
  /** Each from -100 to 100. */
  light: number;
  contrast: number;
  colour: number;
}

export const PLAIN: Look = { crop: null, turns: 0, tilt: 0, light: 0, contrast: 0, colour: 0 };

/** Where strokes of the brush made the picture matter more: the strength of each place, 0 to 255. */
export interface Mask {
  id: string;
  width: number;
  height: number;
  levels: Uint8Array<ArrayBuffer>;
}

/** What is asked for, but the picture and the fabrics. */
export interface Asked {
  ruler: "inch" | "metric";
  /** The side that is given; the other follows the picture's shape, unless both are. */
  width: string | null;
  height: string | null;
  /** Whether the largest top is asked for that the stash makes. */
  largest: boolean;
  /** Sides of squares, `10in` or `10in/4`; none for what is usual. */
  squares: { cut: string; quartered: boolean }[] | null;
  seam: string | null;
  colours: number;
  detail: number;
  triangles: number;
  depth: "rows" | "bands";
  seed: number;
  straighten: boolean;
  title: string;
  /** Lean to trimmed units, to units of two near fabrics, and to saving cloth, in per cent. */
  trims: number;
  quiet: number;
  thrift: number;
  pressing: "side" | "open";
  rowEnds: "exact" | "spare";
  cutSquares: boolean;
  /** What is bought over what is cut, in per cent, and how wide cloth is; none for what is usual. */
  margin: number | null;
  clothWidth: string | null;
  /** How the quilt is finished; nothing but the top where it is empty. */
  finish: Finish;
}

export interface Doc {
  picture: Picture | null;
  look: Look;
  mask: Mask | null;
  asked: Asked;
  /** A stash file's text; none where fabrics are proposed from the picture. */
  stash: string | null;
  stashName: string;
  /** Fabrics that were changed by hand, in the place of those. */
  fabrics: Fabric[] | null;
  /** Letters of fabrics that are left out. */
  without: string[];
  /** Letters of fabrics that stay as they are when others are proposed. */
  locked: string[];
  /** Whether a list of the scene, or of one before it, may be on paper. */
  handed: boolean;
  /** Tells the quilt that is sewn from every other: a changed scene is of the same one, another scene of another. */
  quilt: string;
  shown: Shown | null;
  /** The plan of a scene long past, packed; it is opened when it is gone back to. */
  folded: Uint8Array<ArrayBuffer> | null;
}

export const FRESH: Asked = {
  ruler: "inch",
  width: null,
  height: null,
  largest: false,
  squares: null,
  seam: null,
  colours: 12,
  detail: 100,
  triangles: 100,
  depth: "bands",
  seed: 0,
  straighten: true,
  title: "",
  trims: 100,
  quiet: 100,
  thrift: 100,
  pressing: "side",
  rowEnds: "exact",
  cutSquares: false,
  margin: null,
  clothWidth: null,
  finish: {},
};

export const EMPTY: Doc = {
  picture: null,
  look: PLAIN,
  mask: null,
  asked: FRESH,
  stash: null,
  stashName: "",
  fabrics: null,
  without: [],
  locked: [],
  handed: false,
  quilt: "",
  shown: null,
  folded: null,
};

/** The longer side where none is asked for yet. */
const USUAL = { inch: "60in", metric: "150cm" };

export const planOf = (doc: Doc): Plan | null => doc.shown?.answer.plan ?? null;

/** Every unit of a plan, in the order of its rows. */
export const unitsOf = (plan: Plan | null): UnitFile[] =>
  (plan?.bands ?? []).flatMap((band) => band.columns.flatMap((column) => column.rows.flatMap((row) => row.units)));

/** Width and height as they look, turned. */
export function sides({ picture, look }: Doc): [number, number] {
  const { width, height } = picture ?? { width: 4, height: 3 };
  const whole: [number, number] = look.turns % 2 ? [height, width] : [width, height];
  const { crop } = look;
  return crop ? [(whole[0] * crop.width) / 10000, (whole[1] * crop.height) / 10000] : whole;
}

/** Whether the fabrics hold, whatever the picture. */
export const holds = (doc: Doc): boolean => doc.stash !== null || doc.fabrics !== null;

/** Fabrics that stay as they are when others are proposed: those that are locked of the scene. */
export const locked = (doc: Doc): Fabric[] => (planOf(doc)?.fabrics ?? []).filter(({ letter }) => doc.locked.includes(letter));

/** The brief that asks for the document's scene. */
export function brief(doc: Doc): Brief {
  const { asked, picture, stash } = doc;
  const [across, down] = sides(doc);
  const usual = USUAL[asked.ruler];
  const given = asked.width !== null || asked.height !== null;
  return {
    version: 1,
    picture: picture?.name ?? "picture",
    ruler: asked.ruler,
    width: given || asked.largest ? asked.width : across >= down ? usual : null,
    height: given || asked.largest ? asked.height : across >= down ? null : usual,
    largest: asked.largest,
    sizes: {
      ...(asked.squares && asked.squares.length > 0 ? { squares: asked.squares } : {}),
      ...(asked.seam ? { seam: asked.seam } : {}),
    },
    colours: holds(doc) ? null : Math.max(asked.colours, locked(doc).length),
    ...(stash === null ? {} : { stash }),
    detail: asked.detail,
    triangles: asked.triangles,
    depth: asked.depth,
    seed: asked.seed,
    straighten: asked.straighten,
    focus: doc.mask ? "mask" : "auto",
    ...finer(asked),
  };
}

/** What a brief and a change have in common of the finer points. */
export const finer = (asked: Asked) => ({
  title: asked.title,
  trims: asked.trims,
  quiet: asked.quiet,
  thrift: asked.thrift,
  pressing: asked.pressing,
  row_ends: asked.rowEnds,
  cut_squares: asked.cutSquares,
  finish: asked.finish,
  ...(asked.margin === null ? {} : { margin: asked.margin }),
  ...(asked.clothWidth === null ? {} : { cloth_width: asked.clothWidth }),
});

/** What is asked for as a plan holds it, for one that was opened. */
export function askedBy(plan: Plan): Asked {
  const { request } = plan;
  return {
    ruler: request.ruler,
    width: request.width,
    height: request.height,
    largest: false,
    squares: request.squares,
    seam: request.seam.measured,
    colours: request.colours ?? plan.fabrics.length,
    detail: request.detail,
    triangles: request.triangles,
    depth: request.depth,
    seed: request.seed,
    straighten: request.straighten ?? true,
    title: request.title ?? "",
    trims: request.trims ?? 100,
    quiet: request.quiet ?? 100,
    thrift: request.thrift ?? 100,
    pressing: request.pressing ?? "side",
    rowEnds: request.row_ends,
    cutSquares: request.cut_squares ?? false,
    margin: request.margin ?? null,
    clothWidth: request.cloth_width,
    finish: request.finish ?? {},
  };
}

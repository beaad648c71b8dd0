/** What a step is about, drawn large: two parts with their seam, a pair of squares, a piece to cut. */

import type { Fabric, Plan, StepShown } from "built/rowscape";
import type { JSX } from "preact";

import { ink, middle, paint, points } from "../scene/draw";
import { placed } from "../scene/layout";
import type { Placed } from "../scene/layout";
import { words } from "../words";

type Fabrics = ReadonlyMap<string, Fabric>;

export const fabricsOf = (plan: Plan): Fabrics => new Map(plan.fabrics.map((fabric) => [fabric.letter, fabric]));

/** A unit as it lies, with the letters of its fabrics. */
export function Unit({ one, fabrics, letters = true, pale = false }: { one: Placed; fabrics: Fabrics; letters?: boolean; pale?: boolean }) {
  const size = Math.min(one.width, one.height) / 4;
  return (
    <g class={pale ? "pale" : undefined}>
      {one.unit.patches.map(({ fabric, outline }, at) => {
        const colour = paint(fabrics.get(fabric)?.colour ?? "");
        const [x, y] = middle(outline);
        return (
          <g key={at}>
            <polygon points={points(outline)} fill={colour} class="patch" />
            {letters && (
              <text x={x} y={y} font-size={size} fill={ink(colour)}>
                {fabric}
              </text>
            )}
          </g>
        );
      })}
    </g>
  );
}

interface Box {
  left: number;
  top: number;
  right: number;
  bottom: number;
}

export const boxOf = (all: readonly Placed[]): Box => ({
  left: Math.min(...all.map(({ x }) => x)),
  top: Math.min(...all.map(({ y }) => y)),
  right: Math.max(...all.map(({ x, width }) => x + width)),
  bottom: Math.max(...all.map(({ y, height }) => y + height)),
});

export function StepDrawing({ plan, step }: { plan: Plan; step: StepShown }) {
  const fabrics = fabricsOf(plan);
  const all = placed(plan);
  if (step.parts) return <Joined all={all} step={step} fabrics={fabrics} />;
  const units = all.filter(({ unit }) => step.units.includes(unit.address));
  if (step.drawing) return <Pair step={step} fabrics={fabrics} />;
  if (step.chapter === "press" || step.chapter === "trim") return <Opened step={step} fabrics={fabrics} />;
  if (step.chapter === "cut") return <Piece step={step} first={step.size ?? null} fabric={fabrics.get(step.fabrics[0] ?? "")} />;
  return <Group all={step.chapter === "finish" ? all : step.chapter === "strips" || step.chapter === "hand" ? units.slice(0, 1) : units} fabrics={fabrics} />;
}

const Drawing = ({ box, children }: { box: readonly [number, number, number, number]; children: JSX.Element | (JSX.Element | null)[] }) => (
  <svg class="large" viewBox={box.join(" ")} preserveAspectRatio="xMidYMid meet" aria-hidden="true" data-testid="drawing">
    {children}
  </svg>
);

/** Two parts as they lie, a little apart, the seam between them, and which way it is pressed. */
function Joined({ all, step, fabrics }: { all: readonly Placed[]; step: StepShown; fabrics: Fabrics }) {
  const of = (part: string) => all.filter(({ unit: { address } }) => (part.endsWith(".") ? address.startsWith(part) : address === part));
  const [one, other] = [of(step.parts?.[0] ?? ""), of(step.parts?.[1] ?? "")];
  if (one.length === 0 || other.length === 0) return null;
  const [a, b] = [boxOf(one), boxOf(other)];
  const upright = b.left >= a.right;
  const whole = boxOf([...one, ...other]);
  const [width, height] = [whole.right - whole.left, whole.bottom - whole.top];
  const small = Math.min(width, height);
  const gap = Math.max(0.06 * Math.max(width, height), 0.1 * small);
  const [dx, dy] = upright ? [gap, 0] : [0, gap];
  const edge = gap * 0.5;
  const [x, y] = upright ? [a.right + gap / 2, (whole.top + whole.bottom) / 2] : [(whole.left + whole.right) / 2, a.bottom + gap / 2];
  const seam = upright ? `M${x} ${whole.top - edge}V${whole.bottom + edge}` : `M${whole.left - edge} ${y}H${whole.right + edge}`;
  const few = one.length + other.length <= 24;
  return (
    <Drawing box={[whole.left - 2 * edge, whole.top - 2 * edge, width + dx + 4 * edge, height + dy + 4 * edge]}>
      <g>
        {one.map((unit) => (
          <Unit key={unit.unit.address} one={unit} fabrics={fabrics} letters={few} />
        ))}
      </g>
      <g transform={`translate(${dx} ${dy})`}>
        {other.map((unit) => (
          <Unit key={unit.unit.address} one={unit} fabrics={fabrics} letters={few} />
        ))}
      </g>
      <path d={seam} class="seam" style={{ "stroke-width": gap * 0.14, "stroke-dasharray": `${gap * 0.5} ${gap * 0.35}` }} />
      <Arrow x={x} y={y} size={Math.max(gap * 1.5, small * 0.16)} turn={TURNS[step.press] ?? 0} open={!(step.press in TURNS)} />
    </Drawing>
  );
}

const TURNS: Record<string, number> = { right: 0, down: 90, left: 180, up: 270 };

/** Which way a seam is pressed, in degrees from the right; or both, where it is pressed open. */
function Arrow({ x, y, size, turn, open }: { x: number; y: number; size: number; turn: number; open: boolean }) {
  const body = open ? "M-4 -5L-9 0L-4 5M-9 0H9M4 -5L9 0L4 5" : "M-8 0H8M2 -6L8 0L2 6";
  return (
    <g class="arrow" transform={`translate(${x} ${y}) scale(${size / 24}) rotate(${turn})`}>
      <circle r={13} />
      <path d={body} />
    </g>
  );
}

function Group({ all, fabrics }: { all: readonly Placed[]; fabrics: Fabrics }) {
  if (all.length === 0) return null;
  const { left, top, right, bottom } = boxOf(all);
  const edge = Math.max(right - left, bottom - top) * 0.04;
  return (
    <Drawing box={[left - edge, top - edge, right - left + 2 * edge, bottom - top + 2 * edge]}>
      {all.map((one) => (
        <Unit key={one.unit.address} one={one} fabrics={fabrics} letters={all.length <= 24} />
      ))}
    </Drawing>
  );
}

/** The two squares of a pair, and what is sewn and cut. */
function Pair({ step, fabrics }: { step: StepShown; fabrics: Fabrics }) {
  return (
    <div class="pairing" aria-hidden="true" data-testid="drawing">
      <svg class="large" viewBox="0 0 48 22">
        {step.fabrics.map((letter, at) => {
          const colour = paint(fabrics.get(letter)?.colour ?? "");
          return (
            <g key={letter} transform={`translate(${1 + at * 26} 1)`}>
              <rect width={20} height={20} fill={colour} class="patch" />
              <text x={10} y={10} font-size={7} fill={ink(colour)}>
                {letter}
              </text>
            </g>
          );
        })}
      </svg>
      <span dangerouslySetInnerHTML={{ __html: step.drawing ?? "" }} />
    </div>
  );
}

/** A unit opened, and which side its seam is pressed to. */
function Opened({ step, fabrics }: { step: StepShown; fabrics: Fabrics }) {
  const [one, other] = step.fabrics.map((letter) => [letter, paint(fabrics.get(letter)?.colour ?? "")] as const);
  if (!one || !other) return null;
  const turn = step.press === one[0] ? 225 : 45;
  return (
    <Drawing box={[-3, -3, 26, 26]}>
      <polygon points="0,0 20,0 0,20" fill={one[1]} class="patch" />
      <polygon points="20,0 20,20 0,20" fill={other[1]} class="patch" />
      <text x={5} y={5} font-size={4} fill={ink(one[1])}>
        {one[0]}
      </text>
      <text x={15} y={15} font-size={4} fill={ink(other[1])}>
        {other[0]}
      </text>
      {step.chapter === "trim" ? (
        <path d="M1 -2V21M-2 19H22M-2 1H22M19 -2V22" class="trim" />
      ) : (
        <Arrow x={10} y={10} size={6.24} turn={turn} open={step.press === "open"} />
      )}
    </Drawing>
  );
}

/** A piece to cut, in its shape, and how many. */
function Piece({ step, first, fabric }: { step: StepShown; first: readonly [number, number] | null; fabric: Fabric | undefined }) {
  const [width, height] = first ?? [1, 1];
  const scale = 20 / Math.max(width, height);
  const [w, h] = [width * scale, height * scale];
  const colour = paint(fabric?.colour ?? "");
  return (
    <Drawing box={[-1, -1, w + 2, h + 2]}>
      <rect width={w} height={h} fill={colour} class="patch" />
      <text x={w / 2} y={h / 2} font-size={Math.min(5, h / 2.2)} fill={ink(colour)}>
        {words.machine.times(step.amount, fabric?.letter ?? "")}
      </text>
    </Drawing>
  );
}

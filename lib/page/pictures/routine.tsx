/**
 * Her routine: above, how likely each score of it is, with what it brings and what a fall leaves; below, on
 * the same scores, her chances in the end.
 */
import { ticks } from 'd3-array';
import { area, curveMonotoneX, line } from 'd3-shape';
import type { CurvePoint } from '../../chances/chances.js';
import type { Distribution } from '../../range/distribution.js';
import type { RoutineWords } from '../../report/routine-picture.js';
import type { Units } from '../../score.js';
import { apart, at, ChanceAxis, Frame } from './frame.js';
import type { Palette } from './palette.js';
import { linear, type Scale } from './scale.js';

const WIDTH = 640;
const HEIGHT = 400;
const LEFT = 50;
const RIGHT = 525;
/** The top, the foot of the distribution, the strip of what a score brings, the chances. */
const TOP = 66;
const FOOT = 186;
const STRIP = 206;
const CHANCES_TOP = 244;
const CHANCES_FOOT = 364;

export interface RoutinePictureProps {
  readonly words: RoutineWords;
  readonly distribution: Distribution;
  readonly curve: readonly CurvePoint[];
  /** A score in writing. */
  readonly show: (score: Units) => string;
  readonly unitsPerPoint: number;
  readonly palette: Palette;
  readonly isFile?: boolean;
}

type Goal = 'win' | 'medal' | 'advance';

export function RoutinePicture(props: RoutinePictureProps) {
  const { words, distribution, curve, palette, isFile = false, unitsPerPoint } = props;
  const shown = likelyPart(distribution);
  const [low, high] = [shown[0]?.score ?? 0, shown.at(-1)?.score ?? 0];
  const near = words.marks.map((m) => m.score).filter((s) => s > low && s < high + unitsPerPoint);
  const room = Math.max((high - low) * 0.03, 1);
  const ends = [low - room, Math.max(high, ...near) + room] as const;
  const x = linear(ends, [LEFT, RIGHT]);
  const marks = words.marks.filter((m) => near.includes(m.score));
  const lines = words.lines.filter((l) => !isSame(curve, l.target, words.lines));
  return (
    <Frame
      width={WIDTH}
      height={HEIGHT}
      title={words.title}
      description={words.description}
      palette={palette}
      isFile={isFile}
    >
      <text x={LEFT} y="16" font-weight="600">
        {words.title}
      </text>
      <text x={LEFT} y="33" fill={palette.quiet}>
        how likely each score is
        {words.condition === '' || marks.length === 0
          ? ''
          : `, and what it brings ${words.condition}`}
      </text>
      <Likely {...props} x={x} shown={shown} />
      <Strip marks={marks} x={x} palette={palette} />
      {ticks(...ends, 6).map((score) => (
        <text
          x={at(x(score))}
          y={at(CHANCES_FOOT + 18)}
          text-anchor="middle"
          fill={palette.quiet}
          key={score}
        >
          {props.show(Math.round(score))}
        </text>
      ))}
      <text x={LEFT} y={at(CHANCES_TOP - 12)} fill={palette.quiet}>
        {words.chances}
      </text>
      <Curves lines={lines} curve={curve} x={x} palette={palette} />
      {marks.map((mark) => (
        <line
          x1={at(x(mark.score))}
          x2={at(x(mark.score))}
          y1={TOP - 14}
          y2={CHANCES_FOOT}
          stroke={palette[mark.target]}
          stroke-dasharray="2 3"
          key={mark.target}
        />
      ))}
      <MarkWords marks={marks} x={x} palette={palette} />
    </Frame>
  );
}

interface LikelyScore {
  readonly score: Units;
  /** How often, in so much of a score: real scores lie 33 and 34 thousandths apart. */
  readonly density: number;
}

/** Less likely low scores than this are not drawn. */
const LEAST = 0.0005;

/** The scores that are drawn. */
function likelyPart({ scores, chances }: Distribution): LikelyScore[] {
  let from = 0;
  let below = chances[from] ?? 0;
  while (from < scores.length - 1 && below < LEAST) below += chances[++from] ?? 0;
  const between = (i: number) => (scores[i + 1] ?? 0) - (scores[i] ?? 0);
  return scores.slice(from).map((score, k) => {
    const i = from + k;
    const cells = [i - 1, i].filter((at) => at >= 0 && at < scores.length - 1).map(between);
    const width = cells.reduce((sum, cell) => sum + cell, 0) / Math.max(cells.length, 1) || 1;
    return { score, density: (chances[i] ?? 0) / width };
  });
}

function Likely({
  words,
  palette,
  x,
  shown,
}: RoutinePictureProps & { readonly x: Scale; readonly shown: readonly LikelyScore[] }) {
  const most = Math.max(...shown.map((s) => s.density), Number.MIN_VALUE);
  const y = linear([0, most], [FOOT, TOP]);
  const shape = area<LikelyScore>()
    .x((s) => x(s.score))
    .y0(FOOT)
    .y1((s) => y(s.density))
    .curve(curveMonotoneX)
    .digits(1);
  const edge = line<LikelyScore>()
    .x((s) => x(s.score))
    .y((s) => y(s.density))
    .curve(curveMonotoneX)
    .digits(1);
  const inside = words.falls.filter(({ score }) => score > (shown[0]?.score ?? 0));
  return (
    <g>
      <path d={shape(shown) ?? ''} fill={palette.wash} />
      <path d={edge(shown) ?? ''} fill="none" stroke={palette.ink} stroke-width="1.5" />
      <line x1={LEFT} x2={RIGHT} y1={FOOT} y2={FOOT} stroke={palette.quiet} />
      {inside.map(({ score, words: said }) => (
        <text
          x={at(x(score))}
          y={at(FOOT - 34)}
          text-anchor="middle"
          fill={palette.quiet}
          key={said}
        >
          {said}
        </text>
      ))}
    </g>
  );
}

interface Marked {
  readonly marks: RoutineWords['marks'];
  readonly x: Scale;
  readonly palette: Palette;
}

/** What a score brings, as a band under the scores that bring it. */
function Strip({ marks, x, palette }: Marked) {
  const rising = [...marks].sort((a, b) => a.score - b.score);
  return (
    <g>
      <rect
        x={LEFT}
        y={FOOT + 4}
        width={RIGHT - LEFT}
        height={STRIP - FOOT - 6}
        fill={palette.wash}
      />
      {rising.map(({ target, score }, k) => {
        const [from, to] = [
          x(score),
          rising[k + 1] === undefined ? RIGHT : x(rising[k + 1]?.score ?? 0),
        ];
        return (
          <g key={target}>
            <rect
              x={at(from)}
              y={FOOT + 4}
              width={at(Math.max(to - from, 0))}
              height={STRIP - FOOT - 6}
              fill={palette[target]}
            />
          </g>
        );
      })}
    </g>
  );
}

/** Where each begins, said above it, in as many lines as it takes to keep them apart. */
function MarkWords({ marks, x, palette }: Marked) {
  return (
    <g>
      {[...marks]
        .sort((a, b) => b.score - a.score)
        .map(({ target, score, words }, k) => {
          const isRight = x(score) > (LEFT + RIGHT) / 2;
          return (
            <text
              x={at(x(score) + (isRight ? -5 : 5))}
              y={TOP - 4 + 16 * k}
              text-anchor={isRight ? 'end' : 'start'}
              font-weight="600"
              fill={palette[target]}
              stroke={palette.paper}
              stroke-width="4"
              paint-order="stroke"
              key={target}
            >
              {words}
            </text>
          );
        })}
    </g>
  );
}

function Curves({
  lines,
  curve,
  x,
  palette,
}: {
  readonly lines: RoutineWords['lines'];
  readonly curve: readonly CurvePoint[];
  readonly x: Scale;
  readonly palette: Palette;
}) {
  const y = linear([0, 1], [CHANCES_FOOT, CHANCES_TOP]);
  const inside = curve.filter((p) => x(p.score) >= LEFT && x(p.score) <= RIGHT);
  const ends = lines.map(({ target }) => y(inside.at(-1)?.[target] ?? 0));
  const labels = apart(ends, 15, [CHANCES_TOP, CHANCES_FOOT]);
  return (
    <g>
      <ChanceAxis left={LEFT} right={RIGHT} y={y} palette={palette} />
      {lines.map(({ target, words }, k) => (
        <g key={target}>
          <path
            d={
              line<CurvePoint>()
                .x((p) => x(p.score))
                .y((p) => y(p[target] ?? 0))
                .curve(curveMonotoneX)
                .digits(1)([...inside]) ?? ''
            }
            fill="none"
            stroke={palette[target]}
            stroke-width="2.5"
            stroke-dasharray={target === 'win' ? undefined : '7 3'}
          />
          <text x={RIGHT + 8} y={at((labels[k] ?? 0) + 4)} fill={palette[target]} font-weight="600">
            {words}
          </text>
        </g>
      ))}
    </g>
  );
}

/** Whether a line would lie on one that is drawn before it. */
function isSame(curve: readonly CurvePoint[], target: Goal, lines: RoutineWords['lines']): boolean {
  const before = lines.slice(
    0,
    lines.findIndex((l) => l.target === target),
  );
  return before.some((l) => curve.every((p) => p[l.target] === p[target]));
}

/** The evening: the chances of those in contention after every score, with the turning points numbered. */
import { curveStepAfter, line } from 'd3-shape';
import { apart, at, ChanceAxis, Frame } from './frame.js';
import { DASHES, type Palette } from './palette.js';
import { linear } from './scale.js';

export interface StoryLine {
  readonly id: string;
  readonly name: string;
  /** Before the first score, then after each. */
  readonly chances: readonly number[];
}

export interface StoryPictureProps {
  readonly title: string;
  readonly description: string;
  readonly lines: readonly StoryLine[];
  /** Which of the scores, counted from 1, were turning points. */
  readonly turns: readonly number[];
  /** Before which score a rotation began, and what it is called. */
  readonly rotations: readonly { readonly before: number; readonly words: string }[];
  readonly palette: Palette;
  readonly isFile?: boolean;
}

const WIDTH = 900;
const HEIGHT = 400;
const LEFT = 50;
const RIGHT = 745;
const TOP = 62;
const FOOT = 352;

export function StoryPicture(props: StoryPictureProps) {
  const { title, description, lines, turns, rotations, palette, isFile = false } = props;
  const count = Math.max(...lines.map((l) => l.chances.length), 2);
  // After the last score there is as much room as after any other, so that what it did can be seen.
  const x = linear([0, count], [LEFT, RIGHT]);
  const y = linear([0, 1], [FOOT, TOP]);
  const labels = apart(
    lines.map((l) => y(l.chances.at(-1) ?? 0)),
    16,
    [TOP, FOOT],
  );
  return (
    <Frame
      width={WIDTH}
      height={HEIGHT}
      title={title}
      description={description}
      palette={palette}
      isFile={isFile}
    >
      <text x={LEFT} y="18" font-weight="600">
        {title}
      </text>
      <ChanceAxis left={LEFT} right={RIGHT} y={y} palette={palette} />
      {rotations.map(({ before, words }) => (
        <g key={words}>
          <line
            x1={at(x(before))}
            x2={at(x(before))}
            y1={TOP}
            y2={FOOT + 6}
            stroke={palette.line}
          />
          <text x={at(x(before) + 4)} y={FOOT + 20} fill={palette.quiet}>
            {words}
          </text>
        </g>
      ))}
      {turns.map((turn, k) => (
        <Turn key={turn} x={x(turn)} number={k + 1} palette={palette} />
      ))}
      {lines.map(({ id, name, chances }, k) => (
        <g key={id}>
          <path
            d={
              line<number>()
                .x((_, i) => x(i))
                .y((chance) => y(chance))
                .curve(curveStepAfter)
                .digits(1)([...chances, chances.at(-1) ?? 0]) ?? ''
            }
            fill="none"
            stroke={palette.lines[k] ?? palette.ink}
            stroke-width="2.5"
            stroke-dasharray={DASHES[k] || undefined}
          />
          <text
            x={RIGHT + 10}
            y={at((labels[k] ?? 0) + 4)}
            fill={palette.lines[k] ?? palette.ink}
            font-weight="600"
          >
            {name}
          </text>
        </g>
      ))}
    </Frame>
  );
}

/** A turning point: its number above a line through all chances. */
function Turn({
  x,
  number,
  palette,
}: {
  readonly x: number;
  readonly number: number;
  readonly palette: Palette;
}) {
  return (
    <g>
      <line
        x1={at(x)}
        x2={at(x)}
        y1={TOP - 8}
        y2={FOOT}
        stroke={palette.quiet}
        stroke-dasharray="2 3"
      />
      <circle cx={at(x)} cy={TOP - 18} r="10" fill={palette.paper} stroke={palette.quiet} />
      <text x={at(x)} y={TOP - 13.5} text-anchor="middle" font-weight="600">
        {number}
      </text>
    </g>
  );
}

/** What all pictures share: the frame with its name for who does not see it, text, an axis of chances. */
import type { ComponentChildren } from 'preact';
import { CAUTION } from '../../caution.js';
import type { Palette } from './palette.js';

interface FrameProps {
  readonly width: number;
  readonly height: number;
  readonly title: string;
  readonly description: string;
  /** In a file a picture has a ground of its own. */
  readonly isFile: boolean;
  readonly palette: Palette;
  readonly children: ComponentChildren;
}

/** Room for the caution under a picture. */
const CAUTION_HEIGHT = 22;

const FONT = 'system-ui, "Segoe UI", "Noto Sans", Arial, sans-serif';

export function Frame({
  width,
  height,
  title,
  description,
  isFile,
  palette,
  children,
}: FrameProps) {
  // A page says it once at its foot; a picture that goes out alone says it itself.
  const whole = isFile ? height + CAUTION_HEIGHT : height;
  return (
    <svg
      xmlns="http://www.w3.org/2000/svg"
      class="picture"
      viewBox={`0 0 ${width} ${whole}`}
      {...(isFile ? { width, height: whole } : {})}
      role="img"
      aria-label={`${title}. ${description}`}
      font-family={FONT}
      font-size="13"
      fill={palette.ink}
    >
      <title>{title}</title>
      <desc>{description}</desc>
      {isFile ? <rect width={width} height={whole} fill={palette.paper} /> : null}
      {children}
      {isFile ? (
        <text x="10" y={at(whole - 8)} font-size="11" fill={palette.quiet}>
          {CAUTION}
        </text>
      ) : null}
    </svg>
  );
}

/** From left to right, at half height where asked; a coordinate has no more than tenths. */
export function at(value: number): string {
  return value.toFixed(1).replace(/\.0$/, '');
}

interface ChanceAxisProps {
  readonly left: number;
  readonly right: number;
  /** Where a chance lies. */
  readonly y: (chance: number) => number;
  readonly palette: Palette;
}

/** Lines at 0, 25, 50, 75 and 100%, three of them named. */
export function ChanceAxis({ left, right, y, palette }: ChanceAxisProps) {
  return (
    <g>
      {[0, 0.25, 0.5, 0.75, 1].map((chance) => (
        <g key={chance}>
          <line
            x1={at(left)}
            x2={at(right)}
            y1={at(y(chance))}
            y2={at(y(chance))}
            stroke={palette.line}
          />
          {chance % 0.5 === 0 ? (
            <text x={at(left - 8)} y={at(y(chance) + 4)} text-anchor="end" fill={palette.quiet}>
              {chance * 100}%
            </text>
          ) : null}
        </g>
      ))}
    </g>
  );
}

/** Places for labels, each where it belongs or, where two would meet, pushed apart; between two bounds. */
export function apart(
  wanted: readonly number[],
  gap: number,
  [from, to]: readonly [number, number],
): number[] {
  const order = wanted.map((y, i) => ({ y, i })).sort((a, b) => a.y - b.y);
  const placed: number[] = [];
  for (const { y } of order) placed.push(Math.max(y, (placed.at(-1) ?? from - gap) + gap));
  let limit = to;
  for (let k = placed.length - 1; k >= 0; k--) {
    placed[k] = Math.min(placed[k] ?? 0, limit);
    limit = (placed[k] ?? 0) - gap;
  }
  const result = new Array<number>(wanted.length);
  for (const [k, { i }] of order.entries()) result[i] = placed[k] ?? 0;
  return result;
}

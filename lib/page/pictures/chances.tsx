/** Everyone with a chance: a bar for each goal, the likeliest first. */
import { at, Frame } from './frame.js';
import type { Palette } from './palette.js';

export interface ChanceRow {
  readonly id: string;
  readonly name: string;
  /** One a goal, in the order of the heads. */
  readonly chances: readonly { readonly chance: number; readonly text: string }[];
}

export interface ChancesPictureProps {
  readonly title: string;
  readonly description: string;
  /** "to win", "for a medal" */
  readonly goals: readonly {
    readonly target: 'win' | 'medal' | 'advance';
    readonly words: string;
  }[];
  readonly rows: readonly ChanceRow[];
  readonly palette: Palette;
  readonly isFile?: boolean;
}

const WIDTH = 640;
const NAMES = 190;
const HEAD = 62;
const ROW = 26;

export function ChancesPicture({
  title,
  description,
  goals,
  rows,
  palette,
  isFile = false,
}: ChancesPictureProps) {
  const column = (WIDTH - NAMES - 10) / goals.length;
  const bar = column - 90;
  return (
    <Frame
      width={WIDTH}
      height={HEAD + ROW * rows.length + 10}
      title={title}
      description={description}
      palette={palette}
      isFile={isFile}
    >
      <text x="10" y="20" font-weight="600">
        {title}
      </text>
      {goals.map(({ target, words }, k) => (
        <text x={at(NAMES + k * column)} y={HEAD - 14} fill={palette.quiet} key={target}>
          {words}
        </text>
      ))}
      {rows.map(({ id, name, chances }, i) => (
        <g transform={`translate(0 ${HEAD + ROW * i})`} key={id}>
          <text x={NAMES - 14} y="14" text-anchor="end">
            {name}
          </text>
          {goals.map(({ target }, k) => {
            const { chance = 0, text = '' } = chances[k] ?? {};
            const x = NAMES + k * column;
            return (
              <g key={target}>
                <rect x={at(x)} y="2" width={at(bar)} height="16" fill={palette.wash} />
                <rect x={at(x)} y="2" width={at(bar * chance)} height="16" fill={palette[target]} />
                <text x={at(x + bar + 8)} y="15" fill={palette.ink}>
                  {text}
                </text>
              </g>
            );
          })}
        </g>
      ))}
    </Frame>
  );
}

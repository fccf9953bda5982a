/** A report as HTML: titles, sentences, tables with their bars, notes. */
import type { ComponentChildren } from 'preact';
import { CAUTION } from '../caution.js';
import type { Block, Cell, Column, Report, Row, Table } from '../report/report.js';
import { notesUnder } from '../report/table.js';
import { at } from './pictures/frame.js';

/** Columns that may be left out are, from this number on: nobody looks at the chance of a 17th place. */
const MOST_SPARE = 4;

/** From 2 to 4: how deep its titles are in the page. */
type Level = 2 | 3 | 4;

/** `isUntitled`: its first title stands over it already. */
export function ReportView({
  report,
  level = 3,
  isUntitled = false,
}: {
  readonly report: Report;
  readonly level?: Level;
  readonly isUntitled?: boolean;
}) {
  return (
    <div class="report">
      {report.map((section, i) => (
        <div class="part" key={i}>
          {section.map((block, k) =>
            isUntitled && i === 0 && block.kind === 'title' ? null : (
              <BlockView block={block} level={level} key={k} />
            ),
          )}
        </div>
      ))}
    </div>
  );
}

function BlockView({ block, level }: { block: Block; level: Level }) {
  switch (block.kind) {
    case 'title':
      return (
        <Heading level={level}>
          {block.text}
          {block.aside === null ? null : <small> {block.aside}</small>}
        </Heading>
      );
    case 'sentence':
      // The page says it once, at its head.
      if (block.text === CAUTION) return null;
      return <p class={classes(block.tone, block.isDetail ? 'detail' : null)}>{block.text}</p>;
    case 'problem':
      return (
        <p class={block.severity}>
          {block.where}: {block.message}; {block.mend}
        </p>
      );
    case 'verbatim':
      return <pre>{block.text}</pre>;
    case 'table':
      return <TableView table={block} />;
  }
}

function Heading({ level, children }: { level: Level; children: ComponentChildren }) {
  const Tag = `h${level}` as const;
  return <Tag>{children}</Tag>;
}

function TableView({ table }: { table: Table }) {
  const isIn = ({ spare, goesUnder }: Column) => !goesUnder && (spare ?? 0) <= MOST_SPARE;
  const shown = table.columns.flatMap((column, at) => (isIn(column) ? [{ column, at }] : []));
  const under = table.columns.flatMap((column, at) => (column.goesUnder ? [at] : []));
  const leftOut = table.columns.filter((c) => (c.spare ?? 0) > MOST_SPARE).map((c) => c.head);
  const hasHeads = shown.some(({ column }) => column.head !== '');
  const name = shown.findIndex(({ column }) => column.isNames || column.isFlexible);
  return (
    <>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what can be scrolled must be reached by the keyboard */}
      <div class="scroll" tabIndex={0}>
        <table class={shown.length > MANY ? 'wide' : undefined}>
          {hasHeads ? (
            <thead>
              <tr>
                {shown.map(({ column, at }) => (
                  <HeadCell column={column} key={at} />
                ))}
              </tr>
            </thead>
          ) : null}
          <tbody>
            {table.rows.map((row, i) => (
              <RowView row={row} shown={shown} under={under} name={name} key={i} />
            ))}
          </tbody>
        </table>
      </div>
      {notesUnder(table, [...leftOut].reverse()).map((note) => (
        <p class="quiet" key={note}>
          {note}
        </p>
      ))}
    </>
  );
}

/** With more columns than this those that can be spared go where there is little room. */
const MANY = 7;

function HeadCell({ column }: { column: Column }) {
  // A head without words is no head.
  if (column.head === '') return <td class={classOf(column, null)} />;
  return (
    <th scope="col" class={classOf(column, null)}>
      {column.head}
    </th>
  );
}

interface Shown {
  readonly column: Column;
  readonly at: number;
}

interface RowProps {
  readonly row: Row;
  readonly shown: readonly Shown[];
  /** Columns whose cells stand under their row. */
  readonly under: readonly number[];
  /** The column that says what a row is about. */
  readonly name: number;
}

function RowView({ row, shown, under, name }: RowProps) {
  const moved = under.map((at) => row.cells[at]?.text ?? '').filter((text) => text !== '');
  return (
    <>
      <tr>
        {shown.map(({ column, at }, k) => {
          const cell = row.cells[at] ?? { text: '' };
          const Tag = k === name ? 'th' : 'td';
          return (
            <Tag {...(k === name ? { scope: 'row' } : {})} class={classOf(column, cell)} key={at}>
              <CellView cell={cell} isShort={column.isFlexible} />
            </Tag>
          );
        })}
      </tr>
      {[...moved, ...row.under].map((text) => (
        <tr class="under" key={text}>
          <td colSpan={shown.length}>{text}</td>
        </tr>
      ))}
    </>
  );
}

function CellView({ cell, isShort }: { cell: Cell; isShort: boolean }) {
  const said = isShort ? (cell.shorter?.[0] ?? cell.text) : cell.text;
  const text = cell.items === undefined ? said : cell.items.join(', ');
  if (cell.spark !== undefined) return <Spark chances={cell.spark} />;
  if (cell.bar === undefined) return <bdi>{text}</bdi>;
  return (
    <span class="with-bar">
      <Bar chance={cell.bar} />
      <span class="value">{text}</span>
    </span>
  );
}

/** Chances in order of time, from 0 at the foot to 1 at the top. */
function Spark({ chances }: { chances: readonly number[] }) {
  const last = Math.max(chances.length - 1, 1);
  const points = chances.map((c, i) => `${at((i / last) * 120)},${at(19 - c * 18)}`);
  return (
    <svg class="spark" viewBox="0 0 120 20" aria-hidden="true">
      <polyline points={points.join(' ')} />
    </svg>
  );
}

/** A chance as a length. */
export function Bar({ chance }: { chance: number }) {
  return (
    <svg class="bar" viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true">
      <rect class="all" width="100" height="10" />
      <rect class="part-of" width={(chance * 100).toFixed(2)} height="10" />
    </svg>
  );
}

function classOf({ align, spare, isFlexible }: Column, cell: Cell | null): string | undefined {
  return classes(
    align === 'right' ? 'number' : null,
    isFlexible ? 'flexible' : null,
    spare === null || spare === 0 ? null : spare === 1 ? 'spare' : 'spare-first',
    cell?.tone ?? null,
  );
}

function classes(...names: readonly (string | null)[]): string | undefined {
  const given = names.filter((n) => n !== null);
  return given.length === 0 ? undefined : given.join(' ');
}

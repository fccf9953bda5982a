/** `graphics`: a line ready for every score, and none longer than its template allows. */
import fc from 'fast-check';
import { kindCalled } from '../../../lib/graphics/templates.js';
import {
  type GraphicsLine,
  graphics,
  LINE_KINDS,
  type Meet,
  nextUp,
  readTemplates,
  standings,
  type Templates,
} from '../../../lib/index.js';
import { derived } from '../../../lib/meet/sound.js';
import { limitOn, readSketch, type Sketch, sketchArb } from '../../support/random-meet.js';
import { type Case, caseArb, contestId, must, randomFrom, readCase } from '../asking.js';

function templatesFrom(text: string): Templates {
  const { templates, problems } = readTemplates({ file: 'lines.yaml', text });
  if (templates === null) throw new Error(JSON.stringify(problems));
  return templates;
}

const holds = (line: GraphicsLine, score: number) =>
  line.from !== null && line.to !== null && score >= line.from && score <= line.to;

/** The D and E scores that may come with a score are the reason why a tie cannot be foretold. */
function withParts(sketch: Sketch, score: number, random: (below: number) => number) {
  if (sketch.scoring === 'ten' || random(3) === 0) return { d: null, e: null, nd: null };
  const ten = 10 * 10 ** sketch.decimals;
  const e = Math.min(random(2) === 0 ? random(4) : random(ten), score);
  const d = Math.max(score - e, score - ten, 0);
  return random(2) === 0 ? { d, e: null, nd: null } : { d, e: score - d, nd: 0 };
}

export const everyScoreHasOneLine = fc.property(caseArb(1), ({ sketch, asks: [ask] }: Case) => {
  const { meet } = readCase(sketch);
  const random = randomFrom(ask?.seed ?? 0);
  for (const sketched of sketch.contests) {
    const contest = contestId(sketched);
    const { lines: all } = graphics(meet, { contest, kinds: ['outcome'] });
    for (const { gymnast, apparatus } of nextUp(meet)) {
      const lines = all.filter((c) => c.about[0]?.id === gymnast && c.apparatus === apparatus);
      if (lines.length === 0) {
        must(!isAwaited(meet, contest, gymnast, apparatus), sketch, () => `no line: ${gymnast}`);
        continue;
      }
      const limit = limitOn(sketch, apparatus);
      const edges = lines.flatMap((l) => [l.from ?? 0, l.to ?? 0]);
      for (const score of [limit, ...edges.slice(0, 22), random(limit + 1)]) {
        const fitting = lines.filter((l) => holds(l, score));
        must(fitting.length === 1, sketch, () => `${fitting.length} lines for ${score}`);
        const parts = withParts(sketch, score, random);
        const row = { gymnast, apparatus, score, ...parts };
        const after = readSketch({ ...sketch, log: [...sketch.log, row] });
        const id = fitting[0]?.about.at(-1)?.id;
        const is = standings(after, { contest }).rows.find((r) => r.id === id);
        must(
          is !== undefined && fitting.every((line) => says(line, is.place, is.tied)),
          { ...sketch, log: [...sketch.log, row] },
          () => `${JSON.stringify(fitting)} for ${score}, ${id} is ${is?.place} ${is?.tied}`,
        );
      }
    }
  }
});

/** Whether the contest has a line to give for her: she counts in it, and is not out of it. */
function isAwaited(meet: Meet, contest: string, gymnast: string, apparatus: string): boolean {
  const { rows } = standings(meet, { contest });
  const row = rows.find((r) => r.id === gymnast);
  const results = row === undefined ? [] : Object.values(row.scores);
  const isOut = results.includes('DNS') || results.includes('DNF');
  return row !== undefined && !isOut && row.toCome.includes(apparatus);
}

/** Whether the values of a line hold for a place; where the tie is open, for any it may have. */
function says(line: GraphicsLine, place: number | null, tied: boolean): boolean {
  if (place === null || line.place === null || line.worst === null) return false;
  if (place < line.place || place > line.worst) return false;
  return line.tied === null || tied === line.tied;
}

/** Names as people have them, and as nobody has them. */
const nameArb = fc.oneof(
  fc.constantFrom(
    'Wren Adeyemi',
    'Ana-María de la Peñaflor y Quinterosa',
    '山田 花子',
    'Ö',
    '👩‍🚀 Ⅷ e\u0301',
  ),
  fc
    .string({ unit: 'grapheme', minLength: 1, maxLength: 40 })
    .filter((s) => s.trim() !== '' && !/\p{Cc}/u.test(s))
    .map((s) => s.trim()),
);

const templateArb = fc.constantFrom(...LINE_KINDS).chain((kind) =>
  fc.record({
    kind: fc.constant(kind),
    words: fc.array(fc.constantFrom(...kindCalled(kind).fields, '·', 'on', 'ü'), {
      minLength: 1,
      maxLength: 6,
    }),
    length: fc.oneof(fc.integer({ min: 1, max: 60 }), fc.integer({ min: 1, max: 500 })),
  }),
);

const segmenter = new Intl.Segmenter('en', { granularity: 'grapheme' });

export const noLineIsTooLong = fc.property(
  sketchArb({ gymnasts: { min: 2, max: 6 } }),
  fc.array(nameArb, { minLength: 12, maxLength: 12 }),
  fc.array(templateArb, { minLength: 1, maxLength: 8 }),
  (sketch, names, templates) => {
    const read = readSketch(sketch);
    const gymnasts = read.gymnasts.map((g, i) => ({ ...g, name: names[i] ?? g.name }));
    const meet = derived(read, { gymnasts });
    const kinds = [...new Set(templates.map((t) => t.kind))];
    const file = kinds.map((kind) => {
      const own = templates.filter((t) => t.kind === kind);
      const text = (t: (typeof own)[number]) =>
        t.words.map((w) => (/^[A-Za-z]{3,}$/.test(w) || w === 'e' ? `{${w}}` : w)).join(' ');
      return `${kind}:\n${own.map((t) => `  - { text: ${JSON.stringify(text(t))}, length: ${t.length} }\n`).join('')}`;
    });
    const own = templatesFrom(file.join(''));
    for (const line of graphics(meet, { kinds, templates: own }).lines) {
      const longest = Math.max(
        ...templates.filter((t) => t.kind === line.kind).map((t) => t.length),
      );
      const seen = line.text === null ? 0 : [...segmenter.segment(line.text)].length;
      const fits = seen === line.length && line.length <= line.limit && line.limit <= longest;
      must(fits, sketch, () => `${JSON.stringify(line)} of\n${file.join('')}`);
      const isWhole =
        line.text === null ||
        own.of[line.kind].some((t) => formsOf(line.text ?? '').some((f) => begins(f, t.parts)));
      must(isWhole, sketch, () => `cut: ${JSON.stringify(line)} of\n${file.join('')}`);
    }
  },
);

/** As it stands, and without the remark that may stand at its end, before its full stop. */
function formsOf(text: string): string[] {
  const remark = text.lastIndexOf(' (');
  const [stop = ''] = /[.!?]?$/.exec(text) ?? [];
  return remark < 0 ? [text] : [text, text.slice(0, remark), `${text.slice(0, remark)}${stop}`];
}

/** Whether a line has all the words of a template, in their order, from its first to its last. */
function begins(text: string, parts: readonly string[]): boolean {
  const words = parts.filter((_, i) => i % 2 === 0);
  if (!text.startsWith(words[0] ?? '') || !text.endsWith(words.at(-1) ?? '')) return false;
  let at = 0;
  return words.every((word) => {
    const found = text.indexOf(word, at);
    at = found + word.length;
    return found >= 0;
  });
}

/** A score beside a gymnast's past ones: since when she has not been as good. */
import { expect, it } from 'vitest';
import { pastBest, readHistory, record, reports, score, scoreInPlace } from '../../lib/index.js';
import { logFrom, meetFrom } from '../support/meet.js';

const MEET = `discipline: wag
scoring: open
usual: { BB: { low: 12.0, likely: 13.0, high: 14.5, falls: 0.1 } }
contests: [{ kind: apparatus, on: BB }]
gymnasts: [{ id: quill, name: Ada Quill }, { id: lund, name: Kari Lund }]
`;
const meet = meetFrom(MEET);

const history = (...rows: string[]) =>
  readHistory({
    file: 'results.csv',
    text: ['gymnast,discipline,date,competition,round,apparatus,score', ...rows].join('\n'),
  });
const PAST = history(
  'Ada Quill,wag,2025-11-02,Harbour Cup,final,BB,14.100',
  'ada quill,wag,2026-03-01,Spring Cup,final,BB,13.500',
  'quill,wag,2026-04-12,Quay Cup,final,BB,13.000',
  'Ada Quill,wag,2026-05-01,Mill Cup,final,FX,14.400',
  'Kari Lund,wag,2026-05-01,Mill Cup,final,BB,14.400',
);
const of = (points: string, apparatus = 'BB') =>
  pastBest(meet, PAST, { gymnast: 'quill', apparatus, score: score(points) });

it('counts her own on that apparatus, by id or name, back to the last that was as good', () => {
  expect(of('13.200')).toEqual({ since: '2026-03-01', beats: 1, of: 3 });
  expect(of('13.500')).toEqual({ since: '2026-03-01', beats: 1, of: 3 });
  expect(of('13.501')).toEqual({ since: '2025-11-02', beats: 2, of: 3 });
  expect(of('14.200')).toEqual({ since: null, beats: 3, of: 3 });
  expect(of('12.900')).toEqual({ since: '2026-04-12', beats: 0, of: 3 });
  expect(of('13.000', 'VT')).toBeNull();
});

it('reads a history of other decimals for what it is', () => {
  const fine = history('quill,wag,2026-04-12,Quay Cup,final,BB,13.0005');
  const asked = { gymnast: 'quill', apparatus: 'BB', score: score('13.000') };
  expect(pastBest(meet, fine, asked)?.since).toBe('2026-04-12');
  expect(pastBest(meet, fine, { ...asked, score: score('13.001') })?.since).toBeNull();
});

it('is said behind how good it was tonight', () => {
  const said = (points: string) => {
    const before = meetFrom(MEET, logFrom('lund,BB,12.000'));
    const told = record(before, { gymnast: 'quill', apparatus: 'BB', score: points });
    const inPlace = scoreInPlace(before, told.meet, told.recorded);
    const past = inPlace && pastBest(told.meet, PAST, inPlace);
    const lines = reports.said(told.meet, told.recorded, inPlace, past).flat();
    return lines.map((b) => (b.kind === 'sentence' ? b.text : '')).join(' ');
  };
  expect(said('13.6')).toContain('Best on beam tonight so far; her best since 2 November 2025.');
  expect(said('14.2')).toContain('Best on beam tonight so far; her best of 4 known.');
  expect(said('12.9')).toContain('Best on beam tonight so far.');
});

/** The options of `graphics`, and which of them do not go together. */
import type { LineFormat, When } from '../../lib/index.js';
import { badUsage, type MeetOptions, refuseUnused } from '../context.js';

export interface GraphicsOptions extends MeetOptions {
  readonly kind?: string[];
  readonly when?: When;
  readonly from?: string;
  readonly withChance?: boolean;
  readonly templates?: string;
  readonly shipped?: boolean;
  readonly format?: LineFormat;
  readonly out?: string;
  readonly since?: string;
  readonly follow?: boolean;
}

/** What the rest of the line makes meaningless. */
export function refuseAside(who: readonly string[], options: GraphicsOptions): void {
  const { shipped, format, json, kind } = options;
  const given = (names: readonly (keyof GraphicsOptions)[]) =>
    names.find((name) => options[name] !== undefined);
  const flag = (name: string) => (name === 'withChance' ? '--with-chance' : `--${name}`);
  if (shipped) {
    const beside = given([...OF_OUTCOMES, 'kind', 'templates', 'format', 'json', 'out', 'since']);
    const also = beside ?? given(['follow', 'contest']);
    if (also !== undefined || who.length > 0) {
      const what = also === undefined ? `"${who[0]}"` : flag(also);
      refuseUnused(what, '--shipped prints the shipped templates', 'leave one out');
    }
  }
  if (json && format !== undefined && format !== 'json') {
    throw badUsage(`--json and --format ${format} are two formats`, 'leave one out');
  }
  const ofOutcomes = given(OF_OUTCOMES);
  if (kind !== undefined && !kind.includes('outcome') && ofOutcomes !== undefined) {
    const why = 'it is about lines of the kind outcome';
    refuseUnused(flag(ofOutcomes), why, 'add --kind outcome, or leave it out');
  }
}

/** What is asked of lines of the kind outcome alone. */
const OF_OUTCOMES = ['when', 'from', 'withChance'] as const;

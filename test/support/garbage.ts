/** Lines of garbage for a feed, and what it made of them. */
import { spawn } from 'node:child_process';
import { createInterface } from 'node:readline';
import { Readable } from 'node:stream';
import { COMMAND } from './cli.js';

const BAD = [
  (i: number) => `nobody${i},VT,13.${i}`,
  (i: number) => `{"gymnast":"ann","score":{"a":${i}}}`,
  (i: number) => `{{{${i}`,
  (i: number) => `ann,VT,${i}.99999`,
  (i: number) => `"${i},,,`,
  (i: number) => `\u0001\uFFFD${'~'.repeat(i % 300)}`,
  () => ';;;',
];

/** Says how much memory it used at most, in MB, on standard error when it ends. */
const METER = `data:text/javascript,process.on('exit',()=>process.stderr.write(String(process.resourceUsage().maxRSS/1024)))`;

/** Sends that many bad lines with three good ones between them; `rise` is MB above hardly any. */
export async function feedGarbage(
  meet: string,
  lines: number,
): Promise<{ bad: number; good: number; rise: number }> {
  const little = await sent(meet, ['nobody,VT,13\n']);
  const answered = await sent(meet, garbage(lines));
  return { bad: answered.bad, good: answered.good, rise: answered.most - little.most };
}

function* garbage(lines: number): Generator<string> {
  const good = [
    'ann,VT,13.5\n',
    '{"gymnast":"bea","apparatus":"VT","score":13.4}\n',
    'cleo;VT;13,3\n',
  ];
  for (let from = 0; from < lines; from += 1000) {
    const many = Array.from({ length: Math.min(1000, lines - from) }, (_, i) => from + i);
    yield many.map((i) => `${BAD[i % BAD.length]?.(i)}\n`).join('');
    if (from % 12_000 === 0) yield good.shift() ?? '';
  }
}

async function sent(meet: string, chunks: Iterable<string>) {
  const child = spawn(process.execPath, ['--import', METER, COMMAND, 'live', '--meet', meet]);
  let most = '';
  child.stderr.on('data', (data) => {
    most += String(data);
  });
  const closed = new Promise((resolve) => child.on('close', resolve));
  Readable.from(chunks).pipe(child.stdin);
  let [bad, good] = [0, 0];
  for await (const line of createInterface({ input: child.stdout })) {
    const { error } = JSON.parse(line) as { error?: unknown };
    if (error === undefined) good++;
    else bad++;
  }
  await closed;
  // What the feed itself says of its refused lines stands before.
  return { bad, good, most: Number(most.split('\n').at(-1)) };
}

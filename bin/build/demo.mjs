/**
 * Shows the main job on the bundled demo meet, each answer under the command that gave it:
 * node bin/build/demo.mjs
 */
import { spawnSync } from 'node:child_process';

const MEET = '--meet docs/examples/harbour.yaml';
const COMMANDS = [`needs tanakura ${MEET}`, `graphics tanakura --kind need ${MEET}`];

for (const command of COMMANDS) {
  console.log(`$ lastrotation ${command}`);
  const args = ['dist/cli/lastrotation.cjs', ...command.split(' ')];
  const { status } = spawnSync(process.execPath, args, { stdio: 'inherit' });
  if (status !== 0) process.exit(status ?? 1);
  console.log();
}
console.log(`More of this evening, once npm link has put the command on your path (add ${MEET}):
  lastrotation needs                 what each of them needs from her next routine
  lastrotation chances               how likely every place is
  lastrotation claim tanakura --to win --phrase "almost impossible to make up"
  lastrotation page                  something to look at, in a browser
A meet of your own in five minutes: README.md`);

/** The command and all its parts; made anew for every question of a live evening. */
import { Command } from 'commander';
import { CAUTION } from '../lib/index.js';
import { addBacktest } from './commands/backtest.js';
import { addChances } from './commands/chances.js';
import { addCheck } from './commands/check.js';
import { addClaim } from './commands/claim.js';
import { addCompletion } from './commands/completion.js';
import { addFormerName, addGraphics } from './commands/graphics.js';
import { addLive } from './commands/live.js';
import { addNeeds } from './commands/needs.js';
import { addNew } from './commands/new.js';
import { addOutcomes } from './commands/outcomes.js';
import { addPage } from './commands/page.js';
import { addRanges } from './commands/ranges.js';
import { addRecord } from './commands/record.js';
import { addServe } from './commands/serve.js';
import { addStandings } from './commands/standings.js';
import { addStory } from './commands/story.js';
import { addSuppose } from './commands/suppose.js';
import { suggestCommands } from './unknown-command.js';
import { version } from './version.js';

export function makeProgram(): Command {
  const program = new Command('lastrotation')
    .description(
      `What does she need? Scores, places, needs and chances, live at a gymnastics meet. ${CAUTION}`,
    )
    .version(version, '--version')
    .option('--color', 'colours, wherever the answer goes')
    .option('--no-color', 'no colours, even on a terminal')
    .configureHelp({ showGlobalOptions: true })
    .showHelpAfterError(false)
    .showSuggestionAfterError(true)
    .configureOutput({ outputError: () => undefined })
    .exitOverride()
    .addHelpText(
      'after',
      `
An evening:
  lastrotation new start-list.csv               begin a meet file, then edit it
  lastrotation check                            is it in order?
  lastrotation record adeyemi vault 13.900      a score is in
  lastrotation standings                        the board
  lastrotation needs adeyemi                    what does she need?
  lastrotation chances                          how likely is it?
  lastrotation live                             one prompt for all of it
  lastrotation page                             something to look at
The meet is meet.yaml here, or LASTROTATION_MEET, or --meet FILE.`,
    );

  program.commandsGroup('Before the meet:');
  addNew(program);
  addCheck(program);
  addRanges(program);
  program.commandsGroup('During the meet:');
  addRecord(program);
  addStandings(program);
  addNeeds(program);
  addOutcomes(program);
  addChances(program);
  addSuppose(program);
  addGraphics(program);
  addFormerName(program);
  addPage(program);
  addLive(program, makeProgram);
  addServe(program, makeProgram);
  program.commandsGroup('After the meet:');
  addStory(program);
  addClaim(program);
  addBacktest(program);
  program
    .commandsGroup('Help:')
    .helpCommand('help [command]', 'how to use a command, with examples');
  addCompletion(program, makeProgram);
  suggestCommands(program);
  return program;
}

/** The command line: every command in a file of its own, loaded when it is asked for. */
import { Command, CommanderError } from 'commander';
import { DomainError } from '@tepal/science';
import { DeskFault, exitStatus, reasonOf } from '../files/faults.ts';
import { addBlend } from './blend.ts';
import { addCopy } from './copy.ts';
import { addDeliver } from './deliver.ts';
import { addEnter } from './enter.ts';
import { addExpose } from './expose.ts';
import { addFinish } from './finish.ts';
import { addKeep } from './keep.ts';
import { addLearn } from './learn.ts';
import { addMeasure } from './measure.ts';
import { addOpen } from './open.ts';
import { addRecord } from './record.ts';
import { addSway } from './sway.ts';
import { VERSION } from './version.ts';
import { addWhen } from './when.ts';

export function buildProgram(): Command {
  const program = new Command('tepal')
    .description(
      'From the look at the forecast to the filed record, for the photographer who works close up outdoors.',
    )
    .version(VERSION)
    .exitOverride()
    .configureOutput({ outputError: () => undefined })
    .showSuggestionAfterError(false);
  for (const add of [
    addOpen,
    addWhen,
    addExpose,
    addCopy,
    addMeasure,
    addSway,
    addBlend,
    addFinish,
    addDeliver,
    addEnter,
    addRecord,
    addLearn,
    addKeep,
  ])
    add(program);
  for (const command of program.commands) {
    command.exitOverride().configureOutput({ outputError: () => undefined });
  }
  return program;
}

/** Runs one command line; every fault becomes one sentence on standard error and an exit status. */
export async function run(args: readonly string[]): Promise<void> {
  try {
    const program = buildProgram();
    if (args.length === 0) {
      program.outputHelp();
      process.exitCode = exitStatus.wrongUse;
      return;
    }
    await program.parseAsync(args, { from: 'user' });
  } catch (error) {
    const { message, status } = faultOf(error);
    if (message !== '') process.stderr.write(`tepal: ${message}\n`);
    process.exitCode = status;
  }
}

function faultOf(error: unknown): { message: string; status: number } {
  if (error instanceof DeskFault) return { message: error.message, status: error.status };
  if (error instanceof DomainError) return { message: `${error.message}.`, status: exitStatus.wrongUse };
  if (error instanceof CommanderError) {
    // Help and version end this way too.
    if (error.exitCode === 0) return { message: '', status: exitStatus.done };
    const said = error.message.replace(/^error: /, '');
    return { message: said.endsWith('.') ? said : `${said}.`, status: exitStatus.wrongUse };
  }
  return { message: reasonOf(error), status: exitStatus.nothingRead };
}

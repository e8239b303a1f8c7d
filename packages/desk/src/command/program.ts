/** The commands of `tepal`, and how each of their ends becomes a sentence and an exit status. */
import { DomainError } from '@tepal/science';
import { Command, CommanderError } from 'commander';
import { DeskFault, exitStatus, reasonOf } from '../files/faults.ts';
import type { Outlet } from './outlet.ts';
import { registerExpose } from './expose.ts';
import { registerRecord } from './record.ts';
import { registerWhen } from './when.ts';

/** Ends of a command: `done` unless it says otherwise. */
export type Ended = (typeof exitStatus)[keyof typeof exitStatus];

/** Registers one command; its action answers with the status it ends with. */
export type Register = (program: Command, outlet: Outlet, end: (status: Ended) => void) => void;

const commands: readonly Register[] = [registerWhen, registerExpose, registerRecord];

/**
 * Runs one command line.
 *
 * @param args what follows `tepal`
 * @returns the exit status: 0 done, 2 wrong use, 3 nothing could be read, 4 done but some inputs failed
 */
export async function runProgram(args: readonly string[], outlet: Outlet): Promise<Ended> {
  let status: Ended = exitStatus.done;
  const program = new Command('tepal')
    .description('From the look at the forecast to the filed record, for close-up photographs outdoors.')
    .exitOverride()
    .configureOutput({
      writeOut: outlet.out,
      writeErr: outlet.err,
      outputError: (text, write) => write(`tepal: ${text.replace(/^error: /, '')}`),
    })
    .showSuggestionAfterError(true);
  for (const register of commands) {
    register(program, outlet, (ended) => {
      status = ended;
    });
  }
  // A subcommand does not inherit what is set after it was made.
  for (const command of program.commands) command.exitOverride().copyInheritedSettings(program);

  if (args.length === 0) {
    program.outputHelp({ error: true });
    return exitStatus.wrongUse;
  }
  try {
    await program.parseAsync(args, { from: 'user' });
    return status;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? exitStatus.done : exitStatus.wrongUse;
    if (error instanceof DomainError) {
      outlet.err(`tepal: ${error.message}\n`);
      return exitStatus.wrongUse;
    }
    if (error instanceof DeskFault) {
      outlet.err(`tepal: ${error.message}\n`);
      return error.status;
    }
    outlet.err(`tepal: something went wrong that was not foreseen: ${reasonOf(error)}\n`);
    return exitStatus.nothingRead;
  }
}

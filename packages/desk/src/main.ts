/** The entry of the command line: `tepal <command> …`. */
import { runProgram } from './command/program.ts';

process.exitCode = await runProgram(process.argv.slice(2), {
  out: (text) => void process.stdout.write(text),
  err: (text) => void process.stderr.write(text),
  isTerminal: process.stderr.isTTY,
  nowMs: () => Date.now(),
});

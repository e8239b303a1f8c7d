/** The desk as a program: reads the command line and ends with its status. */
import { run } from './command/program.ts';

await run(process.argv.slice(2));

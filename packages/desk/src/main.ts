/** The desk as a program: reads the command line and ends with its status. */
import { run } from './command/program.ts';

// A reader that stops early (`tepal when … | head`) has what it wanted.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
  process.exit();
});

await run(process.argv.slice(2));

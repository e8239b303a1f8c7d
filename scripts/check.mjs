// npm run check = format, types, lint, arrows, build, tests: the same that CI runs.
import { spawnSync } from 'node:child_process';

const steps = [
  ['format', 'npx', ['prettier', '--check', '.']],
  ['types, pure rooms', 'npx', ['tsc', '-p', 'tsconfig.pure.json']],
  ['types, web', 'npx', ['tsc', '-p', 'tsconfig.web.json']],
  ['types, desk and tests', 'npx', ['tsc', '-p', 'tsconfig.json']],
  ['lint', 'npx', ['eslint', '--max-warnings', '0', '.']],
  ['arrows', 'node', ['scripts/arrows.mjs']],
  ['build', 'node', ['scripts/build.mjs']],
  ['tests', 'node', ['scripts/test.mjs', '--no-install']],
];

for (const [name, command, args] of steps) {
  process.stdout.write(`\n${name}\n`);
  const { status } = spawnSync(command, args, { stdio: 'inherit' });
  if (status !== 0) {
    process.stdout.write(`check stops at: ${name}\n`);
    process.exit(status ?? 1);
  }
}

// Holds the imports against .dependency-cruiser.cjs, and fails when it has seen no file.
import { cruise } from 'dependency-cruiser';
import extractTSConfig from 'dependency-cruiser/config-utl/extract-ts-config';
import { createRequire } from 'node:module';

const require = createRequire(import.meta.url);
const { forbidden, options } = require('../.dependency-cruiser.cjs');

const { output } = await cruise(
  ['packages'],
  { ...options, ruleSet: { forbidden }, validate: true },
  {},
  { tsConfig: extractTSConfig('tsconfig.json') },
);
const { summary } = output;
const ours = output.modules.filter((module) => /^packages\/[^/]+\/src\//.test(module.source)).length;

for (const { rule, from, to } of summary.violations) {
  process.stdout.write(`${rule.severity} ${rule.name}: ${from} -> ${to}\n`);
}
process.stdout.write(`arrows: ${ours} files, ${summary.error} wrong\n`);
if (ours === 0) process.stdout.write('arrows: no file was matched; the check itself is broken\n');
process.exit(summary.error > 0 || ours === 0 ? 1 : 0);

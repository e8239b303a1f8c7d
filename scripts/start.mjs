// npm start on a fresh clone: installs what the lock file asks for, builds what changed, opens the pages.
import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';

const wanted = [20, 19];
const [major, minor] = process.versions.node.split('.').map(Number);
if (major < wanted[0] || (major === wanted[0] && minor < wanted[1])) {
  process.stdout.write(
    `Tepal needs Node ${wanted.join('.')} or newer; this is Node ${process.versions.node}. ` +
      'Install the current long-term release from nodejs.org, then type "npm start" again.\n',
  );
  process.exit(2);
}

const started = performance.now();
const say = (text) =>
  process.stdout.write(`[${((performance.now() - started) / 1000).toFixed(0).padStart(3)} s] ${text}\n`);

// What follows may need packages that are not there yet, so it is loaded step by step.
say('packages');
const { installPackages } = await import('./install.mjs');
installPackages();

say('build');
const { buildAll } = await import('./build.mjs');
if (!(await buildAll())) process.exit(1);

say('engine');
const launcher = fileURLToPath(new URL('../packages/desk/bin/tepal.js', import.meta.url));
const engine = spawn(process.execPath, [launcher, 'open', ...process.argv.slice(2)], { stdio: 'inherit' });
// The terminal sends the interrupt to both; the engine ends by itself, and this waits for it.
for (const signal of ['SIGINT', 'SIGTERM']) {
  process.on(signal, () => signal === 'SIGTERM' && engine.kill(signal));
}
engine.on('exit', (code) => process.exit(code ?? 0));

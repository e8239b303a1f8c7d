// Writes NOTICES.md: name, version and licence of every package that ships, read from the installed packages.
// With --check it only compares, so that a new dependency cannot slip in without its notice.
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

const root = new URL('..', import.meta.url).pathname;
const lock = JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8'));

/** What a package's own metadata does not say, but its notice must. */
const remarks = {
  'libraw-wasm':
    'Contains LibRaw 0.22, offered under LGPL-2.1 or CDDL-1.0; Copyright (C) 2008-2025 LibRaw LLC. Loaded as a separate WebAssembly module, unmodified, so that it can be replaced.',
  sharp:
    'Uses libvips (LGPL-3.0-or-later) from the @img/sharp-libvips packages, as a separate shared library, unmodified.',
  'exiftool-vendored':
    'Runs ExifTool by Phil Harvey (Artistic-1.0-Perl or GPL-1.0-or-later) as a separate program.',
  '@julusian/jpeg-turbo':
    'Contains libjpeg-turbo (IJG and BSD-3-Clause licences). This software is based in part on the work of the Independent JPEG Group.',
  '@fontsource/atkinson-hyperlegible':
    'The typeface is under the SIL Open Font License 1.1; Copyright (c) 2020 Braille Institute of America, Inc.',
  '@fontsource-variable/source-serif-4':
    'The typeface is under the SIL Open Font License 1.1; Copyright (c) Adobe.',
  libsql: 'Contains SQLite (public domain).',
};

// Platform builds of one package share its notice; only those of this lock file's optional lists are folded away.
const platform = /-(linux|darwin|win32|freebsd|android|openharmony|wasm32|linuxmusl)[-\w]*$/;

const rows = Object.entries(lock.packages)
  .filter(
    ([path, entry]) => path.startsWith('node_modules/') && !entry.dev && !entry.link && !entry.devOptional,
  )
  .filter(([path]) => !platform.test(path))
  .map(([path, entry]) => {
    const name = path.replace(/^.*node_modules\//, '');
    const own = join(root, path, 'package.json');
    const licence =
      entry.license ??
      (existsSync(own) ? JSON.parse(readFileSync(own, 'utf8')).license : undefined) ??
      'not stated';
    return { name, version: entry.version, licence };
  })
  .sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0));

const text = `# Notices

Tepal itself is under the Apache License 2.0 (\`LICENSE\`). What ships with it keeps its own licence; the full texts lie in each package's folder under \`node_modules\` after installation. Photographs and data of the demo and of the tests carry their origin and licence in a README beside them.

${Object.entries(remarks)
  .map(([name, remark]) => `- **${name}**: ${remark}`)
  .join('\n')}

| package | version | licence |
| --- | --- | --- |
${rows.map(({ name, version, licence }) => `| ${name} | ${version} | ${licence} |`).join('\n')}
`;

const file = join(root, 'NOTICES.md');
if (process.argv.includes('--check')) {
  if (!existsSync(file) || readFileSync(file, 'utf8') !== text) {
    process.stdout.write('NOTICES.md does not match the lock file: run "node scripts/notices.mjs".\n');
    process.exit(1);
  }
} else {
  writeFileSync(file, text);
  process.stdout.write(`NOTICES.md: ${rows.length} packages\n`);
}

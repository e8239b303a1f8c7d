// Every check of the field-science reference that gates (tier 1) or guards (tier 2) is cited by number in some test.
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const packages = fileURLToPath(new URL('../../../', import.meta.url));

/** Tier 1: S-1 to S-8, D-1 to D-8, G-1 to G-9, N-5 to N-8, T-1, T-2, W-1. */
const gates = ['S-1 to S-8', 'D-1 to D-8', 'G-1 to G-9', 'N-5 to N-8', 'T-1', 'T-2', 'W-1'];

/** Tier 2: published, or by two independent routes. */
const guards = [
  ...['S-10', 'S-12 to S-14', 'L-5', 'L-7', 'L-8', 'L-16', 'L-23 to L-25'],
  ...['W-6', 'W-17', 'W-25 to W-27', 'W-29', 'P-2', 'D-9'],
  ...[
    'I-1 to I-3',
    'I-5',
    'I-8 to I-12',
    'N-1 to N-3',
    'G-10 to G-12',
    'G-14',
    'G-15',
    'G-17',
    'T-3',
    'T-4',
    'T-9 to T-13',
    'F-3',
  ],
];

/** Tier 3: computed from the printed equation only, or from memory. A test of these alone says "sanity only". */
const sanity = [
  ...['S-9', 'S-11', 'L-1 to L-4', 'L-6', 'L-12 to L-15', 'L-17 to L-22'],
  ...['W-2 to W-5', 'W-7 to W-16', 'W-18 to W-24', 'W-28', 'D-10 to D-22'],
  ...['I-4', 'I-6', 'I-7', 'I-13', 'I-14', 'N-4', 'N-9 to N-11', 'G-13', 'G-16', 'G-18'],
];

function numbersIn(text: string): string[] {
  return [...text.matchAll(/\b([A-Z])-(\d+)\b(?: to (?:[A-Z]-)?(\d+))?/g)].flatMap(([, letter, from, to]) =>
    Array.from({ length: Number(to ?? from) - Number(from) + 1 }, (_, i) => `${letter}-${Number(from) + i}`),
  );
}

function testFiles(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory())
      return /^(node_modules|dist|build|fixtures)$/.test(entry.name) ? [] : testFiles(path);
    return entry.name.endsWith('.test.ts') && !path.endsWith('cited-checks.test.ts') ? [path] : [];
  });
}

/** The lines that cite the reference: those with "FS", and rows of a table whose title has it. */
function citedIn(path: string): string[] {
  const text = readFileSync(path, 'utf8');
  return text.split('\n').flatMap((line) => (/FS |'[A-Z]-\d+'/.test(line) ? numbersIn(line) : []));
}

const files = testFiles(packages);
const cited = new Set(files.flatMap(citedIn));

describe('the checks of the field science', () => {
  it.each([
    ['tier 1', gates],
    ['tier 2', guards],
  ])('%s is cited by number in a test', (_tier, checks) => {
    expect(files.length).toBeGreaterThan(20);
    const wanted = checks.flatMap(numbersIn);
    expect(wanted.filter((check) => !cited.has(check))).toEqual([]);
  });

  it('tier 3 alone is marked as sanity only', () => {
    const low = new Set(sanity.flatMap(numbersIn));
    const outdoors = files.filter((path) => path.startsWith(dirname(fileURLToPath(import.meta.url))));
    const unmarked = outdoors.flatMap((path) =>
      [...readFileSync(path, 'utf8').matchAll(/\((?:FS )([^()]*)\)/g)]
        .map(([, inside = '']) => inside)
        .filter((inside) => {
          const numbers = numbersIn(inside);
          return numbers.length > 0 && numbers.every((check) => low.has(check)) && !inside.includes('sanity');
        })
        .map((inside) => `${path.slice(packages.length)}: ${inside}`),
    );
    expect(unmarked).toEqual([]);
  });

  // Of the fourteen numbered in section 12; 8 and 11 have further tests where forecasts and terrain are read.
  it('each mistake met in public material has a test named after it', () => {
    const all = files.map((path) => readFileSync(path, 'utf8')).join('\n');
    const named = Array.from({ length: 14 }, (_, i) => i + 1).filter(
      (number) => !new RegExp(`mistake ${number}\\b`).test(all),
    );
    expect(named).toEqual([]);
  });
});

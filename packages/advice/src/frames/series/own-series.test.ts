import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { keepOwnSeries } from './own-series.ts';

const group = (...files: string[]) => ({ id: files[0]!, frames: files.map((file) => ({ file })) });
const shown = (groups: ReturnType<typeof keepOwnSeries>) =>
  groups.map(({ frames }) => frames.map(({ file }) => file).join(''));
const kept = (found: ReturnType<typeof group>[], own: Record<string, string>) =>
  shown(keepOwnSeries(found, ({ file }) => own[file] ?? null));

describe('the photographer’s own series', () => {
  it('part one that was found', () => {
    expect(kept([group('a', 'b', 'c', 'd')], { a: '1', b: '1', c: '2', d: '2' })).toEqual(['ab', 'cd']);
  });

  it('join two that were found, at the place of the first', () => {
    expect(kept([group('a'), group('x'), group('b', 'c')], { a: '1', b: '1', c: '1' })).toEqual(['abc', 'x']);
  });

  it('take in a frame that came later, with the one before it', () => {
    expect(kept([group('a', 'b', 'n', 'c')], { a: '1', b: '1', c: '2' })).toEqual(['abn', 'c']);
    expect(kept([group('n', 'a', 'b')], { a: '1', b: '1' })).toEqual(['nab']);
  });

  it('are named by their first frame', () => {
    const own = keepOwnSeries([group('a', 'b')], ({ file }) => file);
    expect(own.map(({ id }) => id)).toEqual(['a', 'b']);
  });

  it('lose no frame and double none, and change nothing where nothing was said', () => {
    const days = fc.array(
      fc.array(fc.option(fc.constantFrom('1', '2', '3')), { minLength: 1, maxLength: 8 }),
      {
        maxLength: 8,
      },
    );
    fc.assert(
      fc.property(days, (day) => {
        const found = day.map((keys, s) => ({
          id: `${s} 0`,
          frames: keys.map((key, i) => ({ file: `${s} ${i}`, key })),
        }));
        const files = (groups: readonly { readonly frames: readonly { readonly file: string }[] }[]) =>
          groups.flatMap(({ frames }) => frames.map(({ file }) => file));
        expect(files(keepOwnSeries(found, ({ key }) => key)).sort()).toEqual(files(found).sort());
        expect(keepOwnSeries(found, () => null)).toEqual(found);
      }),
      { seed: 20_261 },
    );
  });
});

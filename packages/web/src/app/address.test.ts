import { describe, expect, it } from 'vitest';
import { addressOf, pageNames, readAddress } from './address.ts';

describe('the address of a page', () => {
  it('leads back to the same store and page', () => {
    for (const store of ['mine', 'invented'] as const) {
      for (const page of pageNames) {
        const url = new URL(addressOf(store, page, { frame: 'a/b c' }), 'http://localhost');
        const read = readAddress(url.pathname, url.search);
        expect(read).toMatchObject({ store, page });
        expect(read.query.get('frame')).toBe('a/b c');
      }
    }
  });

  it('is the first screen at the root, and Days at the door of the invented outing', () => {
    expect(readAddress('/', '').page).toBe('first');
    expect(readAddress('/invented', '')).toMatchObject({ store: 'invented', page: 'days' });
    expect(readAddress('/invented/', '')).toMatchObject({ store: 'invented', page: 'days' });
  });

  it('says so when no page has it', () => {
    expect(readAddress('/album', '').page).toBe('unknown');
    expect(readAddress('/days/more', '').page).toBe('unknown');
    expect(readAddress('/invented/album', '')).toMatchObject({ store: 'invented', page: 'unknown' });
  });
});

import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { inventedSite, startInNode } from '../../fixtures/invented-things.ts';
import { change } from '../document/change.ts';
import { list } from '../document/look-up.ts';
import { createNotebook, sameNotebook, saveNotebook, type Notebook } from '../document/notebook.ts';
import { crc32 } from './check-sum.ts';
import { notebookHeads, readExchange, takeExchange, writeExchange } from './exchange-file.ts';

beforeAll(startInNode);

const site = (notebook: Notebook, id: string) =>
  change(notebook, { message: id, timeMs: 0 }, (pen) => pen.put('site', inventedSite({ id })));
const taken = (notebook: Notebook, bytes: Uint8Array) => {
  const answer = takeExchange(notebook, bytes);
  if (!answer.ok) throw new Error(answer.fault.message);
  return answer.value;
};

it('has the check sum of the standard', () => {
  expect(crc32(new TextEncoder().encode('123456789'))).toBe(0xcbf43926);
});

describe('two notebooks that meet by files', () => {
  it('are the same after one file each way, the second small', () => {
    let desk = createNotebook({ authorId: 'aa' });
    for (let i = 0; i < 40; i++) desk = site(desk, `desk${i}`);
    const phone = site(createNotebook({ authorId: 'bb' }), 'phone');
    const whole = writeExchange(desk, { from: 'desk' });
    const onPhone = taken(phone, whole);
    expect(onPhone).toMatchObject({ from: 'desk', fresh: 40, heads: notebookHeads(desk) });
    const back = writeExchange(onPhone.notebook, { from: 'phone', since: onPhone.heads });
    expect(back.length).toBeLessThan(whole.length / 5);
    const onDesk = taken(desk, back);
    expect(onDesk.fresh).toBe(1);
    expect(sameNotebook(onDesk.notebook, onPhone.notebook)).toBe(true);
    expect(taken(onDesk.notebook, whole).fresh).toBe(0);
  });

  it('ask for a whole file where one was written for a state that they have not reached', () => {
    const desk = site(createNotebook({ authorId: 'aa' }), 'one');
    const bytes = writeExchange(site(desk, 'two'), { from: 'desk', since: notebookHeads(desk) });
    expect(takeExchange(createNotebook({ authorId: 'cc' }), bytes)).toMatchObject({
      ok: false,
      fault: { accepted: expect.stringContaining('whole exchange file') as string },
    });
  });

  it('send everything to a state that they do not know', () => {
    const desk = site(createNotebook({ authorId: 'aa' }), 'one');
    const file = readExchange(writeExchange(desk, { from: 'desk', since: ['ab'.repeat(32)] }));
    expect(file).toMatchObject({ ok: true, value: { since: [] } });
  });
});

describe('a file that is damaged', () => {
  it('is refused, whatever was changed or cut, and leaves the notebook as it was', () => {
    const desk = site(createNotebook({ authorId: 'aa' }), 'one');
    const mine = site(createNotebook({ authorId: 'bb' }), 'mine');
    const before = saveNotebook(mine);
    const whole = writeExchange(desk, { from: 'desk' });
    fc.assert(
      fc.property(fc.nat(whole.length - 1), fc.integer({ min: 1, max: 255 }), fc.boolean(), (at, by, cut) => {
        const bytes = cut ? whole.slice(0, at) : whole.slice();
        if (!cut) bytes[at] = (bytes[at]! + by) & 255;
        expect(takeExchange(mine, bytes).ok).toBe(false);
      }),
      { seed: 20261125, numRuns: 300 },
    );
    expect(saveNotebook(mine)).toEqual(before);
    expect(list(taken(mine, whole).notebook, 'site')).toHaveLength(2);
  });
});

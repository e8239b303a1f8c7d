import * as A from '@automerge/automerge/slim';
import { DomainError } from '@tepal/science';
import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { inventedSite, inventedSubject, startInNode } from '../../fixtures/invented-things.ts';
import { change } from './change.ts';
import { history, undoChange } from './history.ts';
import { conflicts, find, list, listRemoved, unreadable } from './look-up.ts';
import { createNotebook, mergeNotebooks, openNotebook, sameNotebook, saveNotebook } from './notebook.ts';
import type { Notebook } from './notebook.ts';

beforeAll(startInNode);

const note = (message: string) => ({ message, timeMs: 1_780_000_000_000 });
const reopened = (notebook: Notebook) => {
  const opened = openNotebook(saveNotebook(notebook));
  if (!opened.ok) throw new Error(opened.fault.message);
  return opened.value;
};
const withSite = () => change(createNotebook(), note('site'), (pen) => pen.put('site', inventedSite()));

describe('a notebook', () => {
  it('keeps what was put into it through saving and opening', () => {
    expect(list(reopened(withSite()), 'site')).toEqual([inventedSite()]);
  });

  it('refuses what its schema does not describe, naming field, range and value, and keeps nothing of the change', () => {
    const notebook = withSite();
    const wrong = inventedSite({ position: { ...inventedSite().position, latitudeDeg: 95 } });
    const write = () =>
      change(notebook, note('wrong'), (pen) => {
        pen.put('subject', inventedSubject());
        pen.put('site', wrong);
      });
    expect(write).toThrow(DomainError);
    expect(write).toThrow(
      'expected a number from -90 to 90 degrees for site.position.latitudeDeg but received 95',
    );
    expect(list(notebook, 'subject')).toEqual([]);
  });

  it('says in words that bytes are damaged, empty, or of a newer version', () => {
    const bytes = saveNotebook(withSite());
    const said = (b: Uint8Array) => {
      const opened = openNotebook(b);
      return opened.ok ? 'opened' : opened.fault.message;
    };
    expect(said(new Uint8Array())).toContain('an empty file');
    expect(said(bytes.subarray(0, bytes.length - 9))).toContain('damaged');
    const newer = A.save(A.change(A.clone(withSite()), (doc) => void (doc.schema = 3)));
    expect(said(newer)).toContain('written by a newer Tepal');
    expect(said(A.save(A.from({ anything: 1 })))).toContain('notebook.schema');
  });

  it('takes a removed thing off the list, and puts it back', () => {
    let notebook = change(withSite(), note('gone'), (pen) => pen.remove('site', 'meadow'));
    expect(list(notebook, 'site')).toEqual([]);
    expect(listRemoved(notebook, 'site')).toEqual(['meadow']);
    notebook = change(notebook, note('back'), (pen) => pen.restore('site', 'meadow'));
    expect(find(notebook, 'site', 'meadow')).toEqual(inventedSite());
  });

  it('keeps fields that a newer version wrote, when an older one writes in the same thing', () => {
    const newer = A.change(withSite(), (doc) => {
      doc.site['meadow']!['soil'] = { acidityPh: 6.1 };
    });
    const older = change(newer, note('older'), (pen) => {
      pen.put('site', inventedSite({ notes: 'Cut in August.' }));
      pen.patch('site', 'meadow', { slopeDeg: 5 });
    });
    expect(reopened(older).site['meadow']!['soil']).toEqual({ acidityPh: 6.1 });
  });

  it('tells what it cannot read, rather than dropping it', () => {
    const odd = A.change(withSite(), (doc) => void (doc.site['meadow']!['shelter'] = 'underwater'));
    expect(list(odd, 'site')).toEqual([]);
    expect(unreadable(odd)).toEqual([
      {
        kind: 'site',
        id: 'meadow',
        why: expect.stringContaining('site.shelter: expected one of open') as string,
      },
    ]);
  });
});

describe('two devices', () => {
  it('that began apart have both their things after merging', () => {
    const phone = change(createNotebook(), note('phone'), (pen) => pen.put('subject', inventedSubject()));
    const merged = mergeNotebooks(withSite(), phone);
    expect(list(merged, 'site')).toHaveLength(1);
    expect(list(merged, 'subject')).toHaveLength(1);
    expect(conflicts(merged)).toEqual([]);
  });

  it('that write in different fields of one thing keep both writings', () => {
    const desk = withSite();
    const phone = reopened(desk);
    const a = change(desk, note('a'), (pen) =>
      pen.patch('site', 'meadow', { slopeDeg: 9, cautions: ['Bull.'] }),
    );
    const b = change(phone, note('b'), (pen) =>
      pen.patch('site', 'meadow', { vegetationHeightM: 0.7, access: 'Past the third oak. Gate locked.' }),
    );
    const merged = find(mergeNotebooks(a, b), 'site', 'meadow');
    expect(merged).toMatchObject({
      slopeDeg: 9,
      cautions: ['Bull.'],
      vegetationHeightM: 0.7,
      access: 'Past the third oak. Gate locked.',
    });
  });

  it('that write in the same field keep both values reachable until one is settled', () => {
    const desk = withSite();
    const phone = reopened(desk);
    const a = change(desk, note('a'), (pen) => pen.patch('site', 'meadow', { name: 'East meadow' }));
    const b = change(phone, note('b'), (pen) => pen.patch('site', 'meadow', { name: 'West meadow' }));
    const merged = mergeNotebooks(a, b);
    const [only, ...rest] = conflicts(merged);
    expect(rest).toEqual([]);
    expect(only).toMatchObject({ kind: 'site', id: 'meadow', field: 'name' });
    expect([only?.shown, ...(only?.others ?? [])].sort()).toEqual(['East meadow', 'West meadow']);
    const settled = change(merged, note('c'), (pen) => pen.settle('site', 'meadow', 'name', 'West meadow'));
    expect(conflicts(settled)).toEqual([]);
    expect(find(settled, 'site', 'meadow')?.name).toBe('West meadow');
  });

  it('never make a position from two halves', () => {
    const desk = withSite();
    const phone = reopened(desk);
    const { position } = inventedSite();
    const north = { ...position, latitudeDeg: 60 };
    const east = { ...position, longitudeDeg: 20 };
    const a = change(desk, note('a'), (pen) => pen.patch('site', 'meadow', { position: north }));
    const b = change(phone, note('b'), (pen) => pen.patch('site', 'meadow', { position: east }));
    expect([north, east]).toContainEqual(find(mergeNotebooks(a, b), 'site', 'meadow')?.position);
  });

  it('keep what one wrote in a thing that the other removed', () => {
    const desk = withSite();
    const phone = reopened(desk);
    const a = change(desk, note('a'), (pen) => pen.remove('site', 'meadow'));
    const b = change(phone, note('b'), (pen) => pen.patch('site', 'meadow', { slopeDeg: 30 }));
    const merged = change(mergeNotebooks(a, b), note('c'), (pen) => pen.restore('site', 'meadow'));
    expect(find(merged, 'site', 'meadow')?.slopeDeg).toBe(30);
  });
});

describe('the history', () => {
  it('names every change, and takes one back while leaving what was written since', () => {
    let notebook = withSite();
    notebook = change(notebook, note('moved'), (pen) =>
      pen.patch('site', 'meadow', { slopeDeg: 20, aspectDeg: 90, cautions: ['Bull.'] }),
    );
    notebook = change(notebook, note('again'), (pen) => pen.patch('site', 'meadow', { aspectDeg: 95 }));
    const past = history(notebook);
    expect(past.map((c) => c.message)).toEqual(['begin', 'evidence and sendings', 'site', 'moved', 'again']);
    expect(past.at(-1)).toMatchObject({ mine: true, timeMs: 1_780_000_000_000 });
    const undone = undoChange(notebook, past[3]!.hash, note('undo'));
    expect(undone.left).toEqual([{ kind: 'site', id: 'meadow', field: 'aspectDeg' }]);
    expect(find(undone.notebook, 'site', 'meadow')).toEqual(inventedSite({ aspectDeg: 95 }));
  });

  it('takes back what was made anew by removing it from the lists', () => {
    const notebook = withSite();
    const undone = undoChange(notebook, history(notebook)[2]!.hash, note('undo'));
    expect(list(undone.notebook, 'site')).toEqual([]);
    expect(listRemoved(undone.notebook, 'site')).toEqual(['meadow']);
  });

  it('refuses a hash that it does not have', () => {
    expect(() => undoChange(withSite(), 'ff'.repeat(32), note('x'))).toThrow(DomainError);
  });
});

describe('a notebook of schema 0', () => {
  const bytes = readFileSync(new URL('../../fixtures/notebook-schema-0.automerge', import.meta.url));

  it('is carried over with everything it held', () => {
    const opened = openNotebook(bytes);
    if (!opened.ok) throw new Error(opened.fault.message);
    expect(opened.warnings[0]).toContain('schema 0');
    const notebook = opened.value;
    expect(notebook.evidence).toEqual({});
    expect(unreadable(notebook)).toEqual([]);
    expect(conflicts(notebook)).toEqual([]);
    expect(find(notebook, 'site', 'upper-meadow')).toMatchObject({
      name: 'Upper meadow',
      position: { latitudeDeg: 47.123456, longitudeDeg: -1.654321 },
      notes: 'Gate on the left.',
      gateCode: '4711',
    });
    expect(
      list(notebook, 'subject').map((s) => [s.scientificName, s.heightAboveGroundM, s.sensitivity]),
    ).toEqual([
      ['Cypripedium calceolus', 0.35, 'high'],
      ['Knautia arvensis', 0.6, null],
    ]);
    expect(find(notebook, 'subject', 'scabious')?.commonNames).toEqual({ en: 'field scabious' });
    expect(list(notebook, 'wantedPicture').map((w) => [w.title, w.closedBy])).toEqual([
      ['Ladybird on scabious', null],
      ['In bud', 'done'],
    ]);
    expect(find(notebook, 'record', 's1')).toMatchObject({
      subjectId: 'lady',
      siteId: 'ditch',
      eventDate: '2023-05-28',
      individualCount: 7,
      remarks: 'two in bud',
    });
    // What has no place in today's form stays in the document, with the history.
    expect((notebook as unknown as Record<string, unknown>)['weatherDiary']).toEqual([
      '28 May: thunder at noon',
    ]);
    expect(history(notebook).map((c) => c.message)).toContain('one more wish');
  });

  it('has each thing once after two devices carried it over apart', () => {
    const open = () => {
      const opened = openNotebook(bytes);
      if (!opened.ok) throw new Error(opened.fault.message);
      return opened.value;
    };
    const [a, b] = [open(), open()];
    expect(sameNotebook(a, b)).toBe(true);
    const phone = change(b, note('b'), (pen) => pen.patch('site', 'ditch', { slopeDeg: 3 }));
    const merged = mergeNotebooks(a, phone);
    expect(conflicts(merged)).toEqual([]);
    expect(find(merged, 'site', 'ditch')?.slopeDeg).toBe(3);
  });
});

describe('a notebook of schema 1', () => {
  const bytes = readFileSync(new URL('../../fixtures/notebook-schema-1.automerge', import.meta.url));
  const open = () => {
    const opened = openNotebook(bytes);
    if (!opened.ok) throw new Error(opened.fault.message);
    expect(opened.warnings).toEqual([]);
    return opened.value;
  };

  it('is as it was, and has room for evidence and sendings', () => {
    const notebook = open();
    expect(unreadable(notebook)).toEqual([]);
    expect(list(notebook, 'site').length).toBeGreaterThan(0);
    const kept = change(notebook, note('measured'), (pen) =>
      pen.put('evidence', { id: 'e1', outingId: null, day: null, frames: {}, notes: '' }),
    );
    expect(list(kept, 'evidence')).toHaveLength(1);
  });

  it('has each thing once after two devices brought it up to date apart', () => {
    const [a, b] = [open(), open()];
    expect(sameNotebook(a, b)).toBe(true);
    const put = (notebook: ReturnType<typeof open>, id: string) =>
      change(notebook, note(id), (pen) =>
        pen.put('evidence', { id, outingId: null, day: null, frames: {}, notes: '' }),
      );
    const merged = mergeNotebooks(put(a, 'e1'), put(b, 'e2'));
    expect(list(merged, 'evidence').map(({ id }) => id)).toEqual(['e1', 'e2']);
    expect(conflicts(merged)).toEqual([]);
  });
});

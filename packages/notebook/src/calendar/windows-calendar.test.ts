import type { WhenWindow } from '@tepal/formats';
import { beforeAll, describe, expect, it } from 'vitest';
import { inventedSite, inventedSubject, startInNode } from '../../fixtures/invented-things.ts';
import { change } from '../document/change.ts';
import { createNotebook, type Notebook } from '../document/notebook.ts';
import type { Subject } from '../kept/subject.ts';
import { privateWords } from '../place/private-words.ts';
import { calendarOfWindows } from './windows-calendar.ts';

beforeAll(startInNode);

function notebookWith(more: Partial<Subject> = {}): Notebook {
  return change(createNotebook(), { message: 'all', timeMs: 0 }, (pen) => {
    pen.put('site', inventedSite());
    pen.put('subject', inventedSubject(more));
    pen.put('wantedPicture', {
      id: 'dawn',
      subjectId: 'scabious',
      siteId: 'meadow',
      title: 'Scabious at the Lower hay meadow',
      ...{ framing: '', magnification: null, light: 'soft', stillness: 'still', drops: 'any' },
      ...{ insects: null, notes: '', closedBy: null },
    });
  });
}

const morning: WhenWindow = {
  wanted: 'dawn',
  site: 'meadow',
  from: '2026-07-04T03:30:00Z',
  to: '2026-07-04T05:00:00Z',
  suitability: 0.8,
  factors: [
    { name: 'wind', value: 0.8, why: 'Wind at the flower 0.4 m/s: still.' },
    { name: 'light', value: 0.9, why: 'Soft until the sun clears the Lower hay meadow at 52.34567.' },
  ],
};
const options = { madeAtMs: Date.UTC(2026, 6, 3), zone: 'Europe/London', language: 'en' };

describe('windows as a calendar', () => {
  it('are named by the subject, say why, and tell nothing of the place', () => {
    const notebook = notebookWith();
    const { text, withheld } = calendarOfWindows(notebook, [morning], options);
    expect(text).toContain('SUMMARY:field scabious\r\n');
    expect(text).toContain('DTSTART;TZID=Europe/London:20260704T043000');
    expect(text).toContain('Wind at the flower 0.4 m/s: still.');
    expect(text).toContain('TRIGGER:-PT1H30M');
    const plain = text.replaceAll('\r\n ', '');
    for (const word of [...privateWords(notebook), 'meadow', 'dawn']) {
      expect(plain.toLowerCase()).not.toContain(word.toLowerCase());
    }
    expect(withheld).toEqual(['A reason was left out: it holds words that tell where the place is.']);
  });

  it('do not name a subject whose place must not be known at all, nor one named after the site', () => {
    const rare = calendarOfWindows(notebookWith({ sensitivity: 'extreme' }), [morning], options);
    expect(rare.text).toContain('SUMMARY:A wanted picture');
    const named = notebookWith({ commonNames: { en: 'Lower hay meadow scabious' } });
    const calendar = calendarOfWindows(named, [morning], options);
    expect(calendar.text).toContain('SUMMARY:A wanted picture');
    expect(calendar.withheld).toContain(
      'The name of the subject was left out: it holds words that tell where the place is.',
    );
  });

  it('keep their identity when the hours shift, and two of one day are two', () => {
    const uids = (windows: readonly WhenWindow[]) =>
      calendarOfWindows(notebookWith(), windows, options).text.match(/UID:\S+/g);
    const evening = { ...morning, from: '2026-07-04T18:00:00Z', to: '2026-07-04T19:00:00Z' };
    const both = uids([morning, evening])!;
    expect(new Set(both).size).toBe(2);
    expect(uids([{ ...morning, from: '2026-07-04T04:00:00Z' }, evening])).toEqual(both);
  });

  it('refuse a window without a time', () => {
    expect(() => calendarOfWindows(notebookWith(), [{ ...morning, to: 'noon' }], options)).toThrow(
      'expected a time in ISO 8601',
    );
  });
});

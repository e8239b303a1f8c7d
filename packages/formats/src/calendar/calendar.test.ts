import { DomainError } from '@tepal/science';
import fc from 'fast-check';
import ICAL from 'ical.js';
import { describe, expect, it } from 'vitest';
import { contentLine, escapedText } from './content-line.ts';
import { releasedText, type ReleasedText } from './released-text.ts';
import { writeCalendar, type CalendarEvent } from './write-calendar.ts';

const seed = 20261125;
const madeAtMs = Date.UTC(2026, 4, 1, 9);

function text(words: string): ReleasedText {
  const passed = releasedText(words, []);
  if (!passed.ok) throw new Error(passed.fault.message);
  return passed.value;
}

const dawn: CalendarEvent = {
  key: 'wanted-1 2026-05-02',
  title: text('Scabious: still, soft light; dew likely'),
  note: text('Wind 0.4 m/s at the flower.\nBackslash \\ and comma, kept.'),
  fromMs: Date.UTC(2026, 4, 2, 4, 30),
  toMs: Date.UTC(2026, 4, 2, 6, 15),
  alarms: [{ beforeMs: 90 * 60_000 }, { atMs: Date.UTC(2026, 4, 1, 19) }],
};

/** Read by another's parser, zones registered as the file has them. */
function read(file: string): ICAL.Component[] {
  const root = new ICAL.Component(ICAL.parse(file) as string);
  ICAL.TimezoneService.reset();
  for (const zone of root.getAllSubcomponents('vtimezone')) {
    ICAL.TimezoneService.register(new ICAL.Timezone(zone));
  }
  return root.getAllSubcomponents('vevent');
}

const eventOf = (component: ICAL.Component | undefined) => new ICAL.Event(component!);
const octets = (line: string) => new TextEncoder().encode(line).length;

describe('an iCalendar file', () => {
  it('is read by another reader with every field as it was meant', () => {
    const [component] = read(writeCalendar([dawn], { madeAtMs, zone: null }));
    const event = eventOf(component);
    expect(event.summary).toBe(dawn.title);
    expect(event.description).toBe(dawn.note);
    expect(event.startDate.toUnixTime() * 1000).toBe(dawn.fromMs);
    expect(event.endDate.toUnixTime() * 1000).toBe(dawn.toMs);
    expect(component!.getFirstPropertyValue('class')).toBe('PRIVATE');
    expect(component!.getFirstPropertyValue('transp')).toBe('TRANSPARENT');
    const alarms = component!.getAllSubcomponents('valarm');
    expect(alarms.map((alarm) => String(alarm.getFirstPropertyValue('trigger')))).toEqual([
      '-PT1H30M',
      '2026-05-01T19:00:00Z',
    ]);
    expect(alarms[0]!.getFirstPropertyValue('action')).toBe('DISPLAY');
    expect(alarms[0]!.getFirstPropertyValue('description')).toBe(dawn.title);
  });

  it('begins and ends as RFC 5545 wants, every line ended by CR LF', () => {
    const file = writeCalendar([dawn], { madeAtMs, zone: null });
    expect(file.startsWith('BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:')).toBe(true);
    expect(file.endsWith('END:VCALENDAR\r\n')).toBe(true);
    expect(file.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
    expect(file).toContain('DTSTAMP:20260501T090000Z');
    expect(file).not.toMatch(/^(LOCATION|GEO|CONTACT|URL)/m);
  });

  it('gives back any text whatever, in lines of at most 75 octets', () => {
    const words = fc.string({ unit: 'binary', maxLength: 300 });
    fc.assert(
      fc.property(words, (title) => {
        const file = writeCalendar([{ ...dawn, title: text(title) }], { madeAtMs, zone: null });
        for (const line of file.split('\r\n')) expect(octets(line)).toBeLessThanOrEqual(75);
        const shown = [...title.replace(/\p{Surrogate}/gu, '\ufffd').replace(/\r\n?/g, '\n')]
          .filter((c) => c === '\n' || c === '\t' || (c >= ' ' && c !== '\u007f'))
          .join('');
        const value = read(file)[0]!.getFirstPropertyValue('summary');
        expect(value ?? '').toBe(shown);
      }),
      { seed, numRuns: 200 },
    );
  });

  it('folds between characters, never inside one (RFC 5545, 3.1)', () => {
    const line = contentLine('SUMMARY', 'ä'.repeat(80));
    for (const part of line.split('\r\n')) {
      expect(octets(part)).toBeLessThanOrEqual(75);
      expect(part).not.toContain('\ufffd');
    }
    expect(line.replaceAll('\r\n ', '')).toBe(`SUMMARY:${'ä'.repeat(80)}\r\n`);
    expect(contentLine('A', 'x'.repeat(73))).toBe(`A:${'x'.repeat(73)}\r\n`);
    expect(contentLine('A', 'x'.repeat(74)).split('\r\n')).toHaveLength(3);
  });

  it('escapes as RFC 5545, 3.3.11 says', () => {
    expect(escapedText('Project XYZ Final Review\nConference Room - 3B; a, b \\')).toBe(
      'Project XYZ Final Review\\nConference Room - 3B\\; a\\, b \\\\',
    );
  });

  it('gives the same UID to the same key, another to another, and repeats neither key', () => {
    const file = (key: string) => writeCalendar([{ ...dawn, key }], { madeAtMs, zone: null });
    const uid = (key: string) => eventOf(read(file(key))[0]).uid;
    expect(uid('a')).toBe(uid('a'));
    expect(uid('a')).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-8[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
    const uids = new Set(Array.from({ length: 2000 }, (_, i) => uid(`wanted-${i}`)));
    expect(uids.size).toBe(2000);
    expect(file('bank-of-orchids')).not.toContain('bank-of-orchids');
    expect(() => writeCalendar([dawn, dawn], { madeAtMs, zone: null })).toThrow(DomainError);
  });

  it('is the same text for the same input, whatever the order of events', () => {
    const later = { ...dawn, key: 'b', fromMs: dawn.fromMs + 86_400_000, toMs: dawn.toMs + 86_400_000 };
    const options = { madeAtMs, zone: 'Europe/London' };
    expect(writeCalendar([later, dawn], options)).toBe(writeCalendar([dawn, later], options));
  });

  it('has alarms of any length (RFC 5545, 3.3.6)', () => {
    const trigger = (beforeMs: number) => {
      const file = writeCalendar([{ ...dawn, alarms: [{ beforeMs }] }], { madeAtMs, zone: null });
      return /TRIGGER:(\S+)/.exec(file)?.[1];
    };
    expect([0, 60_000, 86_400_000, 90_061_000, -600_000].map(trigger)).toEqual([
      'PT0S',
      '-PT1M',
      '-P1D',
      '-P1DT1H1M1S',
      'PT10M',
    ]);
  });

  it('refuses an event that does not end after it starts', () => {
    expect(() => writeCalendar([{ ...dawn, toMs: dawn.fromMs }], { madeAtMs, zone: null })).toThrow(
      'expected an end after the start for toMs',
    );
    expect(() => writeCalendar([{ ...dawn, fromMs: Number.NaN }], { madeAtMs, zone: null })).toThrow(
      DomainError,
    );
  });

  it('may hold no event', () => {
    expect(read(writeCalendar([], { madeAtMs, zone: 'Europe/London' }))).toEqual([]);
  });
});

describe('times in a zone', () => {
  it('are local with the zone beside them, and mean the same moments to another reader', () => {
    const file = writeCalendar([dawn], { madeAtMs, zone: 'Europe/London' });
    expect(file).toContain('DTSTART;TZID=Europe/London:20260502T053000');
    const event = eventOf(read(file)[0]);
    expect(event.startDate.toUnixTime() * 1000).toBe(dawn.fromMs);
    expect(event.endDate.toUnixTime() * 1000).toBe(dawn.toMs);
  });

  it.each([
    'Europe/London',
    'America/New_York',
    'Australia/Lord_Howe',
    'Asia/Kathmandu',
    'Pacific/Apia',
    'America/Sao_Paulo',
    'UTC',
  ])('%s: any half hour of three years', (zone) => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 3 * 365 * 48 }), (half) => {
        const fromMs = Date.UTC(2024, 0, 1) + half * 1_800_000;
        const event = { ...dawn, fromMs, toMs: fromMs + 600_000, alarms: [] };
        const back = eventOf(read(writeCalendar([event], { madeAtMs, zone }))[0]);
        expect(back.startDate.toUnixTime() * 1000).toBe(fromMs);
      }),
      { seed, numRuns: 40 },
    );
  });

  it('are in UTC in the two hours that the clocks show alike, which readers take differently', () => {
    const zone = 'Europe/London';
    for (let minute = 0; minute < 240; minute += 15) {
      const fromMs = Date.UTC(2026, 9, 24, 23) + minute * 60_000;
      const file = writeCalendar([{ ...dawn, fromMs, toMs: fromMs + 600_000 }], { madeAtMs, zone });
      expect(eventOf(read(file)[0]).startDate.toUnixTime() * 1000).toBe(fromMs);
      const alike = fromMs >= Date.UTC(2026, 9, 25, 0) && fromMs < Date.UTC(2026, 9, 25, 2);
      expect(/DTSTART:\S+Z/.test(file)).toBe(alike);
    }
  });

  it('change where the clocks do: London 2026 on 29 March and 25 October at 01:00 UTC', () => {
    const file = writeCalendar([dawn], { madeAtMs, zone: 'Europe/London' });
    expect(file).toContain(
      'BEGIN:DAYLIGHT\r\nDTSTART:20260329T010000\r\nTZOFFSETFROM:+0000\r\nTZOFFSETTO:+0100',
    );
    expect(file).toContain(
      'BEGIN:STANDARD\r\nDTSTART:20261025T020000\r\nTZOFFSETFROM:+0100\r\nTZOFFSETTO:+0000',
    );
  });

  it('refuse a zone that is none', () => {
    expect(() => writeCalendar([dawn], { madeAtMs, zone: 'Middle/Earth' })).toThrow('IANA name');
  });
});

describe('text that leaves the house', () => {
  it('is refused when it holds a secret, whatever its case or spacing, and the secret is not repeated', () => {
    const secrets = ['Lower hay meadow', '52.34567', ''];
    expect(releasedText('Scabious at dawn', secrets)).toMatchObject({ ok: true });
    for (const leaky of ['Dawn at LOWER  HAY\nMEADOW', 'at 52.34567 N', 'ｌower hay meadow']) {
      const answer = releasedText(leaky, secrets);
      expect(answer).toMatchObject({ ok: false });
      expect(JSON.stringify(answer)).not.toMatch(/hay meadow|52\.3/i);
    }
  });
});

// What a delivery becomes: sizes, names, lists, rules and entries.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { EntryDocument, FinishStepsDocument, RuleSetDocument } from '@tepal/formats';
import { deedsOfSteps, doneInWords, stackedFrom } from './deeds.ts';
import { deadlineWords, enteredBeforeWords, entryNames } from './entry.ts';
import { deliveryName, nameByForm } from './file-name.ts';
import { checkFile, checkRules, type PictureToCheck } from './rules.ts';
import { printSize, sizeWithin } from './size.ts';

describe('sizes', () => {
  const side = fc.integer({ min: 1, max: 12_000 });

  it('fit the box, keep the proportions, and never grow', () => {
    fc.assert(
      fc.property(side, side, side, side, (width, height, bw, bh) => {
        const size = sizeWithin({ width, height }, { width: bw, height: bh });
        expect(size.width).toBeLessThanOrEqual(Math.max(1, Math.min(width, bw)));
        expect(size.height).toBeLessThanOrEqual(Math.max(1, Math.min(height, bh)));
        const factor = Math.min(1, bw / width, bh / height);
        expect(Math.abs(size.width - width * factor)).toBeLessThanOrEqual(1);
      }),
      { seed: 6 },
    );
  });

  it('of a print: OI C-20, 6000 px at 300 ppi are 508.0 mm; OI C-19, the eye parts 291 ppi at 300 mm', () => {
    const found = printSize(
      { width: 6000, height: 4000 },
      { sheetMm: { width: 508, height: 400 }, ppi: 300, viewingDistanceMm: 300 },
    );
    expect(found).toMatchObject({ size: { width: 6000, height: 4000 }, ppi: 300, note: null });
    expect(Math.abs(found.usefulPpi - 291.06)).toBeLessThan(0.01);
  });

  it('of a print that is too large: the true resolution is said, nothing is enlarged', () => {
    const found = printSize(
      { width: 3000, height: 2000 },
      { sheetMm: { width: 280, height: 420 }, ppi: 300, viewingDistanceMm: 300 },
    );
    expect(found.size).toEqual({ width: 3000, height: 2000 });
    // 3000 px on 420 mm: 25.4 · 3000 / 420.
    expect(found.ppi).toBeCloseTo(181.4, 1);
    expect(found.note).toMatch(/has 181 pixels per inch, not 300; it was not enlarged/);
    expect(
      printSize(
        { width: 3000, height: 2000 },
        { sheetMm: { width: 420, height: 280 }, ppi: 300, viewingDistanceMm: 600 },
      ).note,
    ).toMatch(/more than the eye parts/);
  });

  it('of a print with pixels to spare are reduced to what was asked for', () => {
    const { size, ppi } = printSize(
      { width: 6000, height: 4000 },
      { sheetMm: { width: 150, height: 100 }, ppi: 300, viewingDistanceMm: 300 },
    );
    expect(size.width).toBe(Math.round((150 / 25.4) * 300));
    expect(ppi).toBe(300);
  });
});

describe('names', () => {
  const parts = {
    title: 'Märzenbecher: 3/4 offen?',
    original: 'IMG_0042.CR2',
    creator: 'A. Ørn',
    number: 3,
    entry: 'Spring',
    scientificName: null,
  };

  it('come from the title, else from the original, and any disk takes them', () => {
    expect(deliveryName(parts)).toBe('Märzenbecher 3 4 offen');
    expect(deliveryName({ title: null, original: 'IMG_0042.CR2' })).toBe('IMG_0042');
    expect(deliveryName({ title: ' .. ', original: '???.jpg' })).toBe('picture');
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 200 }), (title) => {
        const name = deliveryName({ title, original: 'a.jpg' });
        expect(name).not.toMatch(/[/\\:*?"<>|]|^\.|^\s|[. ]$/);
        expect(name.length).toBeGreaterThan(0);
      }),
      { seed: 6 },
    );
  });

  it('follow the form that is asked for, in the letters that are allowed', () => {
    expect(
      nameByForm(parts, { form: '{number}_{title}_{creator}', space: '-', characters: 'ascii' }),
    ).toEqual({ ok: true, name: '03_Marzenbecher-3-4-offen_A.-Orn', note: null });
  });

  it('are shortened by the title, and that is said; else refused', () => {
    const short = nameByForm(parts, { form: '{number}_{title}', mostCharacters: 14 });
    expect(short).toMatchObject({ ok: true, name: '03_Märzenbeche' });
    expect(short.ok && short.note).toMatch(/shortened to fit 14/);
    expect(nameByForm(parts, { form: '{number}_{creator}', mostCharacters: 4 })).toMatchObject({ ok: false });
    expect(nameByForm(parts, { form: '{club}' })).toMatchObject({
      ok: false,
      why: expect.stringMatching(/\{club\}/) as string,
    });
    expect(nameByForm(parts, { form: '{scientificName}' })).toMatchObject({
      ok: false,
      why: expect.stringMatching(/has none/) as string,
    });
    expect(nameByForm({ ...parts, title: '雪' }, { form: '{title}', characters: 'ascii' })).toMatchObject({
      ok: false,
    });
  });
});

const steps: FinishStepsDocument = {
  schema: 'tepal/finish-steps/1',
  exposureStops: -0.333,
  spots: [{ x: 0.5, y: 0.5, radius: 0.01 }],
  framing: { levelDeg: 1.25, crop: { left: 0, top: 0, width: 0.8, height: 0.9 } },
  background: { calm: 0.5 },
};

describe('the list of what was done', () => {
  it('says each step in words, and nothing of what changes nothing', () => {
    expect(doneInWords(deedsOfSteps(steps))).toBe(
      'one spot removed; exposure lowered by 0.33 stops; levelled by 1.25°; cropped to 72 % of the picture; background quietened: its tones evened, nothing removed',
    );
    expect(
      deedsOfSteps({
        schema: 'tepal/finish-steps/1',
        exposureStops: 0,
        fillShade: { stops: 0 },
        tone: { contrast: 1 },
        whiteBalance: { kind: 'asShot' },
        background: { calm: 0 },
        framing: { crop: { left: 0, top: 0, width: 1, height: 1 } },
      }),
    ).toEqual([]);
    expect(doneInWords([])).toBe('nothing but developing');
    expect(stackedFrom(7).words).toBe('blended from 7 frames at different focus');
  });
});

describe('rules', () => {
  // A natural-history class with a projection box (practice 5.4 and 5.5): no removing, no darkened background.
  const rules: RuleSetDocument = {
    schema: 'tepal/rule-set/1',
    name: 'Natural history',
    pixels: { withinBox: { width: 1600, height: 1200 }, leastLongSidePx: 1000 },
    format: 'jpeg',
    colourSpace: 'srgb',
    mostKilobytes: 2000,
    title: { mostCharacters: 30, scientificName: 'required' },
    whatMayBeDone: { stacked: 'declare', backgroundQuietened: 'no', objectRemoved: 'no', objectAdded: 'no' },
    everythingElse: 'yes',
    originalAsProof: true,
  };
  const picture: PictureToCheck = {
    size: { width: 6000, height: 4000 },
    title: 'Lilium martagon at dawn',
    scientificName: 'Lilium martagon',
    deeds: [stackedFrom(5)],
    originalFound: true,
  };
  const verdicts = (p: PictureToCheck) =>
    Object.fromEntries(checkRules(rules, p).checks.map(({ what, verdict }) => [what, verdict]));

  it('fit what can honestly be fitted', () => {
    const answer = checkRules(rules, picture);
    expect(answer.accepted).toBe(true);
    expect(answer.fitted).toMatchObject({
      size: { width: 1600, height: 1067 },
      format: 'jpeg',
      colourSpace: 'srgb',
      mostKilobytes: 2000,
    });
    expect(answer.checks.find(({ why }) => why.startsWith('To be declared'))?.why).toMatch(
      /blended from 5 frames/,
    );
  });

  it('refuse what was done against them, with the reason', () => {
    const answer = checkRules(rules, { ...picture, deeds: deedsOfSteps(steps) });
    expect(answer.accepted).toBe(false);
    expect(answer.checks.find(({ verdict }) => verdict === 'refused')?.why).toMatch(
      /do not allow darkening or evening the background/,
    );
  });

  it('refuse a picture that is too small rather than enlarge it', () => {
    expect(verdicts({ ...picture, size: { width: 900, height: 600 } })).toMatchObject({
      pixels: 'fits',
      'least size': 'refused',
    });
    const exact = { ...rules, pixels: { exactBox: { width: 1400, height: 1050 } } };
    expect(checkRules(exact, { ...picture, size: { width: 1000, height: 800 } }).checks[0]).toMatchObject({
      verdict: 'refused',
      why: expect.stringMatching(/nothing is enlarged/) as string,
    });
    expect(checkRules(exact, picture).fitted.size).toEqual({ width: 1400, height: 933 });
  });

  it('ask what was done where it was finished elsewhere, for a title, and for the original', () => {
    expect(verdicts({ ...picture, deeds: null, title: null, originalFound: null })).toMatchObject({
      'what was done': 'ask',
      title: 'ask',
      'original as proof': 'ask',
    });
    expect(verdicts({ ...picture, title: 'At dawn' })).toMatchObject({ 'scientific name': 'refused' });
    expect(verdicts({ ...picture, originalFound: false })).toMatchObject({ 'original as proof': 'refused' });
  });

  it('without any rule ask for nothing', () => {
    expect(
      checkRules({ schema: 'tepal/rule-set/1', name: 'None' }, { ...picture, deeds: null, title: null }),
    ).toMatchObject({ checks: [], accepted: true });
  });

  it('are held against the file itself at the end', () => {
    const strict = { ...rules, leastJpegQuality: 80, leastPpi: 300 };
    expect(
      checkFile(strict, { bytes: 1_500_000, quality: 92, ppi: 300 }).map(({ verdict }) => verdict),
    ).toEqual(['fitted', 'fits']);
    expect(
      checkFile(strict, { bytes: 2_500_000, quality: 60, ppi: 181 }).map(({ verdict }) => verdict),
    ).toEqual(['refused', 'refused', 'refused']);
  });
});

describe('an entry', () => {
  const entry: EntryDocument = {
    schema: 'tepal/entry/1',
    name: 'Spring salon',
    deadline: '2026-05-01T23:59:00+01:00',
    rules: {
      schema: 'tepal/rule-set/1',
      name: 'Salon',
      fileName: { form: '{number}_{title}', space: '_', characters: 'ascii' },
    },
    pictures: [
      { picture: 'a.tif', title: 'Lily' },
      { picture: 'b.tif', title: 'Bee on sage' },
    ],
  };

  it('names its pictures in their order', () => {
    expect(entryNames(entry)).toEqual([
      { ok: true, name: '01_Lily', note: null },
      { ok: true, name: '02_Bee_on_sage', note: null },
    ]);
  });

  it('refuses two names that a disk may take for one', () => {
    const { rules, ...rest } = entry;
    const same = {
      ...rest,
      rules: { schema: rules.schema, name: rules.name },
      pictures: [
        { picture: 'a.tif', title: 'Lily' },
        { picture: 'b.tif', title: 'LILY' },
      ],
    };
    expect(entryNames(same)[1]).toMatchObject({
      ok: false,
      why: expect.stringMatching(/same file name/) as string,
    });
  });

  it('knows its deadline, whatever the offset', () => {
    const at = Date.UTC(2026, 4, 1, 22, 59);
    expect(deadlineWords(entry, at + 1)?.past).toBe(true);
    expect(deadlineWords(entry, at - 3 * 3_600_000)).toEqual({
      past: false,
      words: '3 hours are left until the deadline, 2026-05-01T23:59:00+01:00.',
    });
    expect(deadlineWords({ ...entry, deadline: '2026-05-31T00:00:00Z' }, at)?.words).toMatch(/^29 days/);
  });

  it('warns of a picture, or its original, that was entered before, but not of the same entry again', () => {
    const before = [{ entry: 'Winter salon', title: 'White lily', hash: 'sha256:1' }];
    expect(
      enteredBeforeWords({ title: 'Lily', hashes: ['sha256:2', 'sha256:1'] }, before, entry.name),
    ).toMatch(/entered before: Winter salon as "White lily"/);
    expect(enteredBeforeWords({ title: 'Lily', hashes: ['sha256:3'] }, before, entry.name)).toBeNull();
    expect(enteredBeforeWords({ title: 'Lily', hashes: ['sha256:1'] }, before, 'Winter salon')).toBeNull();
  });
});

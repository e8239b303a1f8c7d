import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { beforeAll, describe, expect, it } from 'vitest';
import * as room from '@tepal/notebook';
import { exposureAdvice } from '@tepal/advice';
import type { OpenNotebook } from '../field/notebook.ts';
import { firstInputs } from '../set-up/question/inputs.ts';
import { requestFrom } from '../set-up/question/request.ts';
import { careFor, strictnessAt } from './care.ts';
import { beginningOuting, currentOuting, notedAt } from './current-outing.ts';
import { setUpToLog } from './log-set-up.ts';

const nowMs = Date.parse('2026-06-11T05:20:00+01:00');
const hourMs = 3_600_000;

beforeAll(async () => {
  const require = createRequire(import.meta.url);
  await room.startNotebooks(readFileSync(require.resolve('@automerge/automerge/automerge.wasm')));
});

function notebookWith(write: (pen: room.Pen) => void): OpenNotebook {
  return { room, notebook: room.change(room.createNotebook(), { message: 'made', timeMs: nowMs }, write) };
}

const subject = (id: string, sensitivity: room.Subject['sensitivity']): room.Subject => ({
  id,
  scientificName: `Inventa ${id}`,
  commonNames: {},
  heightAboveGroundM: null,
  sizeMm: null,
  depthMm: 9,
  stem: 'wand',
  sway: null,
  opens: 'any',
  months: [],
  sensitivity,
  notes: '',
});

const wanted = (subjectId: string): room.WantedPicture => ({
  id: `wanted-${subjectId}`,
  subjectId,
  siteId: 'meadow',
  title: 'Invented',
  framing: '',
  magnification: null,
  light: 'any',
  stillness: 'still',
  drops: 'any',
  insects: null,
  notes: '',
  closedBy: null,
});

describe('the outing under way', () => {
  it('is the one that began last and did not end; a forgotten one is over after a day', () => {
    const open = notebookWith((pen) => {
      pen.put('outing', beginningOuting('forgotten', nowMs - 30 * hourMs, null, null));
      pen.put('outing', {
        ...beginningOuting('ended', nowMs - hourMs, null, null),
        endedAt: '2026-06-11T05:00:00+01:00',
      });
      pen.put('outing', beginningOuting('earlier', nowMs - 3 * hourMs, null, null));
      pen.put('outing', beginningOuting('now', nowMs - 2 * hourMs, 'meadow', null));
    });
    expect(currentOuting(open, nowMs)?.id).toBe('now');
    expect(currentOuting(open, nowMs + 40 * hourMs)).toBeNull();
  });

  it('keeps every note on a line of its own, with its time', () => {
    const once = notedAt('', 'still in bud ', nowMs);
    expect(once).toMatch(/^\d{1,2}:\d\d still in bud$/);
    expect(notedAt(once, 'one open', nowMs).split('\n')).toHaveLength(2);
  });
});

describe('care', () => {
  it('is the stricter the rarer, and a species that nobody was asked about counts as rare', () => {
    const at = (sensitivity: room.Subject['sensitivity']) =>
      strictnessAt(
        notebookWith((pen) => {
          pen.put('subject', subject('a', sensitivity));
          pen.put('wantedPicture', wanted('a'));
        }),
        'meadow',
      );
    expect(at('none')).toBe('usual');
    expect(at(null)).toBe('rare');
    expect(at('medium')).toBe('rare');
    expect(at('extreme')).toBe('veryRare');
  });

  it('never drops what holds everywhere', () => {
    const usual = careFor('usual').forPlants;
    for (const strictness of ['rare', 'veryRare'] as const) {
      expect(careFor(strictness).forPlants.slice(-usual.length)).toEqual(usual);
      expect(careFor(strictness).forPlants.length).toBeGreaterThan(usual.length);
    }
  });
});

describe('a logged set-up', () => {
  it('holds what is set, where, and doubles what the phone tells of its accuracy (FS 8.2)', () => {
    const open = notebookWith((pen) => {
      pen.put('outing', beginningOuting('now', nowMs, null, null));
      pen.put('subject', subject('a', 'none'));
    });
    const position = { latitudeDeg: 51, longitudeDeg: -1, altitudeM: null, accuracyM: 8 };
    const inputs = { ...firstInputs, subjectId: 'a', reflector: 'white' as const };
    const advice = exposureAdvice(requestFrom(inputs));
    const logged = setUpToLog(open, { id: 'one', outingId: 'now', nowMs, position }, inputs, advice);
    expect(logged).toMatchObject({ subjectId: 'a', support: 'kneeling', notes: 'with white reflector' });
    expect(logged.position?.coordinateUncertaintyM).toBe(16);
    expect(logged.exposure?.fNumber).toBe(advice.recommended.fNumber);
    // It fits the notebook's own schema.
    const kept = room.change(open.notebook, { message: 'logged', timeMs: nowMs }, (pen) =>
      pen.put('setUp', logged),
    );
    expect(room.find(kept, 'setUp', 'one')).toMatchObject({ outingId: 'now' });
  });
});

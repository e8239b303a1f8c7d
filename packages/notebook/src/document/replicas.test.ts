import fc from 'fast-check';
import { beforeAll, expect, it } from 'vitest';
import { inventedSite, startInNode } from '../../fixtures/invented-things.ts';
import { change } from './change.ts';
import { history, undoChange } from './history.ts';
import { conflicts, find, list } from './look-up.ts';
import { createNotebook, mergeNotebooks, openNotebook, sameNotebook, saveNotebook } from './notebook.ts';
import type { Notebook } from './notebook.ts';

beforeAll(startInNode);

const FIELDS = ['slopeDeg', 'aspectDeg', 'vegetationHeightM'] as const;

const step = fc.record({
  who: fc.constantFrom('a' as const, 'b' as const),
  what: fc.constantFrom('new', 'write', 'write', 'write', 'caution', 'remove', 'meet'),
  thing: fc.nat(5),
  field: fc.constantFrom(...FIELDS),
  value: fc.nat(50),
});

function copy(notebook: Notebook): Notebook {
  const opened = openNotebook(saveNotebook(notebook));
  if (!opened.ok) throw new Error(opened.fault.message);
  return opened.value;
}

/** Runs of 1,000 steps each; TEPAL_REPLICA_RUNS asks for more. */
const RUNS = Number(process.env['TEPAL_REPLICA_RUNS'] ?? 1);

it('two replicas edited at random for 1,000 steps and merged in either order are equal and lose nothing', () => {
  fc.assert(
    fc.property(fc.array(step, { minLength: 1000, maxLength: 1000 }), (steps) => {
      const side = { a: createNotebook({ authorId: 'aa' }), b: createNotebook({ authorId: 'bb' }) };
      const made = new Set<string>();
      const cautions = new Map<string, Set<string>>();
      // The last value that each side wrote in a field since they last met; before that, what they agreed on.
      const last = new Map<string, { a?: number; b?: number }>();
      steps.forEach(({ who, what, thing, field, value }, i) => {
        const id = `${who}${thing}`;
        const shared = [...made].filter((known) => find(side[who], 'site', known) !== null);
        const target = shared[value % Math.max(shared.length, 1)];
        const note = { message: what, timeMs: i * 1000 };
        if (what === 'new' && !made.has(id)) {
          side[who] = change(side[who], note, (pen) => pen.put('site', inventedSite({ id, cautions: [] })));
          made.add(id);
        } else if (what === 'meet') {
          side.a = mergeNotebooks(side.a, side.b);
          side.b = mergeNotebooks(side.b, side.a);
          expect(sameNotebook(side.a, side.b)).toBe(true);
          last.clear();
        } else if (target !== undefined && what === 'write') {
          side[who] = change(side[who], note, (pen) => pen.patch('site', target, { [field]: value }));
          const key = `${target}/${field}`;
          last.set(key, { ...last.get(key), [who]: value });
        } else if (target !== undefined && what === 'caution') {
          const all = [...(find(side[who], 'site', target)?.cautions ?? []), `caution ${i}`];
          side[who] = change(side[who], note, (pen) => pen.patch('site', target, { cautions: all }));
          cautions.set(target, (cautions.get(target) ?? new Set()).add(`caution ${i}`));
        } else if (target !== undefined && what === 'remove' && value === 0) {
          side[who] = change(side[who], note, (pen) => pen.remove('site', target));
        }
      });
      const ab = mergeNotebooks(copy(side.a), side.b);
      const ba = mergeNotebooks(copy(side.b), side.a);
      expect(sameNotebook(ab, ba)).toBe(true);
      expect(JSON.stringify(ab)).toBe(JSON.stringify(ba));

      const open = conflicts(ab);
      for (const id of made) {
        const stored = ab.site[id];
        expect(stored).toBeDefined();
        const kept = stored!['cautions'] as string[];
        for (const caution of cautions.get(id) ?? []) expect(kept).toContain(caution);
        for (const field of FIELDS) {
          const written = Object.values(last.get(`${id}/${field}`) ?? {});
          const behind = open.find((c) => c.id === id && c.field === field)?.others ?? [];
          for (const value of written) expect([stored![field], ...behind]).toContain(value);
        }
      }
    }),
    { seed: 20260614, numRuns: RUNS, endOnFailure: true },
  );
}, 300_000);

it('every change can be taken back, whatever it wrote', () => {
  const fields = fc.record(
    {
      name: fc.constantFrom('A', 'B', 'C'),
      slopeDeg: fc.nat(80),
      access: fc.string({ maxLength: 12 }),
      cautions: fc.array(fc.constantFrom('Bull.', 'Ticks.', 'Road.'), { maxLength: 3 }),
      region: fc.constantFrom('Middleshire', null),
    },
    { requiredKeys: [] },
  );
  fc.assert(
    fc.property(fields, fields, fc.constantFrom('patch', 'remove', 'new'), (first, second, what) => {
      const begun = change(createNotebook({ authorId: 'aa' }), { message: 'begin', timeMs: 0 }, (pen) =>
        pen.put('site', inventedSite({ id: 'one', ...first })),
      );
      const before = JSON.stringify(list(begun, 'site'));
      const changed = change(begun, { message: what, timeMs: 1000 }, (pen) => {
        if (what === 'patch') pen.patch('site', 'one', second);
        else if (what === 'remove') pen.remove('site', 'one');
        else pen.put('site', inventedSite({ id: 'two', ...second }));
      });
      const { hash, message } = history(changed).at(-1)!;
      // A patch that writes what is there already makes no change.
      if (message !== what) return;
      const undone = undoChange(changed, hash, { message: 'undo', timeMs: 2000 });
      expect(undone.left).toEqual([]);
      expect(JSON.stringify(list(undone.notebook, 'site'))).toBe(before);
      expect(history(undone.notebook).map((past) => past.message)).toContain(what);
    }),
    { seed: 20261125, numRuns: 60 },
  );
}, 60_000);

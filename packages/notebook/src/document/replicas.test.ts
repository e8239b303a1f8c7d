import fc from 'fast-check';
import { beforeAll, expect, it } from 'vitest';
import { inventedSite, startInNode } from '../../fixtures/invented-things.ts';
import { change } from './change.ts';
import { conflicts, find } from './look-up.ts';
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

it('two replicas edited at random and merged in either order are equal and lose nothing', () => {
  fc.assert(
    fc.property(fc.array(step, { minLength: 250, maxLength: 300 }), (steps) => {
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
    { seed: 20260614, numRuns: 12 },
  );
});

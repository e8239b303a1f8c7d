import { describe, expect, it } from 'vitest';
import { readDegrees } from './degrees.ts';

const read = (typed: string) => readDegrees(typed, 'latitude', 90);

describe('degrees as they are typed', () => {
  it('are read with point or comma, sign or letter', () => {
    expect(read('51.75')).toEqual({ ok: true, degrees: 51.75 });
    expect(read(' -1,3 ')).toEqual({ ok: true, degrees: -1.3 });
    expect(read('−1.3')).toEqual({ ok: true, degrees: -1.3 });
    expect(read('33.9° S')).toEqual({ ok: true, degrees: -33.9 });
    expect(read('+4')).toEqual({ ok: true, degrees: 4 });
  });

  it('are refused with what would be accepted', () => {
    for (const typed of ['95', '-90.1', '', 'here', '51 45', '1e3']) {
      const answer = read(typed);
      expect(answer.ok, typed).toBe(false);
      if (!answer.ok) expect(answer.message).toContain('degrees from −90 to 90 for latitude');
    }
  });
});

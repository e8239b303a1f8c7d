import { afterEach, describe, expect, it, vi } from 'vitest';
import { firstInputs } from './inputs.ts';
import { keepInputs, keptInputs } from './kept-inputs.ts';

function storeOf(text: string | null) {
  let held = text;
  vi.stubGlobal('localStorage', {
    getItem: () => held,
    setItem: (_key: string, value: string) => (held = value),
  });
}

afterEach(() => vi.unstubAllGlobals());

describe('the inputs kept on the device', () => {
  it('come back as they were set', () => {
    storeOf(null);
    expect(keptInputs('mine')).toBeNull();
    const set = { ...firstInputs, magnification: 0.5, fNumber: 8, support: 'elbows' as const };
    keepInputs('mine', set);
    expect(keptInputs('mine')).toEqual(set);
  });

  it('fall back on the first values where something is missing or of another kind', () => {
    storeOf('{"magnification":"a lot","kit":{"focalLengthMm":60},"iso":true}');
    expect(keptInputs('mine')).toEqual({ ...firstInputs, kit: { ...firstInputs.kit, focalLengthMm: 60 } });
    storeOf('not JSON');
    expect(keptInputs('mine')).toBeNull();
  });
});

import type { Decision, EngineClient, FramesAnswer, LibraryFrame, LibrarySeries } from '@tepal/formats';
import { describe, expect, it } from 'vitest';
import { createChoosing } from './choosing.ts';
import { bestFirst, seriesFacts, worthWords } from './series-order.ts';

const frame = (id: string, rank: number | null = null, decision: Decision | null = null) =>
  ({ id, rank, decision, largestDelivery: 'A4', words: '1.1 px, sharp' }) as unknown as LibraryFrame;

function choosingOf(answers: (decision: Decision | null) => boolean) {
  const sent: [string, Decision | null][] = [];
  const engine = {
    decide: async (id: string, decision: Decision | null) => {
      sent.push([id, decision]);
      return answers(decision)
        ? { ok: true, value: frame(id) }
        : { ok: false, fault: { status: 500, message: 'The disk is full.' } };
    },
  } as unknown as EngineClient;
  const choosing = createChoosing(engine);
  choosing.frames.value = { frames: [frame('a'), frame('b')] } as unknown as FramesAnswer;
  const decisionOf = (id: string) => choosing.frames.value?.frames.find((one) => one.id === id)?.decision;
  return { choosing, sent, decisionOf };
}

describe('decisions on frames', () => {
  it('are undone in order, back to where they began', async () => {
    const { choosing, sent, decisionOf } = choosingOf(() => true);
    await choosing.decide('a', 'keep');
    await choosing.decide('a', 'out');
    await choosing.decide('b', 'maybe');
    expect([decisionOf('a'), decisionOf('b')]).toEqual(['out', 'maybe']);
    expect(await choosing.undo()).toBe('b');
    expect(await choosing.undo()).toBe('a');
    expect(decisionOf('a')).toBe('keep');
    expect(await choosing.undo()).toBe('a');
    expect([decisionOf('a'), decisionOf('b')]).toEqual([null, null]);
    expect(await choosing.undo()).toBeNull();
    expect(sent.at(-1)).toEqual(['a', null]);
  });

  it('are taken back by the same decision again', async () => {
    const { choosing, decisionOf } = choosingOf(() => true);
    await choosing.decide('a', 'keep');
    await choosing.decide('a', 'keep');
    expect(decisionOf('a')).toBeNull();
  });

  it('do not stand when the engine could not keep them, and say why', async () => {
    const { choosing, decisionOf } = choosingOf(() => false);
    await choosing.decide('a', 'out');
    expect(decisionOf('a')).toBeNull();
    expect(choosing.steps.value).toEqual([]);
    expect(choosing.fault.value).toBe('The disk is full.');
  });
});

describe('a series as a row', () => {
  const series = {
    frameIds: ['c', 'a', 'b', 'gone'],
    startedAt: '2026-06-11T06:02:00',
    endedAt: '2026-06-11T06:09:00',
    saying: 'not a focus series',
  } as unknown as LibrarySeries;

  it('shows the best first and what has no rank last', () => {
    const byId = new Map(
      ['a', 'b', 'c'].map((id) => [id, frame(id, id === 'c' ? null : id === 'a' ? 2 : 1)]),
    );
    expect(bestFirst(series, byId).map(({ id }) => id)).toEqual(['b', 'a', 'c']);
  });

  it('says when, how many and what of it', () => {
    expect(seriesFacts(series)).toBe('6:02 to 6:09 · 4 frames · not a focus series');
    expect(seriesFacts({ ...series, endedAt: null, saying: '' })).toBe('6:02 · 4 frames');
    expect(worthWords(frame('a', 1, 'keep'))).toBe('A4 · keep');
    expect(worthWords({ ...frame('a'), largestDelivery: null })).toBe('no size');
  });
});

/** The decisions on frames, kept where the page can draw them at once, sent to the engine, and undone in order. */
import { signal } from '@preact/signals';
import type { Decision, EngineClient, FramesAnswer, LibraryFrame } from '@tepal/formats';

/** One decision that can be undone. */
export interface Step {
  readonly frameId: string;
  readonly before: Decision | null;
}

export function createChoosing(engine: EngineClient) {
  const frames = signal<FramesAnswer | null>(null);
  const steps = signal<readonly Step[]>([]);
  const fault = signal<string | null>(null);

  const replace = (id: string, change: (frame: LibraryFrame) => LibraryFrame) => {
    if (frames.value === null) return;
    frames.value = {
      ...frames.value,
      frames: frames.value.frames.map((frame) => (frame.id === id ? change(frame) : frame)),
    };
  };
  const decisionOf = (id: string) => frames.value?.frames.find((frame) => frame.id === id)?.decision ?? null;

  /** Draws the decision at once; when the engine refuses it, the one before comes back with the reason. */
  async function send(frameId: string, decision: Decision | null): Promise<boolean> {
    const before = decisionOf(frameId);
    replace(frameId, (frame) => ({ ...frame, decision }));
    const answer = await engine.decide(frameId, decision);
    fault.value = answer.ok ? null : answer.fault.message;
    if (!answer.ok) replace(frameId, (frame) => ({ ...frame, decision: before }));
    return answer.ok;
  }

  return {
    frames,
    steps,
    fault,
    /** Decides on a frame; the same decision twice takes it back. */
    async decide(frameId: string, decision: Decision): Promise<void> {
      const before = decisionOf(frameId);
      const wanted = before === decision ? null : decision;
      if (await send(frameId, wanted)) steps.value = [...steps.value, { frameId, before }];
    },
    /** Undoes the newest decision that still stands; answers the frame it was on. */
    async undo(): Promise<string | null> {
      const last = steps.value.at(-1);
      if (last === undefined) return null;
      steps.value = steps.value.slice(0, -1);
      await send(last.frameId, last.before);
      return last.frameId;
    },
  };
}

export type Choosing = ReturnType<typeof createChoosing>;

/** Set-up: what to set, at the subject. Computed here in the page, so it needs no network and no engine. */
import { useSignal } from '@preact/signals';
import type { Explained } from '@tepal/formats';
import type { PageProps } from '../app/page-props.ts';
import { LogButton } from '../outing/log-button.tsx';
import { OutingHere } from '../outing/outing-here.tsx';
import { Answer } from './answer/answer.tsx';
import { Besides } from './answer/besides.tsx';
import { Opened } from './answer/opened.tsx';
import { Controls } from './controls/controls.tsx';
import { BlurBar } from './drawing/blur-bar.tsx';
import { OtherWays } from './drawing/other-ways.tsx';
import { ThroughFlower } from './drawing/through-flower.tsx';
import { RainLock } from './rain-lock.tsx';
import { TestShot } from './test-shot/test-shot.tsx';
import { PocketCard } from './tools/pocket-card.tsx';
import { SwayTool } from './tools/sway-tool.tsx';
import { useSetUp } from './use-set-up.ts';

export function SetUpPage({ store }: PageProps) {
  const { inputs, here, shown, fault, change } = useSetUp(store);
  const opened = useSignal<Explained | null>(null);
  const locked = useSignal(false);
  const open = (what: Explained) => (opened.value = opened.value === what ? null : what);
  const { fNumber, exposureTimeS, iso } = inputs.value;
  const isFixed = fNumber !== null || exposureTimeS !== null || iso !== null;
  const advice = shown?.advice ?? null;
  return (
    <div class="set-up">
      <div class="set-up-answer">
        <p class="context faint">
          <span>{here.value?.where ?? 'At the subject'}</span>
          <span>{here.value?.conditions ?? 'wind and light as you say them'}</span>
        </p>
        {fault !== null && (
          <p class="told" role="alert">
            {fault}
          </p>
        )}
        {advice !== null && (
          <>
            <Answer advice={advice} inputs={inputs.value} onOpen={open} />
            <Opened opened={opened} here={['aperture', 'shutter', 'iso', 'frames']} advice={advice} />
            <div inert={locked.value}>
              <LogButton store={store} inputs={inputs.value} advice={advice} />
              <Besides
                advice={advice}
                onSet={(other) =>
                  change({
                    fNumber: other.fNumber,
                    exposureTimeS: other.exposureTimeNominalS,
                    iso: null,
                  })
                }
              />
            </div>
          </>
        )}
      </div>
      {shown !== null && advice !== null && (
        <div class="set-up-drawings">
          <ThroughFlower advice={advice} inputs={inputs.value} onOpen={open} />
          <BlurBar advice={advice} onOpen={() => open('blur')} />
          <Opened opened={opened} here={['depth', 'background', 'blur']} advice={advice} />
          <div inert={locked.value}>
            <OtherWays
              advice={advice}
              field={shown.field}
              onSet={(f, time) => change({ fNumber: f, exposureTimeS: time, iso: null })}
            />
          </div>
        </div>
      )}
      <div class="set-up-controls">
        <div class="buttons">
          <RainLock locked={locked} />
          {isFixed && !locked.value && (
            <button onClick={() => change({ fNumber: null, exposureTimeS: null, iso: null })}>
              Back to the advice
            </button>
          )}
        </div>
        <div inert={locked.value} class={locked.value ? 'locked' : undefined}>
          <Controls inputs={inputs.value} advice={advice} onChange={change} onOpen={open} />
          {advice !== null && <Opened opened={opened} here={['wind', 'light']} advice={advice} />}
        </div>
      </div>
      <div class="set-up-outing" inert={locked.value}>
        <OutingHere store={store} inputs={inputs.value} here={here.value} onChange={change} />
        {advice !== null && (
          <>
            <SwayTool store={store} inputs={inputs.value} advice={advice} onChange={change} />
            <TestShot inputs={inputs.value} onChange={change} />
            <PocketCard inputs={inputs.value} />
          </>
        )}
      </div>
    </div>
  );
}

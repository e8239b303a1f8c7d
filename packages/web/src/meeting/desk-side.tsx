/** At the desk: open the door to the phones of the house, let one in by a code, and take one off the list. */
import { useSignal } from '@preact/signals';
import type { MeetingCode, MeetingState } from '@tepal/formats';
import { useEffect } from 'preact/hooks';
import { engineOf } from '../engine/engine.ts';
import { dateWords } from '../words/clock.ts';
import { ScanCode } from './scan-code.tsx';

export function DeskSide() {
  const engine = engineOf('mine');
  const state = useSignal<MeetingState | null>(null);
  const code = useSignal<MeetingCode | null>(null);
  const fault = useSignal<string | null>(null);
  const take = (answer: Awaited<ReturnType<typeof engine.meeting>>) => {
    fault.value = answer.ok ? null : answer.fault.message;
    if (answer.ok) state.value = answer.value;
  };
  useEffect(() => {
    void engine.meeting().then(take);
  }, []);
  useEffect(() => {
    if (code.value === null) return;
    // The code goes from the page when it no longer stands; a phone that came in meanwhile is on the list.
    const look = setInterval(() => void engine.meeting().then(take), 2000);
    const gone = setTimeout(() => (code.value = null), code.value.secondsLeft * 1000);
    return () => {
      clearInterval(look);
      clearTimeout(gone);
    };
  }, [code.value]);
  const turn = async (listening: boolean) => {
    code.value = null;
    take(await engine.listenAtHome(listening));
  };
  const newCode = async () => {
    const answer = await engine.meetingCode();
    fault.value = answer.ok ? null : answer.fault.message;
    if (answer.ok) code.value = answer.value;
  };
  const now = state.value;
  if (now === null) return fault.value === null ? null : <p class="told">{fault.value}</p>;
  return (
    <>
      <p class="faint">
        The notebook travels between your phone and this computer on the home network; photographs never do.
        Nothing listens beyond this computer until you open it here, and it shuts when the engine stops.
      </p>
      <div class="buttons">
        {now.listening ? (
          <>
            <button class="first" onClick={() => void newCode()}>
              Let a phone in
            </button>
            <button onClick={() => void turn(false)}>Shut it again</button>
          </>
        ) : (
          <button onClick={() => void turn(true)}>Open to the phones of the house</button>
        )}
      </div>
      {fault.value !== null && (
        <p class="told" role="alert">
          {fault.value}
        </p>
      )}
      {code.value !== null && <ByCode code={code.value} fingerprint={now.fingerprint} />}
      {now.devices.length > 0 && (
        <ul class="list" aria-label="Phones that were let in">
          {now.devices.map(({ id, name, pairedAt, lastSeenAt }) => (
            <li key={id}>
              {name}{' '}
              <span class="faint small">
                let in {dateWords(pairedAt.slice(0, 10))}, last met {dateWords(lastSeenAt.slice(0, 10))}
              </span>{' '}
              <button class="quiet" onClick={() => void engine.revokeDevice(id).then(take)}>
                Take it off the list
              </button>
            </li>
          ))}
        </ul>
      )}
    </>
  );
}

function ByCode({ code, fingerprint }: { code: MeetingCode; fingerprint: string | null }) {
  return (
    <div class="by-code" role="status">
      <ScanCode text={code.link} />
      <div>
        <p>
          Scan this with the phone’s camera, or open <strong>{code.link.split('/?')[0]}</strong> there and
          type <strong class="code">{code.code.match(/.{4}/g)?.join(' ') ?? code.code}</strong>. It lets one
          phone in, within two minutes.
        </p>
        <p class="faint small">
          The phone warns that it does not know this computer’s certificate: no authority vouches for a
          computer at home. Compare what it shows with the fingerprint below, and go on only when they are the
          same.
        </p>
        <p class="fingerprint small">{fingerprint}</p>
      </div>
    </div>
  );
}

/** Notes that are spoken: the sound is kept, nothing is written down from it. */
import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { clockWords, readersOffsetMin } from '../words/clock.ts';
import { deleteSound, keepSound, soundsOf, type KeptSound } from './kept-sounds.ts';
import { playSound, startRecording, type Recording } from './recording.ts';

export function SpokenNotes({ outingId }: { outingId: string }) {
  const sounds = useSignal<readonly KeptSound[]>([]);
  const speaking = useSignal<{ recording: Recording; startedMs: number } | null>(null);
  const fault = useSignal<string | null>(null);
  const read = async () => (sounds.value = await soundsOf(outingId));
  useEffect(() => void read(), [outingId]);
  // The microphone is not left open behind a page that was left.
  const open = useRef(speaking);
  useEffect(() => () => void open.current.value?.recording.stop(), []);

  const start = async () => {
    fault.value = null;
    const started = await startRecording();
    if (started.ok) speaking.value = started;
    else fault.value = started.message;
  };
  const stop = async () => {
    const now = speaking.value;
    if (now === null) return;
    speaking.value = null;
    const { sound, lengthS } = await now.recording.stop();
    try {
      await keepSound({ id: crypto.randomUUID(), outingId, startedMs: now.startedMs, lengthS, sound });
    } catch {
      fault.value = 'This browser keeps nothing for this page: the sound is lost. Type the note.';
    }
    await read();
  };
  return (
    <div class="spoken">
      {speaking.value === null ? (
        <button onClick={() => void start()}>Speak a note</button>
      ) : (
        <button class="first" onClick={() => void stop()}>
          Listening. Tap to end
        </button>
      )}
      {fault.value !== null && (
        <p class="told" role="alert">
          {fault.value}
        </p>
      )}
      {sounds.value.length > 0 && (
        <ul class="list">
          {sounds.value.map((one) => (
            <li key={one.id} class="sound">
              <span>
                {clockWords(one.startedMs, readersOffsetMin(one.startedMs))}, spoken,{' '}
                {Math.max(1, Math.round(one.lengthS))} s
              </span>
              <button class="quiet" onClick={() => void playSound(one.sound)}>
                hear it
              </button>
              <button class="quiet" onClick={() => save(one)}>
                save to a file
              </button>
              <button class="quiet" onClick={() => void deleteSound(one.id).then(read)}>
                delete
              </button>
            </li>
          ))}
        </ul>
      )}
      {sounds.value.length > 0 && (
        <p class="hint">Spoken notes stay on this device; they are not part of the notebook.</p>
      )}
    </div>
  );
}

/** A name that tells the time and nothing of the place. */
function save({ sound, startedMs }: KeptSound): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(sound);
  const ending = sound.type.includes('mp4') ? 'm4a' : sound.type.includes('ogg') ? 'ogg' : 'webm';
  link.download = `note ${new Date(startedMs).toISOString().slice(0, 16).replace(/[T:]/g, ' ')}.${ending}`;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}

/** A spoken note while it is being spoken: the microphone is open from `startRecording` to `stop`, no longer. */

export interface Recording {
  /** Shuts the microphone and hands over what was said. */
  stop(): Promise<{ readonly sound: Blob; readonly lengthS: number }>;
}

export type RecordingStarted =
  | { readonly ok: true; readonly recording: Recording; readonly startedMs: number }
  | { readonly ok: false; readonly message: string };

/** Opens the microphone; a device without one, or that may not, says so. */
export async function startRecording(): Promise<RecordingStarted> {
  const devices: MediaDevices | undefined = navigator.mediaDevices;
  if (devices === undefined || typeof MediaRecorder === 'undefined') {
    return { ok: false, message: 'This browser records no sound at this address; type the note.' };
  }
  try {
    const stream = await devices.getUserMedia({ audio: true });
    const recorder = new MediaRecorder(stream);
    const parts: Blob[] = [];
    recorder.addEventListener('dataavailable', ({ data }) => parts.push(data));
    recorder.start(1000);
    const startedMs = Date.now();
    const stop = () =>
      new Promise<{ sound: Blob; lengthS: number }>((resolve) => {
        recorder.addEventListener('stop', () => {
          for (const track of stream.getTracks()) track.stop();
          resolve({
            sound: new Blob(parts, { type: recorder.mimeType }),
            lengthS: (Date.now() - startedMs) / 1000,
          });
        });
        recorder.stop();
      });
    return { ok: true, recording: { stop }, startedMs };
  } catch (fault) {
    const why = fault instanceof Error ? fault.message : 'no reason given';
    return { ok: false, message: `The microphone did not open (${why}); type the note.` };
  }
}

/** Plays a sound to its end. It is decoded here, so no address of it is ever made. */
export async function playSound(sound: Blob): Promise<void> {
  const context = new AudioContext();
  const heard = await context.decodeAudioData(await sound.arrayBuffer());
  const source = context.createBufferSource();
  source.buffer = heard;
  source.connect(context.destination);
  source.addEventListener('ended', () => void context.close());
  source.start();
}

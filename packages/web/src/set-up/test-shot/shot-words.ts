/** What a test shot says, in sentences: sharp or why not, what is burnt, how even it is, what pulls the eye. */
import { frameWords } from '@tepal/advice';
import { digits, percent } from '../../words/amounts.ts';
import type { ShotMeasures } from './shot-messages.ts';

/** Less than one pixel in a thousand is a glint. */
const burntFrom = 0.001;
/** Between the tenths of the subject's light: above it the far side goes dark on paper. Common practice, no source. */
const unevenFromStops = 3;

/** A sentence, and whether something is to be done about it. */
export interface ShotSentence {
  readonly about: 'sharp' | 'burnt' | 'even' | 'pull' | 'edge';
  readonly words: string;
  readonly good: boolean;
}

export function shotSentences(shot: ShotMeasures): readonly ShotSentence[] {
  return [
    sharpSentence(shot),
    burntSentence(shot),
    evenSentence(shot),
    pullSentence(shot),
    ...edgeSentence(shot),
  ];
}

function sharpSentence({ blur, limitPx, pointGuessed }: ShotMeasures): ShotSentence {
  const where = pointGuessed ? 'At what seems the point' : 'At the point';
  const limit = `, where this print bears ${digits(limitPx)} px`;
  const good = blur.sigmaPx !== null && blur.sigmaPx <= limitPx;
  return { about: 'sharp', good, words: `${where}: ${frameWords({ blur }, limitPx)}${limit}.` };
}

function burntSentence({ clipped, less }: ShotMeasures): ShotSentence {
  const channels = (['red', 'green', 'blue'] as const).filter((channel) => clipped[channel] > burntFrom);
  if (channels.length === 0) return { about: 'burnt', good: true, words: 'No petal is burnt at the point.' };
  const shares = channels.map((channel) => `${channel} ${percentWords(clipped[channel])}`);
  const thirds = Math.max(...channels.map((channel) => less[channel].thirds));
  const more = channels.some((channel) => less[channel].more);
  const remedy = `${more ? 'At least ' : ''}${thirdsWords(thirds)} less would have kept it.`;
  return { about: 'burnt', good: false, words: `Burnt at the point: ${shares.join(', ')}. ${remedy}` };
}

function evenSentence({ evennessStops }: ShotMeasures): ShotSentence {
  const good = evennessStops < unevenFromStops;
  const advice = good ? 'evenly lit.' : 'a reflector or a diffuser would bring it together.';
  return { about: 'even', good, words: `The subject spans ${digits(evennessStops)} stops: ${advice}` };
}

function pullSentence({ distractions }: ShotMeasures): ShotSentence {
  const count = distractions.length;
  if (count === 0)
    return { about: 'pull', good: true, words: 'Nothing bright beside the subject pulls the eye.' };
  const spots = count === 1 ? 'One bright place' : `${count} bright places`;
  return {
    about: 'pull',
    good: false,
    words: `${spots} beside the subject, outlined, the strongest first. Move a hand’s width, or shade them.`,
  };
}

function edgeSentence({ region }: ShotMeasures): readonly ShotSentence[] {
  if (region === null || region.touches.length === 0) return [];
  return [
    {
      about: 'edge',
      good: false,
      words: `What is sharp runs out of the frame at the ${region.touches.join(' and the ')}.`,
    },
  ];
}

/** Thirds of a stop as they stand on a dial. */
function thirdsWords(thirds: number): string {
  const whole = Math.floor(thirds / 3);
  const part = ['', '1/3', '2/3'][thirds % 3] ?? '';
  const stops = [whole === 0 ? '' : String(whole), part].filter(Boolean).join(' ');
  return `${stops} ${thirds <= 3 ? 'stop' : 'stops'}`;
}

const percentWords = (share: number) => (share < 0.01 ? 'under 1 %' : percent(share));

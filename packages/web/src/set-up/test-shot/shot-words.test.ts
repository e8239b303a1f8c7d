import { describe, expect, it } from 'vitest';
import type { ShotMeasures } from './shot-messages.ts';
import { shotSentences } from './shot-words.ts';

const none = { thirds: 0, more: false };
const good: ShotMeasures = {
  widthPx: 6000,
  heightPx: 4000,
  point: { x: 0.5, y: 0.5 },
  pointGuessed: false,
  blur: {
    sigmaPx: 0.8,
    sigmaLowPx: 0.7,
    sigmaHighPx: 0.9,
    cause: 'sharp',
    confidence: 0.9,
    motion: null,
    moved: null,
  },
  limitPx: 1,
  clipped: { red: 0, green: 0, blue: 0 },
  less: { red: none, green: none, blue: none },
  evennessStops: 1.8,
  region: null,
  distractions: [],
  burnt: [],
};

const said = (shot: ShotMeasures) => new Map(shotSentences(shot).map((one) => [one.about, one]));

describe('what a test shot says', () => {
  it('asks for nothing where nothing is wrong', () => {
    expect(shotSentences(good).every((one) => one.good)).toBe(true);
  });

  it('names the burnt channels and the stops that would have kept them', () => {
    const shot = {
      ...good,
      clipped: { red: 0.12, green: 0.0005, blue: 0 },
      less: { red: { thirds: 4, more: false }, green: none, blue: none },
    };
    expect(said(shot).get('burnt')?.words).toBe(
      'Burnt at the point: red 12 %. 1 1/3 stops less would have kept it.',
    );
    const beyond = { ...shot, less: { ...shot.less, red: { thirds: 6, more: true } } };
    expect(said(beyond).get('burnt')?.words).toContain('At least 2 stops less');
  });

  it('says why it is not sharp, and never calls unmeasured sharp', () => {
    const moved = { ...good, blur: { ...good.blur, sigmaPx: 2.4, cause: 'defocus' as const } };
    expect(said(moved).get('sharp')).toMatchObject({ good: false });
    expect(said(moved).get('sharp')?.words).toContain('out of focus');
    const unclear = { ...good, blur: { ...good.blur, sigmaPx: null, cause: 'unclear' as const } };
    expect(said(unclear).get('sharp')?.good).toBe(false);
  });
});

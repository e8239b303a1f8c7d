/** Makes the invented notebook: one site, what grows there, what is still wanted, a kit, one outing and its records. */
import { readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import {
  change,
  createNotebook,
  saveNotebook,
  startNotebooks,
  type Notebook,
  type Pen,
} from '@tepal/notebook';
import { LONG_MEAD } from './place.ts';
import { DAY, FOCUS, REPEATS, UTC_OFFSET } from './scenes.ts';

/** Writes the notebook's bytes; a fixed author and fixed times, so that it comes out the same each time. */
export async function writeNotebook(path: string): Promise<void> {
  writeFileSync(path, saveNotebook(await inventedNotebook()));
}

export async function inventedNotebook(): Promise<Notebook> {
  const wasm = createRequire(import.meta.url).resolve('@automerge/automerge/automerge.wasm');
  await startNotebooks(readFileSync(wasm));
  const empty = createNotebook({ authorId: 'ab'.repeat(16) });
  const before = change(
    empty,
    { message: 'invented: place, subjects, kit', timeMs: Date.UTC(2026, 4, 30, 18) },
    (pen) => {
      putPlace(pen);
      putSubjects(pen);
      putWanted(pen);
      putKit(pen);
    },
  );
  return change(before, { message: 'invented: the outing', timeMs: Date.UTC(2026, 5, 11, 7, 30) }, putOuting);
}

const at = (localTime: string) => `${DAY}T${localTime}${UTC_OFFSET}`;

function putPlace(pen: Pen): void {
  const { latitudeDeg, longitudeDeg, altitudeM, name, region } = LONG_MEAD;
  pen.put('site', {
    id: 'invented-site-long-mead',
    name,
    region,
    position: { latitudeDeg, longitudeDeg, altitudeM, coordinateUncertaintyM: 25 },
    shelter: 'hedged',
    slopeDeg: 2,
    aspectDeg: 140,
    vegetationHeightM: 0.45,
    landform: null,
    access: 'Gate by the lane, then the mown strip along the hedge. Invented; there is no such lane.',
    cautions: [
      'Keep to the mown strip: the sward is full of seedlings until the hay is cut.',
      'Ticks in the long grass.',
    ],
    notes: 'Damp hay meadow, cut in July. This site and everything in this notebook is invented.',
  });
}

function putSubjects(pen: Pen): void {
  const plain = { sway: null, sensitivity: 'none', notes: 'Invented entry; sizes from memory.' } as const;
  pen.put('subject', {
    ...plain,
    id: 'invented-subject-scabious',
    scientificName: 'Scabiosa columbaria',
    commonNames: { en: 'small scabious' },
    heightAboveGroundM: 0.4,
    sizeMm: 35,
    depthMm: 12,
    stem: 'wand',
    opens: 'any',
    months: [6, 7, 8, 9],
  });
  pen.put('subject', {
    ...plain,
    id: 'invented-subject-ladybird',
    scientificName: 'Coccinella septempunctata',
    commonNames: { en: 'seven-spot ladybird' },
    heightAboveGroundM: 0.35,
    sizeMm: 7,
    depthMm: 4,
    stem: 'medium',
    opens: 'any',
    months: [4, 5, 6, 7, 8, 9],
  });
  pen.put('subject', {
    ...plain,
    id: 'invented-subject-dandelion',
    scientificName: 'Taraxacum officinale agg.',
    commonNames: { en: 'dandelion' },
    heightAboveGroundM: 0.25,
    sizeMm: 45,
    depthMm: 40,
    stem: 'medium',
    opens: 'morning',
    months: [4, 5, 6],
  });
}

function putWanted(pen: Pen): void {
  const site = { siteId: 'invented-site-long-mead', closedBy: null } as const;
  pen.put('wantedPicture', {
    ...site,
    id: 'invented-wanted-scabious',
    subjectId: 'invented-subject-scabious',
    title: 'Scabious in dew, no shadow',
    framing: 'Whole head from the side, the far hedge melted.',
    magnification: 0.35,
    light: 'soft',
    stillness: 'still',
    drops: 'wanted',
    insects: null,
    notes: 'Invented.',
  });
  pen.put('wantedPicture', {
    ...site,
    id: 'invented-wanted-ladybird',
    subjectId: 'invented-subject-ladybird',
    title: 'Ladybird still torpid on a stem',
    framing: 'From its own height, the eye sharp.',
    magnification: 1,
    light: 'any',
    stillness: 'stirring',
    drops: 'any',
    insects: 'torpid',
    notes: 'Invented. Not found on the outing; still wanted.',
  });
  pen.put('wantedPicture', {
    ...site,
    id: 'invented-wanted-dandelion',
    subjectId: 'invented-subject-dandelion',
    title: 'Dandelion clock against the low sun',
    framing: 'The clock whole, the sun behind it.',
    magnification: 0.3,
    light: 'sun',
    stillness: 'still',
    drops: 'none',
    insects: null,
    notes: 'Invented.',
  });
}

function putKit(pen: Pen): void {
  const notes = 'Invented.';
  pen.put('kit', {
    id: 'invented-camera',
    part: 'camera',
    name: 'Camera, full-frame sensor',
    sensorWidthMm: 36,
    sensorHeightMm: 24,
    widthPx: 6000,
    heightPx: 4000,
    notes: 'Invented. The frames of the outing are small copies, 1500 x 1000 px.',
  });
  pen.put('kit', {
    id: 'invented-lens',
    part: 'lens',
    name: 'Macro lens, 100 mm f/2.8',
    focalLengthMm: 100,
    pupilMagnification: null,
    minFNumber: 2.8,
    maxFNumber: 32,
    maxMagnification: 1,
    stabilisationStops: 0,
    notes,
  });
  pen.put('kit', { id: 'invented-beanbag', part: 'support', name: 'Bean bag', support: 'beanbag', notes });
  pen.put('kit', {
    id: 'invented-elbows',
    part: 'support',
    name: 'Elbows on the mat',
    support: 'elbows',
    notes,
  });
  pen.put('kit', {
    id: 'invented-diffuser',
    part: 'light modifier',
    name: 'Diffuser, 30 cm',
    modifier: 'diffuser',
    lossStops: 1,
    notes,
  });
}

function putOuting(pen: Pen): void {
  pen.put('outing', {
    id: 'invented-outing',
    siteId: 'invented-site-long-mead',
    startedAt: at('05:40:00'),
    endedAt: at('08:10:00'),
    forecast: {
      source: 'Invented forecast',
      issuedAt: '2026-06-09T18:24:00Z',
      windSpeedMs: 0.9,
      gustSpeedMs: 1.4,
      temperatureC: 7,
      relativeHumidity: 0.99,
      cloudShare: 0.1,
    },
    found: { light: 'sun', drops: true, temperatureC: 8 },
    feltWindBeaufort: 1,
    cameraClockOffsetS: 0,
    notes: 'Invented outing. Dew until half past seven, then a breath of wind from the gate.',
  });
  putSetUp(pen, 'scabious', 'invented-subject-scabious', REPEATS[0]!, 0.35);
  putSetUp(pen, 'dandelion', 'invented-subject-dandelion', REPEATS[1]!, 0.3);
  putSetUp(pen, 'focus', null, { ...FOCUS, frames: [{ exposureTimeS: FOCUS.exposureTimeS }] }, 0.2);
  putRecord(pen, 'scabious', 'invented-subject-scabious', 40, 'Some forty heads along the hedge.');
  putRecord(pen, 'dandelion', 'invented-subject-dandelion', null, 'Mostly gone to seed.');
  putRecord(
    pen,
    'ladybird',
    'invented-subject-ladybird',
    2,
    'Two on a stem by the gate, off before the lens was on.',
  );
}

interface Shown {
  readonly startsAt: string;
  readonly fNumber: number;
  readonly iso: number;
  readonly frames: readonly { readonly exposureTimeS: number }[];
}

function putSetUp(
  pen: Pen,
  key: string,
  subjectId: string | null,
  scene: Shown,
  magnification: number,
): void {
  const exposureTimeS = scene.frames[0]!.exposureTimeS;
  pen.put('setUp', {
    id: `invented-set-up-${key}`,
    outingId: 'invented-outing',
    subjectId,
    wantedPictureId: subjectId === null ? null : `invented-wanted-${key}`,
    at: at(scene.startsAt),
    position: null,
    cameraId: 'invented-camera',
    lensId: 'invented-lens',
    support: 'elbows',
    magnification,
    backgroundDistanceMm: 1500,
    lightModifierIds: [],
    exposure: { fNumber: scene.fNumber, exposureTimeS, iso: Math.round(scene.iso / 250 / exposureTimeS) },
    notes: 'Invented.',
  });
}

function putRecord(pen: Pen, key: string, subjectId: string, count: number | null, remarks: string): void {
  pen.put('record', {
    id: `invented-record-${key}`,
    subjectId,
    verbatimName: null,
    outingId: 'invented-outing',
    siteId: 'invented-site-long-mead',
    position: null,
    eventDate: DAY,
    individualCount: count,
    lifeStage: null,
    certainty: 'certain',
    determiner: 'A. N. Other (invented)',
    recordedBy: 'A. N. Other (invented)',
    evidence: [],
    associatedSpecies: [],
    remarks: `${remarks} Invented record.`,
    extraTerms: {},
  });
}

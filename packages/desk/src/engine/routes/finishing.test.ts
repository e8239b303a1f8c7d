// Finishing through the engine's own client: steps kept, a place of a blend chosen, deliveries, rules, an entry.
import { mkdir, mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import {
  createEngineClient,
  picturePaths,
  readProxy,
  type EngineAnswer,
  type EngineClient,
  type Job,
} from '@tepal/formats';
import { seeded } from '@tepal/imaging';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { endExifTool } from '../../deliver/exif-tool.ts';
import { buildEngine } from '../engine.ts';

const [width, height] = [320, 240];
let folder = '';
let built: Awaited<ReturnType<typeof buildEngine>>;
let engine: EngineClient;
let frameIds: readonly string[] = [];
let pictureId = '';

async function inject(url: string, init: { method?: string; headers?: object; body?: unknown } = {}) {
  return built.server.inject({
    url,
    method: (init.method ?? 'GET') as 'GET',
    headers: { ...init.headers },
    ...(init.body === undefined ? {} : { payload: Buffer.from(init.body as string) }),
  });
}

function value<T>(answer: EngineAnswer<T>): T {
  if (!answer.ok) throw new Error(answer.fault.message);
  return answer.value;
}

async function done(started: EngineAnswer<Job>): Promise<Job> {
  for (;;) {
    const job = value(await engine.job(value(started).id));
    if (job.state !== 'running' && job.state !== 'waiting') {
      expect(job.fault).toBeNull();
      return job;
    }
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
}

/** Two frames of one texture: the left half sharp in the first, the right half in the second. */
async function halves(card: string): Promise<void> {
  const random = seeded(3);
  const coarse = Buffer.from(Uint8Array.from({ length: 80 * 60 * 3 }, () => 40 + random() * 180));
  const scene = await sharp(coarse, { raw: { width: 80, height: 60, channels: 3 } })
    .resize(width, height, { kernel: 'cubic' })
    .png()
    .toBuffer();
  for (const [name, left] of [
    ['a.png', 0],
    ['b.png', width / 2],
  ] as const) {
    const half = await sharp(scene)
      .extract({ left, top: 0, width: width / 2, height })
      .toBuffer();
    await sharp(await sharp(scene).blur(3).png().toBuffer())
      .composite([{ input: half, left, top: 0 }])
      .removeAlpha()
      .png()
      .toFile(join(card, name));
  }
}

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'finishing-'));
  await mkdir(join(folder, 'card'));
  await halves(join(folder, 'card'));
  built = await buildEngine({ folder: join(folder, 'library'), version: 'test' });
  engine = createEngineClient({
    baseUrl: '',
    store: 'mine',
    fetch: async (url, init) => {
      const answer = await inject(url, init);
      return {
        ok: answer.statusCode === 200,
        status: answer.statusCode,
        json: async () => answer.json<unknown>(),
        arrayBuffer: async () => Uint8Array.from(answer.rawPayload).buffer,
      };
    },
  });
  await done(await engine.measure(join(folder, 'card')));
  frameIds = value(await engine.frames()).frames.map(({ id }) => id);
  const blend = await done(await engine.blend({ frameIds, referenceId: frameIds[0]!, title: 'Texture' }));
  pictureId = blend.pictureId ?? '';
}, 120_000);

afterAll(async () => {
  await built.close();
  await endExifTool();
  await rm(folder, { recursive: true });
});

const schema = 'tepal/finish-steps/1';

describe('the steps of a picture', () => {
  it('are kept in a file beside it, with all that was before', async () => {
    const steps = { schema, exposureStops: 0.5 } as const;
    const kept = value(
      await engine.keepSteps({ pictureId }, { steps, before: [{ schema }, { schema }], after: [] }),
    );
    expect(JSON.parse(await readFile(kept.file, 'utf8'))).toEqual(steps);
    const again = value(await engine.steps({ pictureId }));
    expect(again.steps).toEqual(steps);
    expect(again.before).toHaveLength(2);
  });

  it('are refused by the field, and for a picture that is not there', async () => {
    const steps = { schema, exposureStops: 99 } as const;
    const refused = await engine.keepSteps({ pictureId }, { steps, before: [], after: [] });
    expect(refused).toMatchObject({ ok: false, fault: { status: 400 } });
    expect(refused.ok ? '' : refused.fault.message).toContain('exposureStops');
    expect((await engine.proxy({ pictureId: 'none' })).ok).toBe(false);
  });

  it('are worked out on a small copy in linear light, and made in full size', async () => {
    const proxy = readProxy(value(await engine.proxy({ frameId: frameIds[0]! })));
    expect(proxy).toMatchObject({ width, height, origin: 'rendered' });
    await done(await engine.finish({ pictureId }, { schema, exposureStops: -1 }));
    const shown = await inject(picturePaths.finished('mine', { pictureId }, 400, 'now'));
    expect(await sharp(shown.rawPayload).metadata()).toMatchObject({ format: 'jpeg', width, height });
  });
});

describe('a place of a blend', () => {
  it('is looked at in every frame, the sharpest first, and blended again from the one chosen', async () => {
    const place = { x: 250, y: 120, radiusPx: 24 };
    const looked = await done(await engine.candidates(pictureId, place));
    const found = value(await engine.candidatesFound(looked.id));
    expect(found.candidates.map(({ frameId }) => frameId)).toEqual([frameIds[1], frameIds[0]]);
    const crop = await inject(picturePaths.candidateCrop('mine', looked.id, 0));
    expect((await sharp(crop.rawPayload).metadata()).width).toBe(found.candidates[0]?.widthPx);

    const choice = { ...place, frameId: frameIds[0]! };
    const again = await done(await engine.choosePlaces(pictureId, [choice]));
    expect(again.pictureId).toBe(pictureId);
    expect(value(await engine.blendState(pictureId)).choices).toEqual([choice]);
    const [picture] = value(await engine.pictures());
    expect(picture?.done).toContain('one place chosen by hand');
    expect((await inject(picturePaths.blendMap('mine', pictureId, 'depth'))).statusCode).toBe(200);
  });
});

describe('what leaves the house', () => {
  it('is made by the kept steps, held against kept rules, and says what was done', async () => {
    await engine.keepSteps({ pictureId }, { steps: { schema, exposureStops: -1 }, before: [], after: [] });
    const rules = {
      schema: 'tepal/rule-set/1',
      name: 'Club',
      pixels: { withinBox: { width: 160, height: 160 } },
      whatMayBeDone: { stacked: 'declare' },
    } as const;
    expect(value(await engine.keepRules('club', rules))).toEqual([{ id: 'club', rules }]);
    const job = await done(
      await engine.deliver({ pictureId, as: 'screen', title: 'Texture', rulesId: 'club' }),
    );
    expect(job.deliver).toMatchObject({ widthPx: 160, heightPx: 120 });
    expect(job.deliver?.done?.join()).toMatch(/blended from 2 frames.*exposure lowered by 1 stops/);
  });

  it('goes into the folder of an entry, in order, and as a contact sheet', async () => {
    await engine.keepEntry({
      ...{ id: 'spring', name: 'Spring', rulesId: 'club', deadline: null, creator: null },
      pictures: [
        { pictureId, title: 'First' },
        { frameId: frameIds[1]!, title: 'Second' },
      ],
    });
    const made = await done(await engine.makeEntry('spring'));
    const entered = value(await engine.entered(made.id));
    expect(entered.pictures.map(({ title, why }) => [title, why])).toEqual([
      ['First', null],
      ['Second', null],
    ]);
    const sheet = await done(await engine.contactSheet([{ pictureId }, { frameId: frameIds[0]! }]));
    const file = await inject(`/api/mine/delivered/${sheet.id}`);
    expect((await sharp(file.rawPayload).metadata()).format).toBe('jpeg');
  });

  it('refuses a profile under a name that leads elsewhere', async () => {
    expect((await engine.keepProfile('../outside.icc', new Uint8Array([1]))).ok).toBe(false);
  });
});

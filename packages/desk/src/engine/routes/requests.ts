/** What a request must look like: each body checked once at the door. */
import type { Decision, DeliverRequest, PlaceChoice, StoreName } from '@tepal/formats';
import { EngineRefusal } from '../guard.ts';

type Body = Readonly<Record<string, unknown>>;

export function storeOf(params: unknown): StoreName {
  const { store } = params as { store?: string };
  if (store === 'mine' || store === 'invented') return store;
  throw new EngineRefusal(404, `expected the store mine or invented but received ${String(store)}.`);
}

export function idOf(params: unknown): string {
  const { id } = params as { id?: string };
  if (typeof id === 'string' && id !== '') return id;
  throw new EngineRefusal(404, 'expected an identifier but received nothing.');
}

export function bodyOf(body: unknown): Body {
  if (typeof body === 'object' && body !== null && !Array.isArray(body) && !(body instanceof Uint8Array))
    return body as Body;
  throw new EngineRefusal(400, 'expected a JSON object as the body.');
}

export function bytesOf(body: unknown): Uint8Array {
  if (body instanceof Uint8Array && body.length > 0) return body;
  throw new EngineRefusal(400, 'expected bytes as the body (application/octet-stream) but received none.');
}

export function textField(body: Body, name: string, most = 2000): string {
  const value = body[name];
  if (typeof value === 'string' && value.length <= most) return value;
  throw new EngineRefusal(400, `expected a text of at most ${most} characters for ${name}.`);
}

export function shareField(body: Body, name: string): number {
  const value = typeof body[name] === 'string' ? Number(body[name]) : body[name];
  if (typeof value === 'number' && value >= 0 && value <= 1) return value;
  throw new EngineRefusal(
    400,
    `expected a fraction from 0 to 1 for ${name} but received ${String(body[name])}.`,
  );
}

/** A whole number of pixels within limits, from a query. */
export function pixelsField(query: Body, name: string, most: number): number {
  const value = Number(query[name]);
  if (Number.isInteger(value) && value >= 1 && value <= most) return value;
  throw new EngineRefusal(400, `expected 1 to ${most} px for ${name} but received ${String(query[name])}.`);
}

export function decisionOf(body: Body): Decision | null {
  const { decision } = body;
  if (decision === null || decision === 'keep' || decision === 'maybe' || decision === 'out') return decision;
  throw new EngineRefusal(
    400,
    `expected keep, maybe, out or null for decision but received ${String(decision)}.`,
  );
}

export function idsField(body: Body, name: string): readonly string[] {
  const value = body[name];
  if (
    Array.isArray(value) &&
    value.length > 0 &&
    value.length <= 256 &&
    value.every((id) => typeof id === 'string')
  ) {
    return value;
  }
  throw new EngineRefusal(400, `expected 1 to 256 identifiers for ${name}.`);
}

export function deliverRequestOf(body: Body): DeliverRequest {
  const { as } = body;
  if (as !== 'print' && as !== 'screen' && as !== 'archive') {
    throw new EngineRefusal(400, `expected print, screen or archive for as but received ${String(as)}.`);
  }
  const text = (name: string) =>
    body[name] === undefined || body[name] === null ? {} : { [name]: textField(body, name, 5000) };
  const { keywords, limitKb } = body;
  if (
    keywords !== undefined &&
    !(Array.isArray(keywords) && keywords.every((word) => typeof word === 'string'))
  ) {
    throw new EngineRefusal(400, 'expected a list of texts for keywords.');
  }
  if (limitKb !== undefined && !(typeof limitKb === 'number' && limitKb > 0)) {
    throw new EngineRefusal(400, `expected kilobytes above 0 for limitKb but received ${String(limitKb)}.`);
  }
  return {
    as,
    ...text('pictureId'),
    ...text('frameId'),
    ...text('title'),
    ...text('caption'),
    ...text('creator'),
    ...text('rights'),
    ...text('scientificName'),
    ...(keywords === undefined ? {} : { keywords: keywords as string[] }),
    ...(limitKb === undefined ? {} : { limitKb }),
    ...text('printerProfile'),
    ...text('rulesId'),
    ...(typeof body['viewingDistanceMm'] === 'number' && body['viewingDistanceMm'] > 0
      ? { viewingDistanceMm: body['viewingDistanceMm'] }
      : {}),
    ...(body['paper'] === 'glossyPaper' || body['paper'] === 'mattPaper' ? { paper: body['paper'] } : {}),
    ...(body['withSteps'] === false ? { withSteps: false } : {}),
    ...size(body, 'boxPx'),
    ...size(body, 'sizeMm'),
  };
}

function size(body: Body, name: 'boxPx' | 'sizeMm') {
  const value = body[name];
  if (value === undefined || value === null) return {};
  const { width, height } = value as { width?: unknown; height?: unknown };
  if (
    typeof width === 'number' &&
    typeof height === 'number' &&
    width > 0 &&
    height > 0 &&
    width <= 1e5 &&
    height <= 1e5
  ) {
    return { [name]: { width, height } };
  }
  throw new EngineRefusal(400, `expected a width and a height above 0 for ${name}.`);
}

/** A round place of a picture [px]. */
export function placeOf(body: Body): { x: number; y: number; radiusPx: number } {
  const { x, y, radiusPx } = body;
  const isPlace = [x, y].every((value) => typeof value === 'number' && value >= 0 && value < 1e5);
  if (isPlace && typeof radiusPx === 'number' && radiusPx >= 4 && radiusPx <= 2000) {
    return { x: Number(x), y: Number(y), radiusPx };
  }
  throw new EngineRefusal(400, 'expected a place: x and y in px, and a radius of 4 to 2000 px.');
}

export function choicesOf(body: Body): readonly PlaceChoice[] {
  const { choices } = body;
  if (Array.isArray(choices) && choices.length <= 500) {
    return choices.map((one: unknown) => ({
      ...placeOf(bodyOf(one)),
      frameId: textField(bodyOf(one), 'frameId', 200),
    }));
  }
  throw new EngineRefusal(400, 'expected a list of at most 500 chosen places for choices.');
}

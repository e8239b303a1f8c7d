/** Reading a forecast file of any kind known here: the kind is told from what is inside, never from a name. */
import { refused, type Result } from '../result.ts';
import { decodeText, kindOfBytes, member, parseJson } from '../text.ts';
import type { Forecast } from './forecast.ts';
import { looksLikeLocationforecast, readLocationforecast } from './locationforecast.ts';

const MAX_BYTES = 32 * 1024 * 1024;
const ACCEPTED = 'a MET Norway Locationforecast 2.0 document, "complete" or "compact", as JSON';

/**
 * A forecast from the bytes or the text of a file.
 *
 * @returns refused with what the file was taken for, when it is no forecast that is known here
 */
export function readForecast(input: Uint8Array | string): Result<Forecast> {
  const where = 'forecast';
  const size = input.length;
  if (size > MAX_BYTES) {
    return refused({ where, found: `${size} bytes`, accepted: `at most ${MAX_BYTES} bytes` });
  }
  const bytes = typeof input === 'string' ? new TextEncoder().encode(input.slice(0, 1024)) : input;
  const kind = kindOfBytes(bytes);
  const text = typeof input === 'string' ? input : decodeText(input);
  if (!/^\uFEFF?\s*[{[]/.test(text)) {
    return refused({ where, found: nameText(text, kind), accepted: ACCEPTED });
  }
  const json = parseJson(text.replace(/^\uFEFF/, ''), where);
  if (!json.ok) return json;
  if (looksLikeLocationforecast(json.value)) return readLocationforecast(json.value);
  return refused({ where, found: nameJson(json.value), accepted: ACCEPTED });
}

function nameText(text: string, kind: string): string {
  if (
    kind === 'a text' &&
    /\b\d{6}Z\b.*\b(\d{3}|VRB)\d{2,3}(G\d{2,3})?(KT|MPS)\b/s.test(text.slice(0, 4000))
  ) {
    return 'a METAR weather report';
  }
  return kind === 'a zip archive' ? 'a zip archive (a KMZ forecast is one)' : kind;
}

function nameJson(json: unknown): string {
  const properties = member(json, 'properties');
  if (
    member(properties, 'periods') !== undefined ||
    member(properties, 'quantitativePrecipitation') !== undefined
  ) {
    return 'a document of the US National Weather Service';
  }
  const status = member(json, 'status_code');
  if (typeof status === 'number' && status !== 200) return `an answer with status ${status} and no forecast`;
  if (Array.isArray(json)) return `a JSON list of ${json.length}`;
  const keys = typeof json === 'object' && json !== null ? Object.keys(json).slice(0, 6) : [];
  return keys.length === 0
    ? 'an empty JSON document'
    : `a JSON document with ${keys.join(', ').slice(0, 100)}`;
}

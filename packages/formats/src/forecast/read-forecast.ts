/** Reading a forecast file of any kind known here: the kind is told from what is inside, never from a name. */
import { refused, type Result } from '../result.ts';
import { decodeText, kindOfBytes, member, parseJson } from '../text.ts';
import { parseXml } from '../xml.ts';
import { readZip } from '../zip.ts';
import type { Forecast } from './forecast.ts';
import { looksLikeLocationforecast, readLocationforecast } from './sources/locationforecast.ts';
import { looksLikeMosmix, readMosmix } from './sources/mosmix.ts';
import { looksLikeUsGridPoints, readUsGridPoints } from './sources/us-grid-points.ts';

const MAX_BYTES = 32 * 1024 * 1024;
const ACCEPTED =
  'a MET Norway Locationforecast 2.0 document, a DWD MOSMIX file of one station (KMZ or KML), or grid data of the US National Weather Service';
const where = 'forecast';

/**
 * A forecast from the bytes or the text of a file: Locationforecast 2.0 (JSON), MOSMIX of one station (KMZ or KML) or
 * the US National Weather Service's grid data (JSON).
 *
 * @returns refused with what the file was taken for, when it is no forecast that is known here
 */
export function readForecast(input: Uint8Array | string): Result<Forecast> {
  const size = input.length;
  if (size > MAX_BYTES) {
    return refused({ where, found: `${size} bytes`, accepted: `at most ${MAX_BYTES} bytes` });
  }
  const bytes = typeof input === 'string' ? new TextEncoder().encode(input.slice(0, 1024)) : input;
  const kind = kindOfBytes(bytes);
  if (typeof input !== 'string' && kind === 'a zip archive') return readKmz(input);
  const text = typeof input === 'string' ? input : decodeText(input);
  if (kind === 'an XML document') return readKml(typeof input === 'string' ? input : xmlText(input));
  if (!/^\uFEFF?\s*[{[]/.test(text)) {
    return refused({ where, found: nameText(text, kind), accepted: ACCEPTED });
  }
  const json = parseJson(text.replace(/^\uFEFF/, ''), where);
  if (!json.ok) return json;
  if (looksLikeLocationforecast(json.value)) return readLocationforecast(json.value);
  if (looksLikeUsGridPoints(json.value)) return readUsGridPoints(json.value);
  return refused({ where, ...nameJson(json.value) });
}

function readKmz(bytes: Uint8Array): Result<Forecast> {
  const files = readZip(bytes);
  if (!files.ok) return files;
  const kmls = [...files.value].filter(([name]) => /\.kml$/i.test(name));
  const kml = kmls[0];
  if (kml !== undefined && kmls.length === 1) return readKml(xmlText(kml[1]));
  const found = `a zip archive with ${kmls.length} KML files`;
  return refused({ where, found, accepted: 'a KMZ with one KML inside' });
}

/** XML by the encoding that its declaration names. */
function xmlText(bytes: Uint8Array): string {
  const head = decodeText(bytes.subarray(0, 200));
  return decodeText(bytes, /<\?xml[^>]*encoding=["']([\w-]+)["']/.exec(head)?.[1]);
}

function readKml(text: string): Result<Forecast> {
  const root = parseXml(text, where);
  if (!root.ok) return root;
  if (looksLikeMosmix(root.value)) return readMosmix(root.value);
  const found =
    root.value.local === 'kml' ? 'a KML file without a forecast' : `XML of the kind "${root.value.local}"`;
  return refused({ where, found, accepted: ACCEPTED });
}

function nameText(text: string, kind: string): string {
  if (
    kind === 'a text' &&
    /\b\d{6}Z\b.*\b(\d{3}|VRB)\d{2,3}(G\d{2,3})?(KT|MPS)\b/s.test(text.slice(0, 4000))
  ) {
    return 'a METAR weather report';
  }
  return kind;
}

function nameJson(json: unknown): { found: string; accepted: string } {
  const properties = member(json, 'properties');
  if (member(properties, 'periods') !== undefined || member(properties, 'forecastGridData') !== undefined) {
    const found = 'a document of the US National Weather Service without its grid data';
    return { found, accepted: 'the document that its "forecastGridData" address gives' };
  }
  const status = member(json, 'status_code');
  if (typeof status === 'number' && status !== 200) {
    return { found: `an answer with status ${status} and no forecast`, accepted: ACCEPTED };
  }
  if (Array.isArray(json)) return { found: `a JSON list of ${json.length}`, accepted: ACCEPTED };
  const keys = typeof json === 'object' && json !== null ? Object.keys(json).slice(0, 6) : [];
  return {
    found:
      keys.length === 0 ? 'an empty JSON document' : `a JSON document with ${keys.join(', ').slice(0, 100)}`,
    accepted: ACCEPTED,
  };
}

/**
 * GPX: tracks and waypoints read, waypoints written. Positions are as exact as the file has them, and secret until
 * released; a writer is given points that were already made for whoever receives them.
 *
 * @source Topografix GPX 1.0 and 1.1 schemas
 */
import { refused, understood, type Result } from './result.ts';
import { decodeText, kindOfBytes } from './text.ts';
import { formatInstant, parseInstantMs, parseWrittenTime } from './time.ts';
import { attributeOf, childOf, childrenOf, escapeXml, parseXml, textOf, type XmlElement } from './xml.ts';

export interface GpxPoint {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  /** Height above sea level [m]. */
  readonly elevationM: number | null;
  /** Unix time [ms]; GPX times are UTC. */
  readonly timeMs: number | null;
  readonly name: string | null;
}

export interface GpxTrack {
  readonly name: string | null;
  /** Pieces between which the receiver lost its position. */
  readonly segments: readonly (readonly GpxPoint[])[];
}

export interface GpxDocument {
  readonly waypoints: readonly GpxPoint[];
  readonly tracks: readonly GpxTrack[];
}

/** Tracks and waypoints of a GPX file; points without a position on Earth are left out, with a warning. */
export function readGpx(input: Uint8Array | string): Result<GpxDocument> {
  const text = typeof input === 'string' ? input : decodeText(input);
  const root = parseXml(text, 'gpx');
  if (!root.ok) {
    if (typeof input === 'string' || kindOfBytes(input) === 'an XML document') return root;
    return refused({ where: 'gpx', found: kindOfBytes(input), accepted: 'a GPX file' });
  }
  if (root.value.local !== 'gpx') {
    return refused({ where: 'gpx', found: `XML of the kind "${root.value.local}"`, accepted: 'a GPX file' });
  }
  const warnings: string[] = [];
  const points = (parent: XmlElement, local: string) =>
    childrenOf(parent, local).flatMap((element, i) => readPoint(element, `${local} ${i + 1}`, warnings));
  const waypoints = points(root.value, 'wpt');
  const tracks = childrenOf(root.value, 'trk').map((track) => ({
    name: textOf(childOf(track, 'name')) || null,
    segments: childrenOf(track, 'trkseg').map((segment) => points(segment, 'trkpt')),
  }));
  return understood({ waypoints, tracks }, warnings.slice(0, 40));
}

function readPoint(element: XmlElement, where: string, warnings: string[]): GpxPoint[] {
  const coordinate = (local: string, limit: number) => {
    const text = attributeOf(element, local) ?? '';
    const value = Number(text);
    return text.trim() !== '' && Math.abs(value) <= limit ? value : null;
  };
  const latitudeDeg = coordinate('lat', 90);
  const longitudeDeg = coordinate('lon', 180);
  if (latitudeDeg === null || longitudeDeg === null) {
    warnings.push(`${where}: no position on Earth; left out.`);
    return [];
  }
  const elevation = textOf(childOf(element, 'ele'));
  const elevationM = elevation !== '' && Number.isFinite(Number(elevation)) ? Number(elevation) : null;
  const time = textOf(childOf(element, 'time'));
  const timeMs = time === '' ? null : (parseInstantMs(time) ?? parseWrittenTime(time)?.localMs ?? null);
  if (time !== '' && timeMs === null) warnings.push(`${where}: its time is none; left out.`);
  return [{ latitudeDeg, longitudeDeg, elevationM, timeMs, name: textOf(childOf(element, 'name')) || null }];
}

/**
 * The point of a track that is nearest in time.
 *
 * @param timeMs Unix time [ms]
 * @param maxGapMs how far apart the times may be [ms]
 * @returns the point and how far apart the times are [ms]; null where no point is near enough
 */
export function nearestByTime(
  points: readonly GpxPoint[],
  timeMs: number,
  maxGapMs: number,
): { readonly point: GpxPoint; readonly gapMs: number } | null {
  let best: { point: GpxPoint; gapMs: number } | null = null;
  for (const point of points) {
    if (point.timeMs === null) continue;
    const gapMs = Math.abs(point.timeMs - timeMs);
    if (gapMs <= maxGapMs && (best === null || gapMs < best.gapMs)) best = { point, gapMs };
  }
  return best;
}

/** A GPX 1.1 file of waypoints. The points must already be what its receiver may have. */
export function writeGpx(waypoints: readonly GpxPoint[]): string {
  const written = waypoints.map((point) => {
    const parts = [
      point.elevationM === null ? '' : `<ele>${point.elevationM}</ele>`,
      point.timeMs === null ? '' : `<time>${formatInstant(point.timeMs)}</time>`,
      point.name === null ? '' : `<name>${escapeXml(point.name)}</name>`,
    ];
    const { latitudeDeg, longitudeDeg } = point;
    return `<wpt lat="${decimal(latitudeDeg)}" lon="${decimal(longitudeDeg)}">${parts.join('')}</wpt>\n`;
  });
  return (
    '<?xml version="1.0" encoding="UTF-8"?>\n' +
    '<gpx version="1.1" creator="Tepal" xmlns="http://www.topografix.com/GPX/1/1">\n' +
    `${written.join('')}</gpx>\n`
  );
}

/** Plain decimals, never an exponent, which the schema's decimals do not allow. */
function decimal(value: number): string {
  const text = String(value);
  return text.includes('e') ? value.toFixed(9) : text;
}

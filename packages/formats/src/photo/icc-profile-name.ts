/** The name that a colour profile gives itself. */

const MAX_TAGS = 200;

/**
 * The description of an ICC profile, version 2 (`desc`) or 4 (`mluc`, the first language).
 *
 * @param profile the profile's bytes
 * @returns the name; null where there is none that can be read
 * @source ICC.1:2022, sections 7.2, 7.3, 10.15; ICC.1:2001-04, 6.5.17
 */
export function iccProfileName(profile: Uint8Array): string | null {
  if (profile.length < 132) return null;
  const view = new DataView(profile.buffer, profile.byteOffset, profile.byteLength);
  const ascii = (at: number, length: number) =>
    String.fromCharCode(...profile.subarray(at, Math.min(at + length, profile.length)));
  if (ascii(36, 4) !== 'acsp') return null;
  const count = Math.min(view.getUint32(128), MAX_TAGS, Math.floor((profile.length - 132) / 12));
  for (let i = 0; i < count; i += 1) {
    const entry = 132 + i * 12;
    if (ascii(entry, 4) !== 'desc') continue;
    const at = view.getUint32(entry + 4);
    if (at + 12 > profile.length) return null;
    const kind = ascii(at, 4);
    if (kind === 'desc') return clean(ascii(at + 12, Math.min(view.getUint32(at + 8), 1000)));
    if (kind !== 'mluc' || at + 28 > profile.length) return null;
    const length = Math.min(view.getUint32(at + 20), 2000);
    const start = at + view.getUint32(at + 24);
    if (start + length > profile.length) return null;
    return clean(new TextDecoder('utf-16be').decode(profile.subarray(start, start + length)));
  }
  return null;
}

function clean(text: string): string | null {
  const end = text.indexOf('\0');
  const name = (end < 0 ? text : text.slice(0, end)).trim();
  return name === '' ? null : name;
}

/** Photographs damaged by a seed, for tests: cut, flipped, spliced, with huge sizes or directories that loop. */
import { crc32 } from 'node:zlib';

export interface DamagedFile {
  readonly name: string;
  readonly bytes: Buffer;
}

type Dice = () => number;

/** Even numbers from 0 up to 1, the same for the same seed. @source Numerical Recipes, ranqd1 constants [from memory] */
export function dice(seed: number): Dice {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}

const below = (roll: Dice, end: number) => Math.floor(roll() * end);

type Damage = (whole: Buffer, roll: Dice, others: readonly Buffer[]) => Buffer;

const damages: Readonly<Record<string, Damage>> = {
  cut: (whole, roll) => whole.subarray(0, below(roll, whole.length)),
  flipped(whole, roll) {
    const bytes = Buffer.from(whole);
    // Half of the time among the headers, where it hurts most.
    const reach = roll() < 0.5 ? Math.min(bytes.length, 1024) : bytes.length;
    for (let left = 1 + below(roll, 30); left > 0; left -= 1) {
      bytes[below(roll, reach)]! ^= 1 << below(roll, 8);
    }
    return bytes;
  },
  blanked(whole, roll) {
    const bytes = Buffer.from(whole);
    const from = below(roll, bytes.length);
    return bytes.fill(roll() < 0.5 ? 0 : 0xff, from, Math.min(bytes.length, from + below(roll, 4096)));
  },
  spliced(whole, roll, others) {
    const other = others[below(roll, others.length)]!;
    return Buffer.concat([
      whole.subarray(0, below(roll, whole.length)),
      other.subarray(below(roll, other.length)),
    ]);
  },
  doubled(whole, roll) {
    const from = below(roll, whole.length);
    const part = whole.subarray(from, from + below(roll, 2048));
    return Buffer.concat([whole.subarray(0, from), part, part, whole.subarray(from)]);
  },
  huge: (whole, roll) => withSize(Buffer.from(whole), roll),
  looping: (whole, roll) => withLoop(Buffer.from(whole), roll),
};

/**
 * As many damaged files as are asked for, from whole ones.
 *
 * @param whole named contents; the ending of a name stays
 */
export function* damagedFiles(
  whole: readonly DamagedFile[],
  count: number,
  seed: number,
): Generator<DamagedFile> {
  const roll = dice(seed);
  const kinds = Object.entries(damages);
  const contents = whole.map(({ bytes }) => bytes);
  for (let i = 0; i < count; i += 1) {
    const from = whole[i % whole.length]!;
    const [kind, damage] = kinds[Math.floor(i / whole.length) % kinds.length]!;
    const ending = from.name.slice(from.name.lastIndexOf('.'));
    const name = `${String(i).padStart(5, '0')}-${kind}-${from.name.slice(0, -ending.length)}${ending}`;
    yield { name, bytes: damage(from.bytes, roll, contents) };
  }
}

const sizes = [65_500, 65_535, 60_000, 32_000, 20_000, 1, 0] as const;

/** States another size where a JPEG, PNG or TIFF states its own; other kinds get large numbers in their headers. */
function withSize(bytes: Buffer, roll: Dice): Buffer {
  const side = () => sizes[below(roll, sizes.length)]!;
  if (bytes[0] === 0xff && bytes[1] === 0xd8) {
    for (let at = 2; at + 9 < bytes.length && bytes[at] === 0xff; at += 2 + bytes.readUInt16BE(at + 2)) {
      const marker = bytes[at + 1]!;
      if (marker === 0xc0 || marker === 0xc2) {
        bytes.writeUInt16BE(side(), at + 5);
        bytes.writeUInt16BE(side(), at + 7);
        break;
      }
    }
    return bytes;
  }
  if (bytes.toString('latin1', 1, 4) === 'PNG') {
    bytes.writeUInt32BE(side() * (roll() < 0.3 ? 1000 : 1), 16);
    bytes.writeUInt32BE(side(), 20);
    bytes.writeUInt32BE(crc32(bytes.subarray(12, 29)), 29);
    return bytes;
  }
  for (const at of entriesOf(bytes)) {
    const tag = u16(bytes, at);
    // Width and height, and what a strip or a tile holds.
    if ([256, 257, 278, 322, 323].includes(tag) && roll() < 0.8) write32(bytes, at + 8, side());
    else if ([273, 279, 324, 325].includes(tag) && roll() < 0.3) write32(bytes, at + 4, 0x0fff_ffff);
  }
  return bytes;
}

/** Lets directories of a TIFF point back to themselves, or puts such numbers among other headers. */
function withLoop(bytes: Buffer, roll: Dice): Buffer {
  const isTiff = /^(II|MM)/.test(bytes.toString('latin1', 0, 2));
  const base = isTiff ? 0 : Math.max(0, bytes.indexOf('Exif\0\0') + 6);
  const entries = entriesOf(bytes, base);
  const start = bytes.length > base + 8 ? u32(bytes, base + 4, base) : 0;
  for (const at of entries) {
    const pointer = [0x8769, 0x8825, 0x014a, 0xa005, 0x927c].includes(u16(bytes, at, base));
    if (pointer || roll() < 0.05) write32(bytes, at + 8, start, base);
  }
  const last = entries.at(-1);
  if (last !== undefined && last + 16 <= bytes.length) write32(bytes, last + 12, start, base);
  for (let left = 3; entries.length === 0 && left > 0; left -= 1) {
    write32(bytes, below(roll, Math.max(1, Math.min(bytes.length - 4, 2048))), below(roll, 64));
  }
  return bytes;
}

/** Where the entries of a TIFF structure's first directory stand. */
function entriesOf(bytes: Buffer, base = 0): readonly number[] {
  if (bytes.length < base + 10) return [];
  const from = base + u32(bytes, base + 4, base);
  if (from + 2 > bytes.length) return [];
  const count = Math.min(200, u16(bytes, from, base), Math.floor((bytes.length - from - 2) / 12));
  return Array.from({ length: count }, (_, i) => from + 2 + 12 * i).filter((at) => at + 12 <= bytes.length);
}

const little = (bytes: Buffer, base: number) => bytes[base] === 0x49;
const u16 = (bytes: Buffer, at: number, base = 0) =>
  little(bytes, base) ? bytes.readUInt16LE(at) : bytes.readUInt16BE(at);
const u32 = (bytes: Buffer, at: number, base = 0) =>
  little(bytes, base) ? bytes.readUInt32LE(at) : bytes.readUInt32BE(at);

function write32(bytes: Buffer, at: number, value: number, base = 0): void {
  if (at < 0 || at + 4 > bytes.length) return;
  if (little(bytes, base)) bytes.writeUInt32LE(value, at);
  else bytes.writeUInt32BE(value, at);
}

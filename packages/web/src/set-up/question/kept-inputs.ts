/** The inputs as last set, kept on this device so that the page opens where it was left. */
import { CAMERA_USES } from '@tepal/advice';
import type { StoreName } from '@tepal/formats';
import { INSECT_CLASSES, REFLECTOR_SURFACES, STEM_CLASSES, SUPPORTS } from '@tepal/science';
import { firstInputs, LIGHTS_FROM, type SetUpInputs } from './inputs.ts';

const keyOf = (store: StoreName) => `tepal set-up ${store}`;

/** The words that each choice knows; a word of another time falls back on the first. */
const known: Readonly<Record<string, readonly string[]>> = {
  lightFrom: LIGHTS_FROM,
  reflector: ['none', ...REFLECTOR_SURFACES],
  diffuser: ['none', 'held'],
  stem: STEM_CLASSES,
  insect: ['none', ...INSECT_CLASSES],
  support: SUPPORTS,
  camera: CAMERA_USES,
};

/** What was kept; where something is missing or of another kind, the first value stands in. */
export function keptInputs(store: StoreName): SetUpInputs | null {
  try {
    const found: unknown = JSON.parse(localStorage.getItem(keyOf(store)) ?? 'null');
    return typeof found === 'object' && found !== null ? completed(firstInputs, found) : null;
  } catch {
    return null;
  }
}

export function keepInputs(store: StoreName, inputs: SetUpInputs): void {
  try {
    localStorage.setItem(keyOf(store), JSON.stringify(inputs));
  } catch {
    // A full or closed store loses the last steps only; the page goes on.
  }
}

/** `first` with every value of the same kind that `found` holds. */
function completed<T extends object>(first: T, found: object): T {
  const entries = Object.entries(first).map(([name, value]: [string, unknown]) => {
    const kept: unknown = Object.hasOwn(found, name) ? Reflect.get(found, name) : undefined;
    if (typeof value === 'object' && value !== null) {
      return [name, typeof kept === 'object' && kept !== null ? completed(value, kept) : value];
    }
    const words = known[name];
    const sameKind =
      value === null
        ? kept === null || typeof kept === 'number'
        : words === undefined
          ? typeof kept === typeof value
          : words.includes(String(kept));
    return [name, sameKind ? kept : value];
  });
  return Object.fromEntries(entries) as T;
}

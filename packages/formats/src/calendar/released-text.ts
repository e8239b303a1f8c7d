/** Text that may leave the house: a calendar is shared, printed, and read over a shoulder. */
import { refused, understood, type Result } from '../result.ts';

declare const released: unique symbol;

/** Only `releasedText` makes one; a calendar takes nothing else. */
export type ReleasedText = string & { readonly [released]: true };

/**
 * Lets a text pass that holds none of the secrets: names of sites, notes on access, coordinates in any notation.
 *
 * @param secrets what must not be in it (the notebook's `privateWords`); empty ones are passed over
 * @returns refused, without repeating the secret, where one is found, whatever its case or spacing
 */
export function releasedText(text: string, secrets: readonly string[]): Result<ReleasedText> {
  const plain = folded(text);
  if (secrets.map(folded).some((secret) => secret !== '' && plain.includes(secret))) {
    return refused({
      where: 'text',
      found: 'words that tell where the place is',
      accepted: 'a text without names of sites and without coordinates',
    });
  }
  return understood(text as ReleasedText);
}

const folded = (text: string): string => text.normalize('NFKC').toLowerCase().replace(/\s+/g, ' ').trim();

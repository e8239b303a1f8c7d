/** Confidential exports: exact places to one named recipient, confirmed each time, and written into the notebook's log. */
import { change, type Audience, type Exported, type Notebook } from '@tepal/notebook';
import { createHash, randomUUID } from 'node:crypto';
import { basename } from 'node:path';
import { DeskFault } from '../files/faults.ts';

/**
 * The audience of a confidential export.
 *
 * @param to the recipient
 * @param confirmed the recipient once more, typed for this export; anything else is no confirmation
 * @throws DeskFault where the two differ or are empty
 */
export function confidentialAudience(to: string, confirmed: string | undefined): Audience {
  if (to.trim() === '')
    throw new DeskFault('A confidential export needs the name of its recipient: --to NAME.');
  if (confirmed !== to) {
    throw new DeskFault(
      `Exact places would leave the house for ${to}. Confirm it, this time and each time, with --confirm "${to}".`,
    );
  }
  return { confidential: to, confirmed: true };
}

/** The notebook with the sending in its log. */
export function logSending(
  notebook: Notebook,
  sent: Pick<Exported, 'bytes' | 'recordIds' | 'exactPlaces'>,
  about: { readonly to: string; readonly what: string; readonly output: string; readonly nowMs: number },
): Notebook {
  return change(notebook, { message: `sent to ${about.to}`, timeMs: about.nowMs }, (pen) =>
    pen.put('sending', {
      id: `sent-${randomUUID()}`,
      at: new Date(about.nowMs).toISOString(),
      to: about.to,
      what: about.what,
      file: basename(about.output),
      hash: createHash('sha256').update(sent.bytes).digest('hex'),
      recordIds: [...sent.recordIds],
      places: sent.exactPlaces,
      notes: '',
    }),
  );
}

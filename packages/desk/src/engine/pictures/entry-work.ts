/** An entry made from its draft: the entry's file written, then every picture fitted, named and proved. */
import type { EnteredAnswer, EntryDocument, EntryDraft } from '@tepal/formats';
import { stackedFrom } from '@tepal/advice';
import { join } from 'node:path';
import { enterPictures } from '../../entry/enter.ts';
import { DeskFault } from '../../files/faults.ts';
import { writeWhole } from '../../files/write.ts';
import type { JobWork } from '../jobs.ts';
import type { Store } from '../stores.ts';
import { withPool } from '../work.ts';
import { allEntries, entryFolder, keptRules } from './kept-files.ts';
import { framePath, openedSource, readKeptSteps } from './picture-files.ts';

export function entryWork(store: Store, id: string, keep: (entered: EnteredAnswer) => void): JobWork {
  return async (signal, tell) => {
    const draft = (await allEntries(store)).find((one) => one.id === id);
    if (draft === undefined) throw new DeskFault('That entry is not kept here.');
    const folder = entryFolder(store, id);
    const file = join(folder, 'entry.json');
    await writeWhole(file, `${JSON.stringify(await entryOf(store, draft), null, 2)}\n`, { replace: true });
    const { pictures, ...entered } = await withPool(signal, 1, (pool) =>
      enterPictures({
        ...{ file, folder, pool, tell, nowMs: Date.now() },
        remembered: join(store.folder, 'entries', '.entered-before.json'),
        originalsIn: [],
      }),
    );
    keep({
      ...{ folder: entered.folder, deadline: entered.deadline },
      pictures: pictures.map(({ title, output, proof, done, warnings, why }) => ({
        ...{ title, output, proof, done, warnings, why },
      })),
    });
    const refused = pictures.flatMap(({ title, output, why }) =>
      output === null ? [{ file: title, reason: why ?? 'refused' }] : [],
    );
    return {
      saying: `${pictures.length - refused.length} of ${pictures.length} are in the folder.`,
      failed: refused,
    };
  };
}

async function entryOf(store: Store, draft: EntryDraft): Promise<EntryDocument> {
  if (draft.rulesId === null) throw new DeskFault('Choose the rules of the entry first.');
  if (draft.pictures.length === 0) throw new DeskFault('Choose at least one picture for the entry.');
  const pictures: EntryDocument['pictures'][number][] = [];
  for (const [index, chosen] of draft.pictures.entries()) {
    const { title, ...of } = chosen;
    const { path, picture } = openedSource(store, of);
    const { steps } = await readKeptSteps(store, of);
    const stepsFile = join(entryFolder(store, draft.id), `steps-${index + 1}.json`);
    const changes = Object.keys(steps).length > 1;
    if (changes) await writeWhole(stepsFile, `${JSON.stringify(steps, null, 2)}\n`, { replace: true });
    const first = picture?.frameIds[0];
    const stacked = picture?.kind === 'blend';
    pictures.push({
      ...{ picture: path, title },
      ...(changes ? { steps: stepsFile } : {}),
      // A blend's proof is one of its frames; a frame is its own original.
      original: stacked && first !== undefined ? framePath(store, first) : path,
      deeds: stacked ? [stackedFrom(picture.frameIds.length)] : [],
    });
  }
  const name = draft.name.trim();
  if (name === '') throw new DeskFault('The entry needs a name.');
  return {
    ...{ schema: 'tepal/entry/1', name, rules: await keptRules(store, draft.rulesId), pictures },
    ...(draft.creator === null ? {} : { creator: draft.creator }),
    ...(draft.deadline === null ? {} : { deadline: draft.deadline }),
  };
}

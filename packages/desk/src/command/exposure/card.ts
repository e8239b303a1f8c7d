/** The pocket card at the command line: `tepal expose --card`. */
import { pocketCard } from '@tepal/advice';
import type { CardDocument } from '@tepal/formats';
import { kitOf, shutter, type ExposeOptions } from './options.ts';
import { table } from '../print.ts';

/** The card for the kit of a command line. */
export function cardOf(options: ExposeOptions): CardDocument {
  return pocketCard({
    ...kitOf(options),
    ...(options.stem === undefined ? {} : { stem: options.stem }),
    ...(options.magnification === undefined ? {} : { magnifications: [options.magnification] }),
    ...(options.ev100 === undefined ? {} : { ev100: options.ev100 }),
  });
}

/** The card as one reads it. */
export function readableCard({ ev100, support, basis, rows, rules }: CardDocument): string {
  const range = ([low, high]: readonly [number | null, number | null]) =>
    `${low ?? 'many'} to ${high ?? 'many'}`;
  return [
    `EV ${ev100} at ISO 100, ${support}, ${basis === 'yours' ? 'your' : 'typical'} hands`,
    table(
      ['1:', 'air', 'f/', 'shutter', 'ISO', 'frames', 'range'],
      rows.map((row) => [
        Number((1 / row.magnification).toPrecision(2)).toString(),
        row.air,
        String(row.fNumber),
        shutter(row.exposureTimeNominalS),
        String(row.iso),
        row.framesFor95 === null ? 'no count' : String(row.framesFor95),
        range(row.framesFor95Range),
      ]),
    ),
    ...rules,
  ].join('\n');
}

/** The days past the third: a line each, its parts good, fair or poor, and for which picture. */
import type { OutlookPart } from '@tepal/advice';
import { dayWords } from '../../words/clock.ts';
import { listed, stopped } from '../days-answer.ts';
import { bestOfPart, inOrderOfWord } from './outlook-parts.ts';

/** One day at one site. */
export interface FarDay {
  /** "2026-06-14". */
  readonly date: string;
  readonly siteName: string;
  readonly parts: readonly OutlookPart[];
}

const columns = ['early', 'morning', 'midday', 'afternoon', 'evening', 'night'] as const;

export function OutlookTable(props: {
  days: readonly FarDay[];
  several: boolean;
  nameOf: (wantedId: string) => string;
}) {
  const { days, several, nameOf } = props;
  const shown = columns.filter((part) => days.some(({ parts }) => parts.some((one) => one.part === part)));
  return (
    <table class="outlook-table">
      <thead>
        <tr>
          <th scope="col">
            <span class="unseen">Day</span>
          </th>
          {shown.map((part) => (
            <th scope="col" key={part}>
              {part}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {days.map((day) => (
          <tr key={`${day.date} ${day.siteName}`}>
            <th scope="row">
              {dayWords(Date.parse(`${day.date}T12:00:00Z`), 0)}
              {several && <span class="faint small"> {day.siteName}</span>}
              <span class="told-part">{dayInWords(day, nameOf)}</span>
            </th>
            {shown.map((part) => {
              const found = bestOfPart(day.parts, part);
              return (
                <td key={part} data-part={part} class={found?.word ?? 'untold'}>
                  {found === null ? <span class="faint">not told</span> : found.word}
                </td>
              );
            })}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** What the best part of a day is good for; where none is, what is missing. */
function dayInWords({ parts }: FarDay, nameOf: (wantedId: string) => string): string {
  const told = columns.flatMap((part) => bestOfPart(parts, part) ?? []);
  const good = told.toSorted(inOrderOfWord)[0];
  if (good === undefined) return '';
  if (good.word === 'poor') {
    // Darkness is no news; of the other reasons the first stands for the day.
    const reason = told.flatMap(({ best }) => best).find(({ why }) => !why.startsWith('Too dark'));
    return stopped(reason?.why ?? good.best[0]?.why ?? '');
  }
  const names = good.best.map(({ wanted }) => (wanted === null ? 'any close-up' : nameOf(wanted)));
  return stopped(`${good.word === 'good' ? 'Good' : 'Fair'} for ${listed(names)}`);
}

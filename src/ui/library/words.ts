import type { Notice, Trouble } from '../../engine/index.ts';
import type { Restored } from '../ports.ts';

export const sentence = ({ message, remedy }: Trouble) => `${message} ${remedy}`;

export const titleOf = (chart: { readonly title: string } | undefined) => chart?.title.trim() || 'Untitled';

/** As many as are read in a word that passes. */
const MOST_MISSED = 3;

/** What of something from outside was not understood; empty when all of it was. */
export function missed(notices: readonly Notice[]): string {
  if (notices.length === 0) return '';
  const said = notices.slice(0, MOST_MISSED).map(({ place, message }) => `${place}: ${message}`);
  const more = notices.length - said.length;
  return ` Not everything was understood: ${said.join('; ')}${more > 0 ? `; and ${more} more` : ''}.`;
}

const count = (number: number, one: string, many: string) => `${number} ${number === 1 ? one : many}`;

/** What came of bringing a backup in. */
export function restoredWords({ added, same, beside, records }: Restored): string {
  const parts = [
    `${count(added, 'chart', 'charts')} came in`,
    ...(same > 0 ? [`${same} ${same === 1 ? 'was' : 'were'} there already`] : []),
    ...(beside > 0 ? [`${beside} stand beside another version`] : []),
    ...(records > 0
      ? [`${count(records, 'version, set or entry', 'versions, sets and entries')} with them`]
      : []),
  ];
  return `${parts.join(', ')}.`;
}

export function megabytes(bytes: number): string {
  const million = bytes / 1_000_000;
  if (million >= 1000) return `${Math.round(million / 100) / 10} GB`;
  return million >= 10 ? `${Math.round(million)} MB` : `${Math.round(million * 10) / 10} MB`;
}

const DAY = 24 * 60 * 60 * 1000;
/** Made when it is first wanted: the browser takes long over it. */
function format(options: Intl.DateTimeFormatOptions): (time: number) => string {
  let made: Intl.DateTimeFormat | undefined;
  return (time) => (made ??= new Intl.DateTimeFormat('en-GB', options)).format(time);
}
const clock = format({ hour: '2-digit', minute: '2-digit' });
const date = format({ day: 'numeric', month: 'long' });
const fullDate = format({ day: 'numeric', month: 'long', year: 'numeric' });

/** When something was, as one says it; both in milliseconds since 1970. */
export function whenWords(time: number, now: number): string {
  const midnight = new Date(now).setHours(0, 0, 0, 0);
  if (time >= midnight) return `today ${clock(time)}`;
  if (time >= midnight - DAY) return `yesterday ${clock(time)}`;
  const sameYear = new Date(time).getFullYear() === new Date(now).getFullYear();
  return (sameYear ? date : fullDate)(time);
}

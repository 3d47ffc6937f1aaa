import type { ChorusSummary, ColourUse } from './summary.ts';

/** "once", "twice", "four times". */
function times(count: number): string {
  const words = ['never', 'once', 'twice', 'three times', 'four times', 'five times', 'six times'];
  return words[count] ?? `${count} times`;
}

function list(words: readonly string[]): string {
  if (words.length < 2) return words.join('');
  return `${words.slice(0, -1).join(', ')} and ${words.at(-1)!}`;
}

/** What was used, in sentences that count and do not judge. */
export function summaryWords(summary: ChorusSummary): readonly string[] {
  const { groups, chords, colours, phrases, timing } = summary;
  const said = [
    `${counted(summary.notes, 'note')}: ${counted(groups.chord, 'chord tone')}, ${counted(groups.tension, 'tension')}, ${counted(groups.scale, 'other scale note')}, ${groups.outside} outside.`,
  ];
  if (chords > 0)
    said.push(`${chords === 1 ? 'One chord was' : `${chords} chords were`} heard and not followed.`);
  if (colours.length > 0) said.push(`Over the altered dominants: ${colourWords(colours)}.`);
  if (phrases.length > 0) {
    const starts = phrases.slice(0, 6).map(({ bar, beat }) => `bar ${bar}, beat ${beat}`);
    const more = phrases.length > 6 ? ' and on' : '';
    said.push(`Phrases began in ${starts.join('; ')}${more}.`);
  }
  if (timing !== null) said.push(timingWords(timing));
  return said;
}

const counted = (count: number, what: string) => `${count} ${what}${count === 1 ? '' : 's'}`;

function colourWords(colours: readonly ColourUse[]): string {
  const used = colours
    .filter(({ count }) => count > 0)
    .map(({ degree, count }) => `${degree} ${times(count)}`);
  const never = colours.filter(({ count }) => count === 0).map(({ degree }) => degree);
  return [list(used), never.length > 0 ? `${list(never)} never` : '']
    .filter((part) => part !== '')
    .join('; ');
}

function timingWords({ median, from, to }: NonNullable<ChorusSummary['timing']>): string {
  const side = median === 0 ? 'on the beat' : `${Math.abs(median)} ms ${median > 0 ? 'late' : 'early'}`;
  const signed = (ms: number) => (ms > 0 ? `+${ms}` : `${ms}`.replace('-', '−'));
  return `Against the felt beat: in the middle ${side}, half of the notes from ${signed(from)} to ${signed(to)} ms.`;
}

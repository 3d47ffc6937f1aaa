import { SIGNS } from './data.ts';
import type { Place, Reporter } from './problems.ts';
import type { ReadBar } from './raw-bar.ts';
import type { Structure, StructureIssue } from './structure.ts';
import type { Sign } from './types.ts';

const JUMPS_TO_SEGNO: readonly Sign[] = ['ds', 'ds-al-fine', 'ds-al-coda'];
const ENDS_AT_FINE: readonly Sign[] = ['dc-al-fine', 'ds-al-fine'];
const GOES_TO_CODA: readonly Sign[] = ['dc-al-coda', 'ds-al-coda'];

/** Reports repeats, endings and jumps that do not fit together. */
export function reportStructure(bars: readonly ReadBar[], { issues }: Structure, report: Reporter): void {
  for (const issue of issues) reportIssue(issue, bars, report);
  reportSigns(bars, report);
}

function reportIssue(issue: StructureIssue, bars: readonly ReadBar[], report: Reporter): void {
  const { raw } = bars[issue.bar]!;
  const bar = `bar ${issue.bar + 1}`;
  const other = `bar ${issue.other + 1}`;
  const end: Place = raw.repeatEnd ?? raw;
  switch (issue.kind) {
    case 'unclosed-repeat':
      return report.error(
        raw.repeatStart ?? raw,
        `The repeat that begins in ${bar} is never closed`,
        'It is played once. Write :| where it turns back.',
      );
    case 'unopened-repeat':
      return report.warning(
        end,
        `No |: belongs to this :|`,
        `It goes back to ${other}, after the repeat before. Write |: where it should begin.`,
      );
    case 'ending-without-repeat':
      return report.error(
        raw.ending ?? raw,
        'An ending without a repeat',
        'It is played straight through. Write :| at the end of the first ending.',
      );
    case 'ending-without-return':
      return report.error(
        raw.ending ?? raw,
        'This ending does not turn back',
        `Write :| at its end, after ${other}.`,
      );
    case 'last-ending-returns':
      return report.warning(
        end,
        'The last ending turns back, but no ending follows',
        `It is played once, the ${ordinal(issue.other)} time. Write a plain bar line here.`,
      );
    case 'missing-pass':
      return report.error(
        raw.ending ?? raw,
        `No ending is written for the ${ordinal(issue.other)} time`,
        'The first ending is played then. Number the endings without a gap, e.g. 1. and 2.',
      );
  }
}

function reportSigns(bars: readonly ReadBar[], report: Reporter): void {
  const found = bars.flatMap(({ raw }, index) =>
    index > 0 && bars[index - 1]!.raw === raw ? [] : raw.signs.map((token) => ({ token, sign: token.sign })),
  );
  const has = (...signs: readonly Sign[]) => found.some(({ sign }) => signs.includes(sign));
  const text = (sign: Sign) => SIGNS.find((spelling) => spelling.sign === sign)!.text;
  const seen = new Set<Sign>();
  for (const { token, sign } of found) {
    if (JUMPS_TO_SEGNO.includes(sign) && !has('segno'))
      report.error(
        token,
        `${text(sign)}, but there is no Segno`,
        'Write Segno at the bar to go back to, or D.C. to go back to the top.',
      );
    if (ENDS_AT_FINE.includes(sign) && !has('fine'))
      report.error(
        token,
        `${text(sign)}, but there is no Fine`,
        'Write Fine at the end of the bar where the music ends.',
      );
    if (GOES_TO_CODA.includes(sign) && !has('to-coda'))
      report.error(
        token,
        `${text(sign)}, but there is no To Coda`,
        'Write To Coda at the end of the bar to leave from.',
      );
    if (sign === 'to-coda' && !has('coda'))
      report.error(token, 'To Coda, but there is no Coda', 'Write Coda at the bar to go to.');
    if ((sign === 'to-coda' || sign === 'fine') && !has('dc', 'ds', ...ENDS_AT_FINE, ...GOES_TO_CODA))
      report.warning(
        token,
        `${text(sign)} counts only after D.C. or D.S.`,
        'Write one of them where the player goes back, or leave it out.',
      );
    if (sign === 'coda' && !has('to-coda'))
      report.warning(
        token,
        'No To Coda leads to this Coda',
        'Write To Coda at the end of the bar to leave from.',
      );
    if ((sign === 'segno' || sign === 'coda') && seen.has(sign))
      report.warning(token, `${text(sign)} is written twice`, 'The first one counts.');
    seen.add(sign);
  }
}

const ordinal = (number: number) => {
  const ending =
    number % 100 > 10 && number % 100 < 14 ? 'th' : (['th', 'st', 'nd', 'rd'][number % 10] ?? 'th');
  return `${number}${ending}`;
};

import type { BandSettings, CompingStyle, Feel, Pedal, Trade } from '../../engine/index.ts';

/** Something to choose, and what it does in one sentence. */
export interface Way {
  readonly value: string;
  readonly text: string;
  readonly sentence: string;
}

export const COMPINGS: readonly (Way & { readonly value: '' | CompingStyle })[] = [
  { value: '', text: 'Mixed', sentence: 'All the rhythms of the feel, none of them for long.' },
  {
    value: 'charleston',
    text: 'Charleston and kin',
    sentence: 'A chord on the beat and one off it, from wherever in the bar, and turned round.',
  },
  {
    value: 'four',
    text: 'Four to the bar',
    sentence: 'A short chord on every beat, as a rhythm guitar plays.',
  },
  { value: 'pads', text: 'Sparse pads', sentence: 'One held chord or two in a bar, and room for you.' },
];

export const TIMES: readonly (Way & { readonly value: '' | NonNullable<BandSettings['time']> })[] = [
  { value: '', text: 'As written', sentence: 'The band plays in the beat you set.' },
  {
    value: 'half',
    text: 'Half time',
    sentence:
      'The bars go by as before; the band plays as if the tempo were half of it, broad and with room.',
  },
  {
    value: 'double',
    text: 'Double time',
    sentence: 'The bars go by as before; the band plays as if the tempo were twice as fast.',
  },
];

const TWOS: readonly Way[] = [
  { value: '', text: 'Nowhere', sentence: 'The band plays its feel from the first bar on.' },
  {
    value: 'first-round',
    text: 'First round',
    sentence:
      'Half notes in the bass while the theme goes by once; from the second round on the band opens up.',
  },
  {
    value: 'every-other-round',
    text: 'Every other round',
    sentence: 'One round in two, the next opened up, and so on.',
  },
  {
    value: 'first-section',
    text: 'First section',
    sentence: 'In two wherever the section comes that the chart begins with; opened up in the others.',
  },
];

/** Where a feel can be played in two. */
export function twosOf({ inTwo, name }: Feel): readonly Way[] {
  if (inTwo !== null) return TWOS;
  return TWOS.map((way) => ({
    ...way,
    sentence: `${name} has no other way of being played in two: nothing changes.`,
  }));
}

/** How the band rises, that of a file among them. */
export function buildsOf(build: number | undefined): readonly Way[] {
  const rounds = [...new Set([2, 4, 8, ...(build === undefined ? [] : [build])])].sort((a, b) => a - b);
  return [
    { value: '', text: 'Stays level', sentence: 'The last round is played as hard as the first.' },
    ...rounds.map((count) => ({
      value: String(count),
      text: `Rises over ${count} rounds`,
      sentence: `Harder and busier from round to round, ${count} of them; then softly again, as for the next soloist.`,
    })),
  ];
}

const WHO: Readonly<Record<Trade['goesOn'], string>> = {
  'bass-and-drums': 'bass and drums go on',
  drums: 'drums go on',
  'drum-solo': 'with the drummer',
};
const MEANWHILE: Readonly<Record<Trade['goesOn'], string>> = {
  'bass-and-drums': 'in yours the chords rest and bass and drums keep time',
  drums: 'in yours only the drums keep time',
  'drum-solo': 'in the others the drummer plays alone and you listen, or answer',
};
const nameOf = ({ bars, every, goesOn }: Trade) => `${bars}/${every}/${goesOn}`;

/** Bars that can be left to the player, those of a file among them; by the name of the choice. */
export function tradesOf(
  trade: Trade | undefined,
): ReadonlyMap<string, Way & { readonly trade: Trade | undefined }> {
  const known: readonly Trade[] = (['bass-and-drums', 'drums', 'drum-solo'] as const).flatMap((goesOn) =>
    [2, 4, 8].map((bars) => ({ bars, every: 2 * bars, goesOn })),
  );
  const all = new Map(
    [...known, ...(trade === undefined ? [] : [trade])].map((each) => [nameOf(each), each]),
  );
  const none = { value: '', text: 'None', sentence: 'The whole band plays through.', trade: undefined };
  const ways = [...all].map(([value, each]) => {
    const { bars, every, goesOn } = each;
    const text = `${bars} of ${every}, ${WHO[goesOn]}`;
    const sentence = `${every - bars} bars for the band, ${bars} for you, in turn; ${MEANWHILE[goesOn]}.`;
    return [value, { value, text, sentence, trade: each }] as const;
  });
  return new Map<string, Way & { readonly trade: Trade | undefined }>([['', none], ...ways]);
}

/** The choice a trade is. */
export const tradeName = (trade: Trade | undefined): string => (trade === undefined ? '' : nameOf(trade));

export const PEDALS: readonly (Way & { readonly value: '' | Pedal['on'] })[] = [
  { value: '', text: 'None', sentence: 'The bass moves with the chords.' },
  {
    value: 'root',
    text: 'On the root of the key',
    sentence: 'The bass holds the tonic while the chords move above it.',
  },
  {
    value: 'fifth',
    text: 'On the fifth of the key',
    sentence: 'The bass holds the dominant while the chords move above it: it wants to resolve.',
  },
];

export const PEDAL_PLACES: readonly (Way & { readonly value: Pedal['where'] })[] = [
  { value: 'throughout', text: 'Throughout', sentence: 'From the first bar to the last.' },
  {
    value: 'first-section',
    text: 'First section',
    sentence:
      'Where the section comes that the chart begins with; in its first four bars where nothing is marked.',
  },
  {
    value: 'last-section',
    text: 'Last section',
    sentence: 'In the section the chart ends with; in its last four bars where nothing is marked.',
  },
  { value: 'every-other-round', text: 'Every other round', sentence: 'One round held, the next walked.' },
];

export const APPROACHES: readonly (Way & { readonly value: '' | 'tritone' })[] = [
  { value: '', text: 'As it comes', sentence: 'From a semitone, a tone or a fifth, on either side.' },
  {
    value: 'tritone',
    text: 'By the tritone substitute',
    sentence: 'Where a dominant falls a fifth, mostly from a semitone above: D♭ between G7 and C.',
  },
];

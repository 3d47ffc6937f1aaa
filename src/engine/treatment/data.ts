/**
 * The colours a dominant can be given. `suffix` is written after the root in place of the dominant's
 * own; `replaces` are the natural degrees the colour does away with, so that a slash bass on one of
 * them gives way to the root. Degrees count from the root of the chord as written.
 */
import type { Degree } from '../harmony/index.ts';
import type { TreatmentKind } from './types.ts';

export interface TreatmentInfo {
  readonly kind: TreatmentKind;
  /** As a menu shows it. */
  readonly label: string;
  /** As a narrow lane shows it. */
  readonly word: string;
  /** The scale the colour stands for, from the chord's root up. */
  readonly degrees: readonly Degree[];
  /** The symbol's ending; null where the chord keeps its own. */
  readonly suffix: string | null;
  readonly replaces: readonly Degree[];
  /** What it does, in one sentence a player reads. */
  readonly sentence: string;
  readonly source: string;
}

export const TREATMENTS: Readonly<Record<TreatmentKind, TreatmentInfo>> = Object.freeze({
  altered: {
    kind: 'altered',
    label: 'Altered',
    word: 'alt',
    degrees: ['1', 'b9', '#9', '3', 'b5', '#5', 'b7'],
    suffix: '7alt',
    replaces: ['5', '9', '13'],
    sentence: 'Both fifths and both ninths are altered; root, third and seventh stay.',
    source: 'common practice: seventh mode of the melodic minor a semitone above the root',
  },
  'flat-nine': {
    kind: 'flat-nine',
    label: 'Flat nine',
    word: 'b9',
    degrees: ['1', 'b9', '#9', '3', '#11', '5', '13', 'b7'],
    suffix: '7b9',
    replaces: ['9'],
    sentence: 'The ninth is flattened, fifth and thirteenth stay natural: the half-whole diminished sound.',
    source: 'common practice: the octatonic scale that begins with a semitone',
  },
  'flat-nine-flat-thirteen': {
    kind: 'flat-nine-flat-thirteen',
    label: 'Flat nine, flat thirteen',
    word: 'b9 b13',
    degrees: ['1', 'b9', '3', '11', '5', 'b13', 'b7'],
    suffix: '7b9b13',
    replaces: ['9', '13'],
    sentence: 'Ninth and thirteenth are flattened over a natural fifth, as a dominant in a minor key.',
    source: 'common practice: fifth mode of the harmonic minor',
  },
  'sharp-eleven': {
    kind: 'sharp-eleven',
    label: 'Sharp eleven',
    word: '#11',
    degrees: ['1', '9', '3', '#11', '5', '13', 'b7'],
    suffix: '7#11',
    replaces: ['11'],
    sentence: 'The eleventh is raised and all else stays natural: the lydian dominant sound.',
    source: 'common practice: fourth mode of the melodic minor a fifth above the root',
  },
  'whole-tone': {
    kind: 'whole-tone',
    label: 'Whole tone',
    word: 'whole',
    degrees: ['1', '9', '3', '#11', '#5', 'b7'],
    suffix: '9#5',
    replaces: ['5', '11', '13'],
    sentence: 'The fifth is raised under a natural ninth: every step is a whole tone.',
    source: 'common practice: the whole-tone scale from the root',
  },
  'suspended-first': {
    kind: 'suspended-first',
    label: 'Suspended first',
    word: 'sus',
    degrees: ['1', '9', '4', '5', '13', 'b7'],
    suffix: '7sus',
    replaces: ['3'],
    sentence: 'The fourth stands for the third in the first half, then falls to the third.',
    source: 'common practice: the suspension resolves down by step',
  },
  'tritone-substitute': {
    kind: 'tritone-substitute',
    label: 'Tritone substitute',
    word: 'tritone',
    degrees: ['b5', 'b13', 'b7', '1', 'b9', '#9', '3'],
    suffix: '7',
    replaces: [],
    sentence:
      'The dominant a tritone away takes its place: third and seventh change roles, the bass moves too.',
    source: 'common practice: two dominants a tritone apart share third and seventh',
  },
  plain: {
    kind: 'plain',
    label: 'Plain',
    word: 'plain',
    degrees: ['1', '9', '3', '11', '5', '13', 'b7'],
    suffix: null,
    replaces: [],
    sentence: 'The dominant without alterations, whatever the chart or a rule says here.',
    source: 'our choice, because a player must be able to take one place out of a rule',
  },
} satisfies Record<TreatmentKind, TreatmentInfo>);

for (const info of Object.values(TREATMENTS))
  for (const part of [info, info.degrees, info.replaces]) Object.freeze(part);

/** The kinds in the order they are offered. */
export const TREATMENT_KINDS: readonly TreatmentKind[] = Object.freeze(
  Object.keys(TREATMENTS) as TreatmentKind[],
);

/** Alterations that the treatment `plain` takes away. */
export const ALTERATIONS: readonly Degree[] = Object.freeze(['b5', '#5', 'b9', '#9', '#11', 'b13']);

/** The suffix of a dominant without alterations. */
export const PLAIN_SUFFIX = '7';

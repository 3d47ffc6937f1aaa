import type { ActionName } from '../keys/actions.ts';
import type { PanelName } from '../panels/panels.ts';

/** What the tour looks at. */
export interface Seen {
  /** The band has come past its count-in. */
  readonly heard: boolean;
  /** Dominants that were altered live since the band began. */
  readonly altered: number;
  /** The stretch that loops, as text; null for the whole form. */
  readonly loop: string | null;
  /** Whether and how the neck is shown; "away" while it is not. */
  readonly neck: string;
  /** Quarter notes a minute. */
  readonly tempo: number;
  readonly ladder: boolean;
  readonly sheet: PanelName | null;
}

export interface Doing {
  /** What there is to do. */
  readonly what: string;
  /** The action whose key is told beside it. */
  readonly key: ActionName;
  /** Where it is done: a control of the page, or of a sheet by its caption. */
  readonly where: string | { readonly sheet: PanelName; readonly label: string };
}

export interface Step extends Doing {
  readonly name: 'play' | 'alter' | 'loop' | 'neck' | 'slower' | 'sheets';
  /** What was done, once it was. */
  readonly done: string;
  /** Another way to do it, where things stand otherwise when the step begins. */
  other?(before: Seen): Doing | null;
  /** @param before how things stood when the step began */
  isDone(now: Seen, before: Seen): boolean;
}

const ONE_FORM: Doing = {
  what: 'The neck shows the scale. Press One form for one place.',
  key: 'stay',
  where: '.beside .all',
};

/** The tour, in the order of a first practice session. */
export const STEPS: readonly Step[] = [
  {
    name: 'play',
    what: 'Press Play. The band plays what the chart says.',
    key: 'play',
    done: 'That is the band.',
    where: '.dock .play button',
    isDone: ({ heard }) => heard,
  },
  {
    name: 'alter',
    what: 'Tap Alter while a dominant sounds: from the next beat it is altered.',
    key: 'alter',
    done: 'Altered, and home again.',
    where: '.dock .touch',
    isDone: (now, before) => now.altered > before.altered,
  },
  {
    name: 'loop',
    what: 'Loop two beats: drag across them along the bar numbers.',
    key: 'loop',
    done: 'It goes round.',
    where: '.ribbon [role="gridcell"][tabindex="0"]',
    isDone: (now, before) => now.loop !== null && now.loop !== before.loop,
  },
  {
    name: 'neck',
    what: 'See the scale on the neck: in the sheet Neck, choose it beside what sounds.',
    key: 'neck',
    done: 'There it lies.',
    other: ({ neck }) => (neck === 'away' ? null : ONE_FORM),
    where: { sheet: 'neck', label: 'Beside what sounds' },
    isDone: (now, before) => now.neck !== 'away' && now.neck !== before.neck,
  },
  {
    name: 'slower',
    what: 'Take it slower, or set a ladder in Practice that climbs by itself.',
    key: 'slower',
    done: 'Slower.',
    where: '.dock .tempo button',
    isDone: (now, before) => now.tempo < before.tempo || (now.ladder && !before.ladder),
  },
  {
    name: 'sheets',
    what: 'Help tells every key, and Charts holds ready-made changes.',
    key: 'charts',
    done: 'That is all there is to know at first.',
    where: 'nav button',
    isDone: (now, before) => now.sheet !== before.sheet && (now.sheet === 'charts' || now.sheet === 'help'),
  },
];

import type { Trouble } from '../engine/index.ts';

/** What can go wrong with the device, in words. */
const TROUBLES = {
  absent: {
    message: 'This browser lets the page keep nothing, so charts last only until the page is closed.',
    remedy: 'Save each chart as a file, or open the page outside a private window.',
  },
  blocked: {
    message: 'The library could not be opened, so charts last only until the page is closed.',
    remedy: 'Close other tabs with this page and load it again; until then save each chart as a file.',
  },
  newer: {
    message: 'The library was last used by a newer version of this page, so it was not opened here.',
    remedy: 'Load the page again; until then save each chart as a file.',
  },
  full: {
    message: 'The device has no room left, so the last change is not saved.',
    remedy: 'Save the chart as a file, then remove charts you no longer need or free room on the device.',
  },
  'no-room-for-sound': {
    message: 'The device has no room left for the recording, so it is not kept here.',
    remedy: 'Save it as a file now, then remove takes you no longer need.',
  },
  'backup-too-large': {
    message: 'The takes are too many for one file.',
    remedy: 'Save the takes one by one as files, and the library without them.',
  },
  'too-large': {
    message: 'The chart is larger than the library can hold.',
    remedy: 'Divide it into several charts.',
  },
  missing: {
    message: 'The chart is no longer in the library.',
    remedy: 'It was removed for good, here or in another tab; take it from a file if you have one.',
  },
  unreachable: {
    message: 'The library cannot be reached, so the last change is not saved.',
    remedy: 'Save the chart as a file and load the page again.',
  },
} as const satisfies Record<string, Trouble>;

export type TroubleKind = keyof typeof TROUBLES;

/** An error that knows its words. Stays within storage: what leaves it is a `Trouble`. */
export class StorageFailure extends Error {
  readonly kind: TroubleKind;
  constructor(kind: TroubleKind) {
    super(kind);
    this.kind = kind;
  }
}

export const failure = (kind: TroubleKind): StorageFailure => new StorageFailure(kind);

/** Browsers' names for what went wrong (Indexed Database API 3.0, exceptions). */
const KINDS: Readonly<Record<string, TroubleKind>> = {
  QuotaExceededError: 'full',
  VersionError: 'newer',
  SecurityError: 'absent',
  InvalidStateError: 'unreachable',
};

/** Why the library could not be opened at all. */
export function openingTroubleOf(error: unknown): Trouble {
  const trouble = troubleOf(error);
  return trouble === TROUBLES.unreachable ? TROUBLES.absent : trouble;
}

/** Whatever was thrown, in words with a remedy. */
export function troubleOf(error: unknown): Trouble {
  if (error instanceof StorageFailure) return TROUBLES[error.kind];
  const name = error instanceof Error || error instanceof DOMException ? error.name : '';
  return TROUBLES[(Object.hasOwn(KINDS, name) && KINDS[name]) || 'unreachable'];
}

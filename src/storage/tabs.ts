import type { StorageNews } from '../ui/ports.ts';
import { platform } from './platform.ts';
import { RECORD_KINDS } from './shelf.ts';

/** What one tab tells the others. */
export type Word = Extract<StorageNews, { type: 'changed-elsewhere' | 'records-elsewhere' }>;

/** A word to the other tabs. */
export interface Tabs {
  tell(word: Word): void;
  close(): void;
}

/**
 * Joins the tabs that share a library. Where the browser has no channel between tabs nothing is heard,
 * and a save still finds out by the revision that another tab has been there.
 * @param name of the library
 * @param hear is called with what another tab has changed
 */
export function joinTabs(name: string, hear: (word: Word) => void): Tabs {
  if (platform.BroadcastChannel === undefined) return { tell: () => undefined, close: () => undefined };
  const channel = new platform.BroadcastChannel(name);
  channel.onmessage = ({ data }: MessageEvent<unknown>) => {
    // On the channel a chart is its id alone, and anything else the name of its kind after a full stop.
    const kind = RECORD_KINDS.find((one) => data === `.${one}`);
    if (kind !== undefined) hear({ type: 'records-elsewhere', kind });
    else if (typeof data === 'string') hear({ type: 'changed-elsewhere', id: data });
  };
  let closed = false;
  return {
    tell(word) {
      // A write may end after the library was closed: it is kept all the same, and no one is left to hear of it.
      if (!closed) channel.postMessage(word.type === 'changed-elsewhere' ? word.id : `.${word.kind}`);
    },
    close() {
      closed = true;
      channel.close();
    },
  };
}

import { platform } from './platform.ts';

/** A word to the other tabs: this chart has changed. */
export interface Tabs {
  tell(id: string): void;
  close(): void;
}

/**
 * Joins the tabs that share a library. Where the browser has no channel between tabs nothing is heard,
 * and a save still finds out by the revision that another tab has been there.
 * @param name of the library
 * @param hear is called with the id of each chart another tab has changed
 */
export function joinTabs(name: string, hear: (id: string) => void): Tabs {
  if (platform.BroadcastChannel === undefined) return { tell: () => undefined, close: () => undefined };
  const channel = new platform.BroadcastChannel(name);
  channel.onmessage = ({ data }: MessageEvent<unknown>) => {
    if (typeof data === 'string') hear(data);
  };
  return {
    tell: (id) => channel.postMessage(id),
    close: () => channel.close(),
  };
}

import type { HeardNote } from '../../engine/index.ts';
import { Follower } from './follower.ts';

/** A rate begins a recording, samples go on with it, null ends it. */
export type ToFollow = number | Float32Array | null;
/** What has been heard, and the key that sounds now; `done` once the recording has ended. */
export interface Followed {
  readonly notes: readonly HeardNote[];
  readonly now: number | null;
  readonly done: boolean;
}

/** Follows the notes beside the page and beside the audio clock, so that neither waits for it. */
let follower: Follower | null = null;

addEventListener('message', ({ data }: MessageEvent<ToFollow>) => {
  if (typeof data === 'number') follower = new Follower(data);
  else if (follower !== null) {
    const notes = data === null ? follower.end() : follower.push(data);
    postMessage({ notes, now: follower.now, done: data === null } satisfies Followed);
  }
});

import type { RecorderNews, RecorderPort } from '../../ui/ports.ts';
import type { Encode } from '../files.ts';
import type { Player } from '../types.ts';
import { LONGEST_TAKE } from './tape.ts';

/**
 * A recorder that loads its code when the microphone is first asked for.
 * @param deck the player whose clock it records on, made within the gesture that asks
 * @param encoder loads what makes sound files
 */
export function recorderOnDemand(deck: () => Promise<Player>, encoder: () => Promise<Encode>): RecorderPort {
  const listeners = new Set<(news: RecorderNews) => void>();
  let made: RecorderPort | null = null;
  let making: Promise<RecorderPort> | null = null;

  const make = async (): Promise<RecorderPort> => {
    const [player, { Recorder, openMicrophone }, encode] = await Promise.all([
      deck(),
      import('./index.ts'),
      encoder(),
    ]);
    made = new Recorder(player, openMicrophone, encode);
    made.watch((news) => listeners.forEach((listener) => listener(news)));
    return made;
  };
  const recorder = () =>
    (making ??= make().catch((reason: unknown) => {
      making = null;
      throw reason;
    }));

  return {
    longest: LONGEST_TAKE,
    open: async () => (await recorder()).open(),
    close: () => made?.close(),
    begin: () => made?.begin(),
    end: async () => (await recorder()).end(),
    measure: async () => (await recorder()).measure(),
    accompany: async (sound, at) => (await recorder()).accompany(sound, at),
    alone: () => made?.alone(),
    mixdown: async (sound, at, request) => (await recorder()).mixdown(sound, at, request),
    setBalance(balance) {
      made?.setBalance(balance);
    },
    watch(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}

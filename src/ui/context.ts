import { getContext, setContext } from 'svelte';
import type { Pedals } from './keys/pedals.svelte.ts';
import type { Session } from './session.svelte.ts';

const KEY = Symbol('session');
const PEDALS = Symbol('pedals');

/** Gives the session to every component below. */
export function provideSession(session: Session): void {
  setContext(KEY, session);
}

/** The session this component belongs to. */
export function useSession(): Session {
  return getContext<Session>(KEY);
}

/** Gives the MIDI devices to every component below. */
export function providePedals(pedals: Pedals): void {
  setContext(PEDALS, pedals);
}

export function usePedals(): Pedals {
  return getContext<Pedals>(PEDALS);
}

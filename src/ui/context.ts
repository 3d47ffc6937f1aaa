import { getContext, setContext } from 'svelte';
import type { Session } from './session.svelte.ts';

const KEY = Symbol('session');

/** Gives the session to every component below. */
export function provideSession(session: Session): void {
  setContext(KEY, session);
}

/** The session this component belongs to. */
export function useSession(): Session {
  return getContext<Session>(KEY);
}

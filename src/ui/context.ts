import { getContext, setContext } from 'svelte';
import type { Pedals } from './keys/pedals.svelte.ts';
import type { Library } from './library/library.svelte.ts';
import type { Quiz } from './ear/quiz.svelte.ts';
import type { Routine } from './plan/routine.svelte.ts';
import type { NeckState } from './neck/state.svelte.ts';
import type { Session } from './session.svelte.ts';
import type { Taking } from './take/taking.svelte.ts';
import type { Tour } from './tour/tour.svelte.ts';
import type { Turns } from './turns.svelte.ts';

const KEY = Symbol('session');
const PEDALS = Symbol('pedals');
const LIBRARY = Symbol('library');
const ROUTINE = Symbol('routine');
const QUIZ = Symbol('quiz');
const NECK = Symbol('neck');
const TAKING = Symbol('taking');
const TOUR = Symbol('tour');
const TURNS = Symbol('turns');

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

/** Gives the library to every component below; null where the page keeps none. */
export function provideLibrary(library: Library | null): void {
  setContext(LIBRARY, library);
}

/** The library of this page; null where it keeps none. */
export function useLibrary(): Library | null {
  return getContext<Library | null>(LIBRARY);
}

/** Gives plans and log to every component below; null where the page keeps none. */
export function provideRoutine(routine: Routine | null): void {
  setContext(ROUTINE, routine);
}

export function useRoutine(): Routine | null {
  return getContext<Routine | null>(ROUTINE);
}

/** Gives the ear's questions to every component below. */
export function provideQuiz(quiz: Quiz): void {
  setContext(QUIZ, quiz);
}

export function useQuiz(): Quiz {
  return getContext<Quiz>(QUIZ);
}

/** Gives the neck beside the stage to every component below. */
export function provideNeck(neck: NeckState): void {
  setContext(NECK, neck);
}

export function useNeck(): NeckState {
  return getContext<NeckState>(NECK);
}

/** Gives the takes to every component below; null where nothing can be recorded. */
export function provideTaking(taking: Taking | null): void {
  setContext(TAKING, taking);
}

/** The takes of this page; null where nothing can be recorded. */
export function useTaking(): Taking | null {
  return getContext<Taking | null>(TAKING) ?? null;
}

/** Gives the tour to every component below. */
export function provideTour(tour: Tour): void {
  setContext(TOUR, tour);
}

export function useTour(): Tour {
  return getContext<Tour>(TOUR);
}

/** Gives the order in which the page comes to every component below; null where all comes at once. */
export function provideTurns(turns: Turns | null): void {
  setContext(TURNS, turns);
}

/** The order in which the page comes; null where all comes at once. */
export function useTurns(): Turns | null {
  return getContext<Turns | null>(TURNS) ?? null;
}

import type { Balance, Guest, Moment, Player } from '../types.ts';

/** What recording needs of the player: the clock it plays on, and how the music has moved. */
export type Deck = Pick<Player, 'clock' | 'course' | 'delay' | 'accompany' | 'setBalance'>;

export type { Balance, Guest, Moment };

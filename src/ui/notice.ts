/** What can be done about a word to the player. */
export interface Answer {
  readonly label: string;
  readonly run: () => void;
}

/** A word to the player, and what can be done about it. */
export interface Notice {
  readonly text: string;
  readonly answer: Answer | null;
}

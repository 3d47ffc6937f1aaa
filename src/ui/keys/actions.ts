/** What a key or a pedal can do, wherever the focus is. */
export type ActionName =
  | 'play'
  | 'finish'
  | 'alter'
  | 'alter-beat'
  | 'alter-two-beats'
  | 'alter-bar'
  | 'loop'
  | 'again'
  | 'easier'
  | 'slower'
  | 'faster'
  | 'functions'
  | 'targets'
  | 'stand'
  | 'neck'
  | 'form-up'
  | 'form-down'
  | 'stay'
  | 'text'
  | 'charts'
  | 'next-chart'
  | 'chart-before'
  | 'practice'
  | 'drills'
  | 'plan'
  | 'ear'
  | 'take'
  | 'record'
  | 'mark'
  | 'band'
  | 'files'
  | 'instrument'
  | 'handout'
  | 'help'
  | 'find'
  | 'undo'
  | 'redo';

export interface Action {
  readonly name: ActionName;
  /** What it does, as the help sheet says it. */
  readonly what: string;
  /** Keys as {@link keyName} writes them. */
  readonly keys: readonly string[];
}

/** Every action with its usual keys. Page keys are what most page-turning pedals send (common practice). */
export const ACTIONS: readonly Action[] = [
  { name: 'play', what: 'Play or stop', keys: ['Space', 'PageUp'] },
  { name: 'finish', what: 'Bring the music to its end: slow down, and hold the last chord', keys: ['F'] },
  { name: 'alter', what: 'Alter from the next beat; hold to keep it altered', keys: ['A', 'PageDown'] },
  { name: 'alter-beat', what: 'Let a tap alter one beat', keys: ['1'] },
  { name: 'alter-two-beats', what: 'Let a tap alter two beats', keys: ['2'] },
  { name: 'alter-bar', what: 'Let a tap alter a bar', keys: ['3'] },
  { name: 'loop', what: 'Loop the selected beats, or stop looping', keys: ['L'] },
  { name: 'again', what: 'Play this round once more from its beginning', keys: ['W'] },
  { name: 'easier', what: 'Easier: this round once more, a step slower', keys: ['D'] },
  { name: 'slower', what: 'Slower', keys: ['-'] },
  { name: 'faster', what: 'Faster', keys: ['+', '='] },
  { name: 'functions', what: 'Show under each chord what it does in its key', keys: ['R'] },
  { name: 'targets', what: 'Show at each change which notes move where', keys: ['G'] },
  { name: 'stand', what: 'Stand view: large, for reading from two metres', keys: ['S'] },
  { name: 'neck', what: 'Show the neck, or take it away', keys: ['K'] },
  { name: 'form-down', what: 'The form before, down the neck', keys: [','] },
  { name: 'form-up', what: 'The next form, up the neck', keys: ['.'] },
  { name: 'stay', what: 'Stay in one form on the neck, or see all notes', keys: ['X'] },
  { name: 'text', what: 'Edit the chart as text', keys: ['E'] },
  { name: 'charts', what: 'Choose a chart', keys: ['O'] },
  { name: 'next-chart', what: 'The next chart of the set', keys: [']'] },
  { name: 'chart-before', what: 'The chart before it in the set', keys: ['['] },
  { name: 'practice', what: 'Practice: loop, ladder, keys, switching', keys: ['P'] },
  { name: 'drills', what: 'Drills: notation to read, hear and keep', keys: ['U'] },
  { name: 'plan', what: 'Plans: a practice session that runs itself', keys: ['Y'] },
  { name: 'ear', what: 'Tell colours by ear', keys: ['I'] },
  { name: 'take', what: 'Takes: record yourself over the band, listen back', keys: ['Z'] },
  { name: 'record', what: 'Record a take, or end it', keys: ['Q'] },
  { name: 'mark', what: 'Mark this spot in the take that is recorded or heard', keys: ['M'] },
  { name: 'band', what: 'The band: feel, mixer, rules', keys: ['B'] },
  { name: 'files', what: 'Files and links: hand the chart over, save its sound, open a file', keys: ['J'] },
  { name: 'handout', what: 'The handout: a page to practise from, to look at and print', keys: ['Ctrl+P'] },
  { name: 'instrument', what: 'The neck: tuning, names, forms', keys: ['V'] },
  { name: 'help', what: 'Help and keys', keys: ['?'] },
  { name: 'find', what: 'Find an action or a setting by name', keys: ['/', 'Ctrl+K'] },
  { name: 'undo', what: 'Take back', keys: ['Ctrl+Z'] },
  { name: 'redo', what: 'Do again', keys: ['Ctrl+Shift+Z', 'Ctrl+Y'] },
];

/** A table of keys in which `key` does `name` and nothing else. */
export function withKey(
  keys: Readonly<Record<ActionName, readonly string[]>>,
  name: ActionName,
  key: string,
): Readonly<Record<ActionName, readonly string[]>> {
  const others: Record<ActionName, readonly string[]> = { ...keys };
  for (const action of ACTIONS) others[action.name] = keys[action.name].filter((other) => other !== key);
  return { ...others, [name]: [...others[name], key] };
}

export const DEFAULT_KEYS = Object.fromEntries(
  ACTIONS.map(({ name, keys }) => [name, keys]),
) as unknown as Readonly<Record<ActionName, readonly string[]>>;

/** The keys of the ribbon while it has the focus; they are its own and cannot be moved. */
export const RIBBON_KEYS: readonly (readonly [string, string])[] = [
  ['← →', 'A beat back or on'],
  ['↑ ↓', 'A line up or down'],
  ['Home End', 'To the start or end of the line'],
  ['Shift with an arrow', 'Select beats'],
  ['Enter', 'Edit the chord'],
  ['T', 'Alter the selected beats, or open what is placed there'],
  ['N', 'Choose the notes: another scale for the chord'],
  ['H', 'A hit on the beat, or open the one that is there'],
  ['Shift+H', 'A hit off the beat'],
  ['L', 'Loop the selected beats'],
  ['Delete', 'Take the treatment or the hit away'],
  ['Shift+Enter', 'Play from this beat'],
  ['Escape', 'Let go of the selection'],
];

/** A pressed key as the tables write it: modifiers, then the key; "Cmd" counts as "Ctrl". */
export function keyName(
  event: Pick<KeyboardEvent, 'key' | 'ctrlKey' | 'metaKey' | 'shiftKey' | 'altKey'>,
): string {
  const held = [];
  if (event.ctrlKey || event.metaKey) held.push('Ctrl');
  if (event.altKey) held.push('Alt');
  const key = event.key === ' ' ? 'Space' : event.key.length === 1 ? event.key.toUpperCase() : event.key;
  // A letter's shift is a modifier; a sign's shift is part of typing it.
  if (event.shiftKey && (key.length > 1 || /[A-Z]/.test(key))) held.push('Shift');
  return [...held, key].join('+');
}

/** True where typing belongs to the field that has the focus. */
export function isTyping(target: EventTarget | null): boolean {
  if (!(target instanceof HTMLElement)) return false;
  if (target instanceof HTMLInputElement)
    return !['range', 'checkbox', 'radio', 'button'].includes(target.type);
  return (
    target instanceof HTMLTextAreaElement || target instanceof HTMLSelectElement || target.isContentEditable
  );
}

/** True where the focused control itself answers to Space, Enter and the arrows. */
export function answersKeys(target: EventTarget | null): boolean {
  return target instanceof HTMLElement && target.matches('button, summary, a[href], input, select');
}

/** Keys that pedals send besides the page keys and Space (common practice), and that controls have a use for. */
export const PEDAL_KEYS: readonly string[] = ['ArrowLeft', 'ArrowRight', 'ArrowUp', 'ArrowDown', 'Enter'];

/** True on a beat of the ribbon. */
export const isBeat = (target: EventTarget | null): boolean =>
  target instanceof HTMLElement && target.dataset['tick'] !== undefined;

/**
 * True where the control that has the focus keeps a key for itself although an action is bound to it:
 * Space and Enter unless the focus came there by pointing, arrows where they move a value.
 */
export function keepsKey(target: EventTarget | null, name: string, pointed: boolean): boolean {
  if (!(target instanceof HTMLElement)) return false;
  if (name.startsWith('Arrow') && target.matches('input, select')) return true;
  if (pointed) return false;
  const pedals = PEDAL_KEYS.includes(name);
  return (pedals && isBeat(target)) || ((pedals || name === 'Space') && answersKeys(target));
}

import { endMusic } from '../dock/end.ts';
import { pressAlter, releaseAlter } from '../dock/alter.ts';
import type { NeckState } from '../neck/state.svelte.ts';
import type { PanelName } from '../panels/panels.ts';
import type { RibbonState } from '../ribbon/state.svelte.ts';
import type { Session } from '../session.svelte.ts';
import { answersKeys, isBeat, isTyping, keepsKey, keyName, PEDAL_KEYS, type ActionName } from './actions.ts';
import type { MidiMove } from './midi.ts';

interface Page {
  readonly neck: Pick<NeckState, 'set' | 'shown' | 'step' | 'toggleForm'>;
  panel(name: PanelName): void;
  /** To the next chart of the set, or the one before. */
  turn(by: -1 | 1): void;
  stand(): void;
  find(): void;
  record(): void;
  mark(): void;
  handout(): void;
}

/** Keys, and pedals that send keys or MIDI: they act wherever the focus is. */
export class Keyboard {
  readonly #session: Session;
  readonly #does: Readonly<Record<ActionName, () => void>>;
  /** The key that holds a touch down. */
  #holding: string | null = null;
  /** True while the focus was put where it is by pointing, so that Space is free for the band. */
  #pointed = false;

  constructor(session: Session, ribbon: RibbonState, page: Page) {
    this.#session = session;
    const { playing, preferences } = session;
    const { practising } = session;
    const tempo = (by: number) => session.setTempo(practising.tempo + by);
    this.#does = {
      finish: () => endMusic(session, 'round'),
      play: () => (playing.on ? playing.stop() : void session.play(ribbon.startsAt())),
      alter: () => pressAlter(session),
      'alter-beat': () => preferences.set({ alterLength: 'beat' }),
      'alter-two-beats': () => preferences.set({ alterLength: 'two-beats' }),
      'alter-bar': () => preferences.set({ alterLength: 'bar' }),
      loop: () => ribbon.toggleLoop(),
      again: () => practising.again(),
      easier: () => practising.easier(),
      slower: () => tempo(-2),
      faster: () => tempo(2),
      functions: () => preferences.set({ functions: !preferences.values.functions }),
      targets: () => preferences.set({ targets: !preferences.values.targets }),
      stand: () => page.stand(),
      neck: () => page.neck.set({ shown: !page.neck.shown }),
      'form-up': () => page.neck.step(1),
      'form-down': () => page.neck.step(-1),
      stay: () => page.neck.toggleForm(),
      text: () => page.panel('text'),
      charts: () => page.panel('charts'),
      'next-chart': () => page.turn(1),
      'chart-before': () => page.turn(-1),
      practice: () => page.panel('practice'),
      drills: () => page.panel('drills'),
      plan: () => page.panel('plan'),
      ear: () => page.panel('ear'),
      take: () => page.panel('take'),
      record: () => page.record(),
      mark: () => page.mark(),
      handout: () => page.handout(),
      band: () => page.panel('band'),
      files: () => page.panel('files'),
      instrument: () => page.panel('neck'),
      help: () => page.panel('help'),
      find: () => page.find(),
      undo: () => session.undo(),
      redo: () => session.redo(),
    };
  }

  pointed(): void {
    this.#pointed = true;
  }

  /** Before any control hears of it: a pedal's arrow acts where the focus came to the ribbon by pointing. */
  capture(event: KeyboardEvent): void {
    if (this.#pointed && PEDAL_KEYS.includes(keyName(event)) && isBeat(event.target)) this.down(event);
    if (event.defaultPrevented) event.stopPropagation();
  }

  down(event: KeyboardEvent): void {
    if (event.key === 'Tab') this.#pointed = false;
    if (event.defaultPrevented) return;
    const name = keyName(event);
    const action = this.#actionOf(name);
    if (action === null) return;
    const typing = isTyping(event.target);
    // A text field takes back its own typing; everywhere else a bare key would be typed.
    if (typing && !(event.ctrlKey || event.metaKey)) return;
    if (keepsKey(event.target, name, this.#pointed)) return;
    if (name.length === 1 && !this.#session.preferences.values.letterKeys) return;
    event.preventDefault();
    if (!event.repeat) this.#press(action, event.code);
  }

  up(event: KeyboardEvent): void {
    if (this.#pointed && event.key === ' ' && answersKeys(event.target)) event.preventDefault();
    this.#release(event.code);
  }

  /** Does an action once, as its key tapped would. */
  perform(action: ActionName): void {
    this.#press(action, 'found');
    this.#release('found');
  }

  /** What a MIDI device was told to do. */
  midi({ name, does }: MidiMove): void {
    const action = does === 'release' ? null : this.#actionOf(name);
    if (action !== null) this.#press(action, name);
    if (does !== 'press') this.#release(name);
  }

  /** The window lost the focus: no key is down any more. */
  left(): void {
    this.#holding = null;
    releaseAlter(this.#session);
  }

  /** @param by what holds it down, until it is released */
  #press(action: ActionName, by: string) {
    if (action === 'alter') this.#holding = by;
    this.#does[action]();
  }

  #release(by: string) {
    if (this.#holding !== by) return;
    this.#holding = null;
    releaseAlter(this.#session);
  }

  #actionOf(name: string): ActionName | null {
    const { keys } = this.#session.preferences.values;
    const found = Object.entries(keys).find(([, list]) => list.includes(name));
    return (found?.[0] as ActionName | undefined) ?? null;
  }
}

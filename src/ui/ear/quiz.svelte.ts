import {
  isDominant,
  nextKind,
  told,
  type Changes,
  type EarRecord,
  type PlayPlan,
  type Stretch,
  type TreatmentKind,
} from '../../engine/index.ts';
import type { Playing } from '../playing.svelte.ts';
import type { Preferences } from '../preferences.svelte.ts';
import type { Overlay } from '../overlay.ts';

/** What the ear's questions need of the session. */
interface Heard {
  readonly playing: Playing;
  readonly preferences: Preferences;
  readonly plan: PlayPlan;
  readonly loop: Stretch | null;
  readonly changes: Changes;
  overlay: Overlay | null;
  play(): Promise<void>;
  say(text: string): void;
}

/** A colour that is played, to be told by ear. */
export interface Question {
  readonly kind: TreatmentKind;
  /** What the player took it for; null while it is open. */
  readonly answer: TreatmentKind | null;
}

/** The band plays the spot in one of several colours; the player says which. */
export class Quiz {
  question: Question | null = $state.raw(null);
  /** How many were asked since it began. */
  asked = $state(0);
  readonly #session: Heard;

  constructor(session: Heard) {
    this.#session = session;
  }

  get record(): EarRecord {
    return this.#session.preferences.values.ear;
  }

  /** The colours that are asked about, two at the least. */
  get kinds(): readonly TreatmentKind[] {
    return this.#session.preferences.values.earKinds;
  }

  /** Takes a colour in or out; the last two stay. */
  include(kind: TreatmentKind, on: boolean): void {
    const others = this.kinds.filter((known) => known !== kind);
    if (on) this.#session.preferences.set({ earKinds: [...others, kind] });
    else if (others.length >= 2) this.#session.preferences.set({ earKinds: others });
  }

  /** Plays the first question; must come from a user's gesture. */
  async begin(): Promise<void> {
    const { loop, changes } = this.#session;
    const there = changes.spans.some(
      ({ written, start, length }) =>
        written !== null &&
        isDominant(written) &&
        (loop === null || (start < loop.to && start + length > loop.from)),
    );
    if (!there) {
      this.#session.say('There is no dominant to listen to here. Loop one, or choose another chart.');
      return;
    }
    this.asked = 0;
    this.#ask();
    await this.#session.play();
  }

  /** Takes an answer and shows what it was. */
  answer(kind: TreatmentKind): void {
    const { question } = this;
    if (question === null || question.answer !== null) return;
    this.question = { ...question, answer: kind };
    this.#session.preferences.set({ ear: told(this.record, question.kind, kind) });
    if (this.#session.overlay !== null) this.#session.overlay = { ...this.#session.overlay, hidden: false };
  }

  /** The next question from the next bar on, at the beginning of the round. */
  next(): void {
    if (this.question === null) return;
    this.#ask();
    this.#session.playing.again(this.#session.plan, 'bar');
  }

  /** The band plays the chart as it is again. */
  end(): void {
    if (this.question === null) return;
    this.question = null;
    this.#session.overlay = null;
    const { playing, plan } = this.#session;
    if (playing.on) playing.revise(plan, 'bar');
  }

  /** Goes on by itself at the end of a round in which an answer was given; to be called at each beat. */
  look(): void {
    const { now, on } = this.#session.playing;
    if (this.question === null) return;
    if (!on) this.end();
    else if (this.question.answer !== null && now !== null && now.countIn === 0) {
      const lastBar = now.place.changes.bars.length - 1;
      if (now.bar === lastBar && now.beat >= 1) this.next();
    }
  }

  #ask() {
    const { seed } = this.#session.plan.settings;
    const kind = nextKind(this.record, this.kinds, seed + this.#total(), this.asked);
    this.asked++;
    this.question = { kind, answer: null };
    const when = { type: 'always' as const };
    const rule = { id: 'ear', kind, scope: 'every-dominant' as const, extent: { type: 'whole' as const } };
    this.#session.overlay = { layers: { placed: [], rules: [{ ...rule, bars: null, when }] }, hidden: true };
  }

  /** Questions ever asked, so that another day brings others. */
  #total(): number {
    return Object.values(this.record).reduce((sum, { asked }) => sum + asked, 0);
  }
}

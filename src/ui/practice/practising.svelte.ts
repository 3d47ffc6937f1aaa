import {
  bpm,
  commonName,
  firstStanding,
  loopOf,
  pitchClass,
  roundKey,
  roundTempo,
  rungBack,
  TEMPO_RANGE,
  type Bpm,
  type HomeKey,
  type NoteName,
  type PlayPlan,
  type Practice,
  type Project,
  type Reading,
  type Standing,
  type Stretch,
} from '../../engine/index.ts';
import type { Playing } from '../playing.svelte.ts';

/** What practice needs of the session it belongs to. */
interface Practised {
  readonly project: Project;
  readonly playing: Playing;
  readonly reading: Reading;
  readonly plan: PlayPlan;
  /** What is played, by that plan or by a drill's. */
  readonly played: PlayPlan;
  readonly round: number;
  /** In which the round sounds. */
  readonly key: HomeKey;
  /** Changes of one `run` are undone together; null stands alone. */
  change(change: Partial<Project>, what: string, run: string | null): void;
  /** Lets the band hear what was changed, from its next bar on. */
  hear(): void;
  setTempo(value: number): void;
  say(text: string): void;
}

/** What happens from round to round, and how far it has come. */
export class Practising {
  /** Null before the band has begun: practice stands at its beginning. */
  standing: Standing | null = $state.raw(null);
  readonly #session: Practised;

  constructor(session: Practised) {
    this.#session = session;
  }

  get practice(): Practice {
    return this.#session.project.practice;
  }

  /** The tempo of the round that is played, or with which the band begins. */
  get tempo(): Bpm {
    return roundTempo(this.#session.plan, this.#session.round);
  }

  /** By how many semitones the chart is moved in the round that is played. */
  get semitones(): number {
    return roundKey(this.#session.plan, this.#session.round);
  }

  /** The tonic of the chart as written; the session's key is that of the round that sounds. */
  get homeTonic(): NoteName {
    const { key, project } = this.#session;
    return project.key?.tonic ?? commonName(pitchClass(key.tonic) - this.semitones + 12);
  }

  /** The band is about to begin. */
  begin(): void {
    this.standing = firstStanding(this.practice, this.#session.project.settings.tempo);
  }

  set(change: Partial<Practice>, what: string, run: string | null = null): void {
    const before = this.practice;
    this.#session.change({ practice: { ...before, ...change } }, what, run);
    this.follow(before);
    this.#session.hear();
  }

  /** Loops a stretch of the form with something before and after it. */
  loop(stretch: Stretch, around: Partial<Practice>): void {
    const loop = loopOf(stretch, this.#session.reading.written);
    this.#session.change({ loop, practice: { ...this.practice, ...around } }, 'Loop', null);
    this.#session.hear();
  }

  /** What is practised was changed by whatever means: what began anew begins with this round. */
  follow(before: Practice): void {
    const { playing, round, project } = this.#session;
    const now = this.practice;
    if (now === before) return;
    const known = this.standing ?? firstStanding(before, project.settings.tempo);
    const ladder =
      now.ladder === before.ladder
        ? known.ladder
        : { round, tempo: now.ladder?.from ?? project.settings.tempo };
    const keys = now.keys?.order === before.keys?.order ? known.keys : { round, step: 0 };
    this.standing = { ladder, keys };
    if (now.ladder === null && before.ladder !== null) playing.setTempo(project.settings.tempo);
  }

  /**
   * Takes a tempo set by hand: on a ladder this round has it, and the ladder goes on from there.
   * @returns false where no ladder is on
   */
  takeTempo(tempo: Bpm): boolean {
    const { ladder } = this.practice;
    if (ladder === null) return false;
    const { playing, round } = this.#session;
    if (!playing.on) {
      this.set({ ladder: { ...ladder, from: tempo } }, 'Ladder', 'ladder from');
      return true;
    }
    this.#stand(round, tempo);
    playing.setTempo(tempo);
    this.#session.hear();
    return true;
  }

  /** Plays this round once more from its beginning; the ladder and the keys wait. */
  again(): void {
    if (!this.#playing('played once more')) return;
    this.#session.playing.again();
  }

  /** Plays this round once more, a rung slower (on a ladder that leads down, faster); without a ladder at nine tenths. */
  easier(): void {
    if (!this.#playing('made easier')) return;
    const { playing, round } = this.#session;
    const { ladder } = this.practice;
    if (ladder === null) {
      const tempo = bpm(Math.max(TEMPO_RANGE.min, Math.round(this.tempo * EASIER)));
      playing.again();
      this.#session.setTempo(tempo);
      return;
    }
    const tempo = rungBack(ladder, this.tempo);
    this.#stand(round, tempo);
    playing.again(this.#session.played);
  }

  #stand(round: number, tempo: Bpm) {
    const known = this.standing ?? firstStanding(this.practice, tempo);
    this.standing = { ...known, ladder: { round, tempo } };
  }

  #playing(what: string): boolean {
    const { on } = this.#session.playing;
    if (!on) this.#session.say(`The band must be playing for a round to be ${what}.`);
    return on;
  }
}

/** How much slower a round is played the next time where no ladder says so. Our choice. */
const EASIER = 0.9;

import {
  roundLength,
  roundTempo,
  secondsOf,
  ticks,
  type Part,
  type PlayPlan,
  type Project,
} from '../engine/index.ts';
import { fetchBand, type Band } from './band.ts';
import type { Preferences } from './preferences.svelte.ts';
import type { RenderPort, SoundFormat, SoundRequest } from './ports.ts';
import { fileName, saveFile } from './save-file.ts';

/** What the making of files needs of the session it belongs to. */
export interface Played {
  readonly project: Project;
  readonly plan: PlayPlan;
  readonly preferences: Preferences;
  say(text: string): void;
}

/** What the player asks of a file. */
export interface SoundChoices {
  /** Null for as many as fill {@link USUAL}. */
  readonly rounds: number | null;
  readonly countIn: boolean;
  /** Slows down at the end and holds the last chord. */
  readonly ending: boolean;
  /** The whole form, though a stretch of it loops. */
  readonly wholeForm: boolean;
  readonly byPart: boolean;
  /** Of a WAV file. */
  readonly format: SoundFormat;
  /** Compressed by the browser instead. */
  readonly small: boolean;
}

/** Seconds of music that are saved when nobody says how much, and the most there may be (our choice). */
const USUAL = 120;
const MOST = 900;

const PART_NAMES: Readonly<Record<Part, string>> = {
  comp: 'comping',
  bass: 'bass',
  drums: 'drums',
  click: 'click',
  lead: 'line',
};

/** Saves what the band plays as sound files, while the page goes on. */
export class SoundFiles {
  choices: SoundChoices = $state.raw({
    rounds: null,
    countIn: true,
    ending: true,
    wholeForm: false,
    byPart: false,
    format: { depth: 16, sampleRate: 44100 },
    small: false,
  });
  /** What the name of a compressed file ends with; null while it is not known, or where none can be made. */
  smallKind: string | null = $state(null);
  /** How much of the work is done, 0 to 1; null while there is none. */
  share: number | null = $state(null);

  readonly #session: Played;
  readonly #port: RenderPort;
  #work: AbortController | null = null;

  constructor(session: Played, port: RenderPort) {
    this.#session = session;
    this.#port = port;
  }

  /** Finds out whether sound can be compressed here. */
  async look(): Promise<void> {
    this.smallKind = (await this.#port.compressed?.().catch(() => null)) ?? null;
  }

  set(change: Partial<SoundChoices>): void {
    this.choices = { ...this.choices, ...change };
  }

  get #plan(): PlayPlan {
    const { plan } = this.#session;
    return this.choices.wholeForm ? { ...plan, loop: null } : plan;
  }

  /** Whether there is anything to play. */
  get possible(): boolean {
    return roundLength(this.#plan) > 0;
  }

  /** The most rounds there may be, at least 1. */
  get mostRounds(): number {
    return Math.max(1, this.#roundsIn(MOST));
  }

  get rounds(): number {
    return Math.min(this.mostRounds, this.choices.rounds ?? this.#roundsIn(USUAL) + 1);
  }

  /** How long the rounds take, seconds. */
  get seconds(): number {
    return Array.from({ length: this.rounds }, (_, round) => this.#secondsOf(round)).reduce(
      (a, b) => a + b,
      0,
    );
  }

  /** How many rounds end within `seconds`. */
  #roundsIn(seconds: number): number {
    if (!this.possible) return 0;
    let round = 0;
    for (let left = seconds - this.#secondsOf(0); left >= 0; left -= this.#secondsOf(round)) round++;
    return round;
  }

  #secondsOf(round: number): number {
    const plan = this.#plan;
    return secondsOf(roundLength(plan), roundTempo(plan, round));
  }

  /** Makes the files and hands them to the browser. */
  async save(): Promise<void> {
    if (this.#work !== null || !this.possible) return;
    const work = (this.#work = new AbortController());
    this.share = 0;
    const { title } = this.#session.project;
    try {
      const made = await this.#port.render(this.#request(await fetchBand()), {
        signal: work.signal,
        onProgress: (share) => {
          if (this.#work === work) this.share = share;
        },
      });
      if (made === null) return;
      if (!made.ok) {
        this.#session.say(`${made.error.message} ${made.error.remedy}`);
        return;
      }
      for (const { part, file, extension } of made.value) {
        saveFile(file, `${fileName(title)}${part === null ? '' : ` - ${PART_NAMES[part]}`}.${extension}`);
      }
      this.#session.say(made.value.length === 1 ? 'The sound file is saved.' : 'The sound files are saved.');
    } catch {
      this.#session.say('The sound file could not be made. Reload the page and save it once more.');
    } finally {
      if (this.#work === work) this.cancel();
    }
  }

  /** Calls the work off. */
  cancel(): void {
    this.#work?.abort();
    this.#work = null;
    this.share = null;
  }

  #request({ startPerformance }: Band): SoundRequest {
    const plan = this.#plan;
    const { rounds, choices } = this;
    const countIn = choices.countIn ? Math.max(1, this.#session.preferences.values.countIn) : 0;
    const open = startPerformance(plan, { countIn, from: ticks(0) });
    const length = roundLength(plan);
    const source = choices.ending ? open.finish(ticks((rounds - 1) * length)) : open;
    const { mix, tone, title } = this.#session.project;
    const small = choices.small && this.smallKind !== null;
    return {
      source,
      from: source.begin,
      to: source.end ?? ticks(rounds * length),
      tempo: roundTempo(plan, 0),
      mix,
      tone,
      format: small ? { ...choices.format, sampleRate: 48000 } : choices.format,
      compressed: small ? { title } : null,
      byPart: choices.byPart,
    };
  }
}

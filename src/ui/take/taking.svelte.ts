import { ticks, type LayDrill, type Ticks, type Trouble } from '../../engine/index.ts';
import { fetchBand } from '../band.ts';
import type { RecorderPort, TakeBalance, Takes } from '../ports.ts';
import { fileName, saveFile } from '../save-file.ts';
import type { Session } from '../session.svelte.ts';
import type { groundOf, marksIn, Placed, placedIn, placeOf } from './laid.ts';
import { Latency } from './latency.svelte.ts';
import { listenTo } from './listening.ts';
import { Shelf } from './shelf.ts';
import type { Take } from './take.ts';

/** What recording needs of the edges. */
export interface TakePorts {
  readonly recorder: RecorderPort;
  readonly takes: Takes;
  /** How drills are laid over a chart again: code that comes with the first take that has one. */
  readonly drills?: () => Promise<LayDrill>;
  /** Keeps the chart in work, though nothing in it was changed: a take hangs on it. */
  readonly own?: () => void;
}

/** What is done with the microphone or with a take. */
export type TakePhase = 'idle' | 'asking' | 'recording' | 'ending' | 'measuring' | 'listening';

/** What lays a take against its music. */
interface Layer {
  readonly groundOf: typeof groundOf;
  readonly placedIn: typeof placedIn;
  readonly marksIn: typeof marksIn;
  readonly placeOf: typeof placeOf;
}

/** How much of the meter is left from one block of sound to the next, some forty milliseconds later. */
const FALLS = 0.88;

const sentence = ({ message, remedy }: Trouble) => `${message} ${remedy}`;

/** The player recorded over the band: the takes of the chart in work. */
export class Taking {
  phase: TakePhase = $state('idle');
  /** Of the chart in work, latest first. */
  takes: readonly Take[] = $state.raw([]);
  /** The take whose notes lie in the ribbon. */
  shown: Take | null = $state.raw(null);
  /** The round of it that the ribbon shows while nothing plays. */
  round = $state(0);
  /** Which of the times its chord goes by, where it was played over one chord. */
  time = $state(0);
  /** The largest sample of late, 0 to 1; since recording began; and whether any was cut off since then. */
  level = $state(0);
  loudest = $state(0);
  clipped = $state(false);
  /** The key that sounds, with a fraction. */
  key: number | null = $state(null);
  balance: TakeBalance = $state.raw({ band: 0.8, guest: 0.8 });
  muted: { readonly band: boolean; readonly guest: boolean } = $state.raw({ band: false, guest: false });
  readonly latency: Latency;

  readonly #session: Session;
  readonly #ports: TakePorts;
  readonly #from: () => Ticks;
  readonly #shelf: Shelf | null;
  /** Fetched with the first take that is shown. */
  #layer: Layer | null = $state.raw(null);
  #marks: readonly number[] = [];
  #end: ReturnType<typeof setTimeout> | null = null;

  /** What lies in the ribbon, as it fell on the form in the round that is shown. */
  readonly #laid = $derived.by(() =>
    this.shown === null ? null : (this.#layer?.groundOf(this.shown, this.#session) ?? null),
  );
  readonly placed: readonly Placed[] = $derived(
    this.#layer?.placedIn(this.shown, this.#laid?.notes ?? [], this.#round(), this.#time()) ?? [],
  );
  readonly placedMarks: readonly { readonly at: number }[] = $derived(
    this.#layer?.marksIn(this.shown, this.#round(), this.#time()) ?? [],
  );
  readonly choruses = $derived(this.#laid?.choruses ?? []);

  /** @param from where in the form the music is to begin */
  constructor(session: Session, ports: TakePorts, from: () => Ticks) {
    this.#from = from;
    this.#session = session;
    this.#ports = ports;
    this.latency = new Latency(session.preferences);
    this.#shelf =
      session.exchange === null
        ? null
        : new Shelf(ports.takes, session.exchange, async () => (await ports.drills?.()) ?? null);
    ports.recorder.watch((news) => {
      if (news.type === 'key') this.key = news.key;
      else if (news.type === 'level') {
        this.level = Math.max(news.peak, FALLS * this.level);
        this.loudest = Math.max(this.loudest, news.peak);
        this.clipped ||= news.clipped;
      } else this.#broken(news.trouble);
    });
  }

  /** Seconds. */
  get longest(): number {
    return this.#ports.recorder.longest;
  }

  /** True for a take that lasts only until the page is closed. */
  isLoose(take: Take): boolean {
    return this.#shelf?.isLoose(take.id) ?? false;
  }

  /** Reads the takes of the chart in work. */
  async read(): Promise<void> {
    if (this.#shelf === null) return;
    const { takes, trouble } = await this.#shelf.of(this.#session.project.id);
    this.#warn(trouble);
    this.takes = takes;
    if (this.shown !== null) this.shown = takes.find(({ id }) => id === this.shown!.id) ?? null;
  }

  /** Records, or ends what is recorded. Must be called from a user's gesture. */
  async toggle(): Promise<void> {
    if (this.phase === 'recording') this.end();
    else await this.record();
  }

  /** Ends what is recorded or listened to. */
  end(): void {
    this.#session.playing.stop();
  }

  /** Records the player over the band. Must be called from a user's gesture. */
  async record(): Promise<void> {
    const session = this.#session;
    if (!(await this.#open())) return;
    this.#marks = [];
    this.clipped = false;
    this.loudest = 0;
    this.#ports.recorder.alone();
    this.#ports.recorder.begin();
    this.phase = 'recording';
    await session.play(this.#from());
    if (!session.playing.on) this.#rest();
  }

  /** To be called when the music has stopped. */
  async stopped(): Promise<void> {
    if (this.phase === 'listening') {
      if (this.#end !== null) clearTimeout(this.#end);
      this.phase = 'idle';
      this.#ports.recorder.alone();
    }
    if (this.phase !== 'recording') return;
    this.phase = 'ending';
    const recorded = await this.#ports.recorder.end();
    const { performance } = this.#session.playing;
    this.#rest();
    if (!recorded.ok) return this.#warn(recorded.error);
    if (performance === null || this.#shelf === null) return;
    const { sound, length, notes, course } = recorded.value;
    const script = (await fetchBand()).scriptOf(performance);
    const take = { length, notes, course, script, lag: this.latency.ms / 1000, marks: this.#marks };
    this.#ports.own?.();
    const trouble = await this.#shelf.add(take, this.#session.project.id, sound);
    await this.read();
    this.show(this.takes[0] ?? null);
    if (trouble !== null) {
      const run = () => saveFile(sound, `${this.#fileName()}.wav`);
      this.#session.say(sentence(trouble), { label: 'Save as a file', run });
    } else {
      this.#session.say(`Take ${this.takes.length} is kept.`);
    }
  }

  show(take: Take | null): void {
    this.shown = take;
    this.time = 0;
    const first = () => (this.round = this.choruses[0]?.round ?? 0);
    if (take === null || this.#layer !== null) return void first();
    import('./laid.ts').then(
      (layer) => {
        this.#layer = layer;
        first();
      },
      () => this.#session.say('The notes of the take could not be fetched. Is there a network?'),
    );
  }

  /** Plays the band as it was with the take, from a tick of the performance. Must be called from a gesture. */
  async listen(take: Take, from: number = take.course[0]!.tick): Promise<void> {
    const sound = await this.#sound(take);
    if (sound === null) return;
    this.#session.playing.stop();
    this.show(take);
    this.#tellBalance();
    const { source, tempo, at, course, seconds } = listenTo(take, from);
    const ready = await this.#ports.recorder.accompany(sound, course.secondsAt);
    if (!ready.ok) return this.#warn(ready.error);
    this.phase = 'listening';
    await this.#session.playing.listen(take.performance, source, tempo, at);
    this.#end = setTimeout(() => this.phase === 'listening' && this.#session.playing.stop(), 1000 * seconds);
    const text = take.script.plans.at(-1)!.project.text;
    if (text !== this.#session.text) {
      this.#session.say('The chart has changed since this take: the band plays it as it was then.');
    }
  }

  /** Marks the spot that is heard now. */
  async mark(): Promise<void> {
    const tick = this.#session.playing.tick();
    if (tick === null || tick < 0) return;
    if (this.phase === 'recording') {
      this.#marks = [...this.#marks, Math.round(tick)];
      this.#session.say('Marked.');
    } else if (this.phase === 'listening' && this.shown !== null) {
      const marks = [...this.shown.marks, Math.round(tick)].sort((a, b) => a - b);
      await this.change(this.shown, { marks });
    }
  }

  /** Loops the bar that a mark lies in, to practise it. */
  loop(take: Take, mark: number): void {
    const { form } = this.#session;
    const tick = take.performance.formTick(mark);
    const bar = tick === null ? undefined : form.bars.findLast(({ start }) => start <= tick);
    if (bar === undefined) return;
    this.#session.setLoop({ from: bar.start, to: ticks(bar.start + bar.bar.length) });
    this.#session.say('The bar of the mark loops.', true);
  }

  /** Keeps a take with other marks, or moved against the band. */
  async change(take: Take, change: Partial<Pick<Take, 'marks' | 'lag'>>): Promise<void> {
    const next = { ...take, ...change };
    this.takes = this.takes.map((one) => (one.id === take.id ? next : one));
    if (this.shown?.id === take.id) this.shown = next;
    this.#warn((await this.#shelf?.put(next)) ?? null);
  }

  /** Removes a take; the word that says so brings it back. */
  async remove(take: Take): Promise<void> {
    if (this.phase === 'listening') this.#session.playing.stop();
    const trouble = (await this.#shelf?.remove(take.id)) ?? null;
    if (trouble !== null) return this.#warn(trouble);
    await this.read();
    const run = () => void this.#takeBack(take.id);
    this.#session.say('The take is deleted.', { label: 'Take back', run });
  }

  setBalance(change: Partial<TakeBalance>): void {
    this.balance = { ...this.balance, ...change };
    this.#tellBalance();
  }

  mute(change: Partial<{ band: boolean; guest: boolean }>): void {
    this.muted = { ...this.muted, ...change };
    this.#tellBalance();
  }

  /** The player alone as a file. */
  async saveAlone(take: Take): Promise<void> {
    const sound = await this.#sound(take);
    if (sound !== null) saveFile(sound, `${this.#fileName()}.wav`);
  }

  /** Band and player together as a file, as they are balanced now. */
  async saveMixed(take: Take): Promise<void> {
    const sound = await this.#sound(take);
    if (sound === null) return;
    this.#session.say('The file is being made. This takes some seconds a minute.');
    const { source, tempo, at, course, end } = listenTo(take);
    const { mix, tone } = this.#session.mixing;
    const request = { source, tempo, from: at, to: end, mix, tone, balance: this.#heard() };
    const file = await this.#ports.recorder.mixdown(sound, course.secondsAt, request);
    if (!file.ok) return this.#warn(file.error);
    saveFile(file.value, `${this.#fileName()} with band.wav`);
    this.#session.say('The file is saved.');
  }

  /** Measures how late the player is heard. Must be called from a user's gesture. */
  async measure(): Promise<void> {
    if (!(await this.#open())) return;
    this.phase = 'measuring';
    const measured = await this.#ports.recorder.measure();
    this.#rest();
    if (measured.ok) {
      this.latency.set(1000 * measured.value);
      this.#session.say(`Measured: ${Math.round(this.latency.ms)} ms from loudspeaker to recording.`);
    } else this.#warn(measured.error);
  }

  async #open(): Promise<boolean> {
    if (this.phase !== 'idle' && this.phase !== 'listening') return false;
    this.#session.playing.stop();
    this.phase = 'asking';
    const opened = await this.#ports.recorder.open();
    if (opened.ok) {
      this.latency.microphone = opened.value;
      return true;
    }
    this.#rest();
    this.#warn(opened.error);
    return false;
  }

  /** Lets the microphone go. */
  #rest() {
    this.#ports.recorder.close();
    this.phase = 'idle';
    this.level = 0;
    this.key = null;
  }

  #broken(trouble: Trouble) {
    if (this.phase === 'recording') this.#session.playing.stop();
    this.#warn(trouble);
  }

  #round(): number {
    return this.phase === 'listening' ? this.#session.round : this.round;
  }

  /** The time that the chord of a drill goes by: the one that is heard, else the one that is shown. */
  #time(): number {
    const { now } = this.#session.playing;
    if (this.phase !== 'listening' || this.shown === null || now === null) return this.time;
    const { roundStart, changes, bar } = now.place;
    return this.#layer?.placeOf(this.shown, roundStart + changes.bars[bar]!.start)?.time ?? 0;
  }

  #heard(): TakeBalance {
    const { balance, muted } = this;
    return { band: muted.band ? 0 : balance.band, guest: muted.guest ? 0 : balance.guest };
  }

  #tellBalance() {
    this.#ports.recorder.setBalance(this.#heard());
  }

  /** The sound of a take; null, with a word, where there is none. */
  async #sound(take: Take): Promise<Blob | null> {
    const sound = await this.#shelf?.sound(take.id);
    if (sound?.ok === true) return sound.value;
    this.#warn(sound?.error ?? null);
    return null;
  }

  async #takeBack(id: string) {
    this.#warn((await this.#shelf?.takeBack(id)) ?? null);
    await this.read();
  }

  #warn(trouble: Trouble | null) {
    if (trouble !== null) this.#session.say(sentence(trouble));
  }

  #fileName(): string {
    return `${fileName(this.#session.project.title)} take`;
  }
}

import { untrack } from 'svelte';
import {
  DRILL_KINDS,
  drillPlay,
  drillSource,
  musicOf,
  playPieces,
  usualDrill,
  type Drill,
  type DrillKind,
  type DrillPlay,
  type DrillSettings,
  type DrillSource,
  type KeptDrill,
  type NeckSetting,
  type Result,
  type Trouble,
} from '../../engine/index.ts';
import { LAST_FRET } from '../neck/settings.ts';
import type { Session } from '../session.svelte.ts';
import { chordAt, chordsOf, dominantFrom, isSamePlace, type PlacedChord } from './chords.ts';
import type { HeardDrill } from './heard.ts';

/** What a drill is made over, and the kind to begin with there. */
const FIRST: Readonly<Record<'chord' | 'changes', DrillKind>> = { chord: 'thirds', changes: 'through' };

/** The drill that is looked at, and those that are kept with the chart. */
export class Drilling implements HeardDrill {
  open = $state(false);
  /** True where only the click is heard with it. */
  alone = $state(false);
  /** The written place of its chord; null where it is made over all changes. */
  place: KeptDrill['place'] = $state.raw(null);
  settings: DrillSettings = $state.raw(usualDrill(FIRST.changes, 'changes'));
  /** The kept drill it was taken from. */
  from: string | null = $state(null);

  readonly #session: Session;
  /** True once a chord was chosen for the first time. */
  #begun = false;
  /** The kept drill that a step of a plan asks for. */
  #asked: string | null = $state(null);
  /** The settings last used over a chord and over changes. */
  readonly #last: Partial<Record<'chord' | 'changes', DrillSettings>> = {};

  // One by one, so that a drill is not made anew for a change that does not concern it.
  readonly #reading = $derived.by(() => this.#session.reading);
  readonly #key = $derived.by(() => this.#session.project.key);
  readonly #layers = $derived.by(() => this.#session.plan.layers);
  readonly #loop = $derived.by(() => this.#session.project.loop);
  readonly #scales = $derived.by(() => this.#session.project.scales);
  readonly #seed = $derived.by(() => this.#session.settings.seed);
  readonly #around = $derived.by(() => {
    const { runUp, landing } = this.#session.project.practice;
    return `${runUp} ${landing}`;
  });
  readonly #inKeys = $derived.by(() => this.#session.project.practice.keys !== null);
  readonly #tuning = $derived.by(() => this.#session.preferences.values.neck.tuning);
  readonly #capo = $derived.by(() => this.#session.preferences.values.neck.capo);

  readonly neck: NeckSetting = $derived({ tuning: this.#tuning, capo: this.#capo, lastFret: LAST_FRET });
  readonly source: DrillSource = $derived.by(() => {
    void [this.#seed, this.#around];
    const { text, practice, settings } = untrack(() => this.#session.project);
    const tied = { key: this.#key, layers: this.#layers, loop: this.#loop, scales: this.#scales };
    return drillSource({ ...tied, text, practice, settings }, this.#reading);
  });
  readonly chords: readonly PlacedChord[] = $derived(chordsOf(this.source));
  readonly chord: PlacedChord | null = $derived(
    this.chords.find(({ place }) => isSamePlace(place, this.place)) ?? null,
  );

  readonly #made: Result<DrillPlay, Trouble> = $derived(
    drillPlay({ place: this.place, settings: this.settings }, this.source, this.neck, this.#inKeys),
  );
  readonly play: DrillPlay | null = $derived.by(() => {
    if (!this.#made.ok) return null;
    const { lead, ...bars } = this.#made.value;
    return { ...bars, lead: { ...lead, alone: this.alone } };
  });
  /** As written in the chart's own key. */
  readonly #home = $derived.by(() => {
    if (!this.#made.ok) return null;
    const { lead, written } = this.#made.value;
    return lead.drill(written ?? playPieces(this.source.changes, this.source.pieces));
  });
  readonly #sounding = $derived.by(() => {
    const { now } = this.#session.playing;
    const lead = now?.plan.lead;
    if (!this.heard || now === null || lead === undefined || lead !== this.play?.lead) return null;
    return lead.drill(musicOf(now.place.changes));
  });
  #shown: { readonly drill: Drill; readonly looks: string } | null = null;
  /** The drill as it sounds in this round, else as it begins; one object for as long as it looks the same. */
  readonly drill: Drill | null = $derived.by(() => {
    const drill = this.#sounding ?? this.#home;
    if (drill === null) return null;
    const looks = looksOf(drill);
    if (this.#shown?.looks !== looks) this.#shown = { drill, looks };
    return this.#shown.drill;
  });
  /** As it will sound in the round that follows, where it looks different there; known from the second beat on. */
  readonly next: Drill | null = $derived.by(() => {
    const { playing } = this.#session;
    const { drill, play } = this;
    const { now } = playing;
    if (!this.#inKeys || now === null || now.bar + now.beat === 0) return null;
    if (this.#sounding === null || drill === null || play === null) return null;
    const following = playing.following();
    const next = following && play.lead.drill(musicOf(following));
    return next === null || looksOf(next) === looksOf(drill) ? null : next;
  });
  /** What is in the way, and what to do about it. */
  readonly trouble: Trouble | null = $derived.by(() => {
    if (!this.#made.ok) return this.#made.error;
    const problem = this.drill?.problem ?? null;
    if (problem === null) return null;
    const [message, ...rest] = problem.split(/(?<=\.) /);
    return { message: message!, remedy: rest.join(' ') };
  });

  constructor(session: Session) {
    this.#session = session;
  }

  get heard(): boolean {
    const { drill, playing } = this.#session;
    return drill === this && playing.on && !playing.listening;
  }

  get kept(): readonly KeptDrill[] {
    return this.#session.project.drills;
  }

  get over(): 'chord' | 'changes' {
    return this.place === null ? 'changes' : 'chord';
  }

  /** Its sheet is opened: the first time with the chord that is practised from the cursor on. */
  begin(cursor: number): void {
    this.open = true;
    if (this.#begun && (this.place === null || this.chord !== null)) return;
    this.#begun = true;
    const { now } = this.#session.playing;
    this.chooseChord(now?.tick ?? cursor);
  }

  /** Its sheet is closed: what plays goes on, but nothing else begins with it. */
  end(): void {
    this.open = false;
    this.#rest();
  }

  /** Lays a kept drill over the chart, for the step of a plan that the chart is. */
  ask(id: string): void {
    const drill = this.kept.find((known) => known.id === id);
    if (drill === undefined) return;
    this.#begun = true;
    this.alone = false;
    this.show(drill);
    if (this.trouble !== null) return this.#session.say(`${this.trouble.message} ${this.trouble.remedy}`);
    this.#asked = id;
    this.#session.drill = this;
  }

  /** The step is over: what plays goes on, but nothing else begins with its drill. */
  leave(): void {
    if (this.#asked === null) return;
    this.#asked = null;
    this.#rest();
  }

  get stays(): boolean {
    return this.open || (this.#asked !== null && this.#asked === this.#session.project.step?.drill);
  }

  #rest() {
    if (!this.heard && !this.stays && this.#session.drill === this) this.#session.drill = null;
  }

  /** Makes it over the chord that is practised from a tick of the form on. */
  chooseChord(tick: number): void {
    const first = dominantFrom(this.chords, tick);
    if (first !== null) this.take(first.place);
  }

  /** Makes it over the chord under a tick of the form, where it is made over one. */
  follow(tick: number): void {
    const there = chordAt(this.chords, tick);
    if (there !== null && this.place !== null) this.take(there.place);
  }

  /** Makes it over the chord at a written place, or over all changes. */
  take(place: KeptDrill['place']): void {
    if (isSamePlace(place, this.place)) return;
    const over = place === null ? 'changes' : 'chord';
    const before = this.over;
    this.place = place;
    if (over === before) return this.#hear();
    this.#last[before] = this.settings;
    const { kind } = this.settings;
    const isKind = (DRILL_KINDS[kind].over as readonly string[]).includes(over);
    const known = this.#last[over] ?? this.#usual(isKind ? kind : FIRST[over], over);
    this.settings = known;
    this.#hear();
  }

  set(change: Partial<DrillSettings>): void {
    this.settings = { ...this.settings, ...change };
    this.#hear();
  }

  /**
   * Plays it, or stops it where it plays like that already. Must come from a user's gesture.
   * @param alone without the band, to its click
   */
  async toggle(alone: boolean): Promise<void> {
    const session = this.#session;
    if (this.heard && this.alone === alone) return session.playing.stop();
    const wasHeard = this.heard;
    this.alone = alone;
    if (this.trouble !== null) return session.say(`${this.trouble.message} ${this.trouble.remedy}`);
    session.drill = this;
    if (wasHeard) session.hear();
    else if (session.playing.on && !session.playing.listening) session.playing.again(session.played, 'bar');
    else await session.play();
  }

  // --- what is kept -------------------------------------------------------------------------------

  /** True where it is kept just like this. */
  get isKept(): boolean {
    return this.kept.some(
      (drill) => isSamePlace(drill.place, this.place) && isAlike(drill.settings, this.settings),
    );
  }

  keep(): void {
    let number = this.kept.length + 1;
    while (this.kept.some(({ id }) => id === `d${number}`)) number++;
    const drill: KeptDrill = { id: `d${number}`, place: this.place, settings: this.settings, printed: true };
    this.from = drill.id;
    this.#change([...this.kept, drill], 'Keeping a drill');
  }

  /** Keeps it in place of the one it was taken from. */
  replace(id: string): void {
    const { place, settings } = this;
    this.#change(
      this.kept.map((drill) => (drill.id === id ? { ...drill, place, settings } : drill)),
      'Change of a drill',
    );
  }

  show({ id, place, settings }: KeptDrill): void {
    this.#last[this.over] = this.settings;
    this.place = place;
    this.settings = settings;
    this.from = id;
    this.#hear();
  }

  remove(id: string): void {
    if (this.from === id) this.from = null;
    this.#change(
      this.kept.filter((drill) => drill.id !== id),
      'Removal of a drill',
    );
    this.#session.say('Drill removed.', true);
  }

  /** Moves a kept drill up the list, or down. */
  move(id: string, by: 1 | -1): void {
    const from = this.kept.findIndex((drill) => drill.id === id);
    const to = from + by;
    if (from < 0 || to < 0 || to >= this.kept.length) return;
    const drills = this.kept.toSpliced(from, 1).toSpliced(to, 0, this.kept[from]!);
    this.#change(drills, 'Order of drills');
  }

  print(id: string, printed: boolean): void {
    this.#change(
      this.kept.map((drill) => (drill.id === id ? { ...drill, printed } : drill)),
      printed ? 'Drill on the handout' : 'Drill off the handout',
    );
  }

  #change(drills: readonly KeptDrill[], what: string): void {
    this.#session.change({ drills }, what);
  }

  #usual(kind: DrillKind, over: 'chord' | 'changes'): DrillSettings {
    const usual = usualDrill(kind, over);
    const { form } = this.#session.preferences.values.neck;
    return over === 'chord' && form !== null
      ? { ...usual, hand: { type: 'form', number: form.number } }
      : usual;
  }

  /** Lets it be heard as it is now: over a chord from its beginning. */
  #hear(): void {
    if (!this.heard) return;
    if (this.play?.stands === undefined) this.#session.hear();
    else this.#session.playing.again(this.#session.played, 'bar');
  }
}

const isAlike = (a: DrillSettings, b: DrillSettings) =>
  JSON.stringify(ordered(a)) === JSON.stringify(ordered(b));
const ordered = (settings: DrillSettings) =>
  Object.entries(settings).toSorted(([one], [other]) => (one < other ? -1 : 1));

const known = new WeakMap<Drill, string>();

/** All that is drawn of a drill and read beside it. */
function looksOf(drill: Drill): string {
  let looks = known.get(drill);
  if (looks === undefined) {
    const { title, notes, changes, problem, settings } = drill;
    looks = JSON.stringify([
      title,
      problem,
      settings.rhythm,
      notes,
      changes.bars.map(({ start, length, metre, skipped }) => [start, length, metre, skipped]),
      changes.spans.map(({ start, chord }) => [start, chord?.text]),
    ]);
    known.set(drill, looks);
  }
  return looks;
}

const drillings = new WeakMap<Session, Drilling>();

/** The drills of a session: one for as long as it lasts, whether their sheet is open or not. */
export function drillingOf(session: Session): Drilling {
  let drilling = drillings.get(session);
  if (drilling === undefined) {
    // What follows from it must outlive the sheet it is first opened in.
    $effect.root(() => {
      drilling = new Drilling(session);
    });
    drillings.set(session, drilling!);
  }
  return drilling!;
}

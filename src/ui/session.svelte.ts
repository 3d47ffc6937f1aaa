import {
  bpm,
  loopOf,
  newProject,
  readText,
  formChanges,
  readingInKey,
  roundLength,
  stretchOf,
  TEMPO_RANGE,
  ticks,
  type Changes,
  type Follow,
  type HomeKey,
  type PlacedTreatment,
  type PlayPlan,
  type Problem,
  type Project,
  type Reading,
  type Stretch,
  type Ticks,
  type TreatmentKind,
  type TreatmentLayers,
  type TreatmentRule,
} from '../engine/index.ts';
import { carryTied, followOf, isTied } from './carry.ts';
import { begin, go, redo, settle, undo, type History } from './history.ts';
import { withChanged, withHeard, withoutPlaced, withPlaced, withRule, withTouches } from './layering.ts';
import { placeOf } from './harmony/fitting.ts';
import { Editing } from './editing.ts';
import type { HeardDrill } from './drills/heard.ts';
import { Ear } from './harmony/ear.svelte.ts';
import { freshId } from './id.ts';
import { veiled } from './harmony/veil.ts';
import { moved } from './moving.ts';
import { Mixing } from './mixing.ts';
import type { Answer, Notice } from './notice.ts';
import { Outside } from './outside.svelte.ts';
import { Playing } from './playing.svelte.ts';
import { Practising } from './practice/practising.svelte.ts';
import { Preferences } from './preferences.svelte.ts';
import type { Credit, Exchange, Preset } from './ports.ts';
import type { SessionPorts } from './session-ports.ts';
import { Scores } from './scores.svelte.ts';
import type { Overlay } from './overlay.ts';
import { changed, withCount, type SettingsChange } from './settings.ts';
import { SoundFiles } from './sound-files.svelte.ts';
import { indexAt } from './ribbon/layout.ts';
import type { Sources } from './ribbon/sources.ts';

/** How long typing rests before the band hears it, and before what follows is undone by itself, ms. */
const TYPING_REST = { heard: 80, undone: 900 };

/** All the page knows: the project with its past, and everything that follows from it. */
export class Session {
  readonly playing!: Playing;
  readonly preferences!: Preferences;
  readonly mixing!: Mixing;
  readonly practising: Practising = new Practising(this);
  readonly editing = new Editing(this);
  readonly exchange: Exchange | null;
  readonly soundFiles: SoundFiles | null;
  readonly credits: readonly Credit[];
  readonly scores: Scores | null;
  readonly outside: Outside | null;
  /** The charts that come with the app: the first at once, the others once they are read. */
  presets: readonly Preset[] = [];
  notice: Notice | null = $state.raw(null);
  /** Laid over the chart for a while in place of its own treatments; nothing of it is kept. */
  overlay: Overlay | null = $state.raw(null);
  /** Heard over the chart or in its place, while nothing is laid over it. */
  drill: HeardDrill | null = $state.raw(null);

  #history: History<Project> = $state.raw(begin(newProject()));

  readonly project = $derived(this.#history.present);
  readonly text = $derived(this.project.text);
  readonly reading = $derived(readText(this.text));
  readonly chart = $derived(this.reading.chart);
  readonly form = $derived(this.reading.form);
  readonly problems: readonly Problem[] = $derived(
    [...this.chart.problems, ...this.form.problems].toSorted((a, b) => a.from - b.from),
  );
  readonly settings = $derived(this.project.settings);
  readonly layers = $derived(this.project.layers);
  readonly loop = $derived(
    this.project.loop === null ? null : stretchOf(this.project.loop, this.reading.written),
  );
  readonly plan: PlayPlan = $derived({
    text: this.text,
    written: this.reading.written,
    layers: this.overlay?.layers ?? this.layers,
    loop: this.loop,
    settings: withCount(this.settings, this.preferences.values.countWith),
    hits: this.project.hits,
    practice: this.project.practice,
    ...(this.practising.standing && { standing: this.practising.standing }),
  });
  /** What is played: the chart by its plan, or a drill over it or in its place. */
  readonly played: PlayPlan = $derived(
    this.overlay === null && this.drill !== null ? { ...this.plan, ...this.drill.play } : this.plan,
  );
  readonly round = $derived(this.playing.now?.place.round ?? 0);
  readonly roundStart = $derived(this.playing.now?.place.roundStart ?? ticks(0));
  readonly #semitones = $derived(this.practising.semitones);
  /** The chart in the key it sounds in now, and that key. */
  readonly #inKey = $derived(readingInKey(this.reading, this.project.key, this.#semitones));
  readonly #ear = new Ear(() => this.#inKey);
  readonly key: HomeKey = $derived(this.#ear.key);
  /** The changes of the whole form as they sound in this round, live touches included. */
  readonly changes: Changes = $derived(
    withTouches(formChanges(this.plan, this.round), this.played, this.roundStart, this.playing.touches),
  );
  readonly #hides = $derived(this.overlay?.hidden ?? !this.preferences.values.colours);
  /** What the ribbon is drawn from. */
  readonly sources: Sources = $derived({
    text: this.text,
    form: this.#inKey.reading.form,
    changes: this.seen(this.changes),
    heard: this.#ear.heard,
    picks: this.project.scales,
    hits: this.project.hits,
    placed: this.#hides || this.overlay !== null ? [] : this.layers.placed,
    problems: this.problems,
  });
  /** Changes as the player wants to see them. */
  seen(changes: Changes): Changes {
    return this.#hides ? veiled(changes) : changes;
  }

  readonly undoWhat = $derived(this.#history.past.at(-1)?.what ?? null);
  readonly redoWhat = $derived(this.#history.future[0]?.what ?? null);

  readonly #ports: SessionPorts;
  #typing: ReturnType<typeof setTimeout> | null = null;
  #run: ReturnType<typeof setTimeout> | null = null;
  /** What the band has last heard of the text, while typing goes on. */
  #typedFrom: Reading | null = null;

  constructor(ports: SessionPorts) {
    this.#history = begin(ports.project);
    this.playing = new Playing(ports.player);
    this.preferences = new Preferences(ports.preferences);
    this.#ports = ports;
    this.presets = ports.presets;
    this.exchange = ports.exchange ?? null;
    this.credits = ports.credits ?? [];
    this.soundFiles = ports.render ? new SoundFiles(this, ports.render) : null;
    this.outside = ports.midiOut ? new Outside(this.preferences, ports.midiOut) : null;
    this.scores = ports.scores ? new Scores(this, ports.scores) : null;
    this.mixing = new Mixing(this, ports.player);
    this.mixing.tell();
  }

  /** Reads the charts that come with the app, where that has not been done. */
  async readPresets(): Promise<void> {
    this.presets = (await this.#ports.readPresets?.()) ?? this.presets;
  }

  // --- the text -----------------------------------------------------------------------------------

  /** The chart as typed in the editor; one step of history until the typing rests elsewhere. */
  type(text: string): void {
    this.#typedFrom ??= this.reading;
    this.#ear.hold();
    this.#write(text, 'Typing', 'typing');
    if (this.#typing !== null) clearTimeout(this.#typing);
    this.#typing = setTimeout(() => this.settle(), TYPING_REST.heard);
    if (this.#run !== null) clearTimeout(this.#run);
    this.#run = setTimeout(() => this.rest(), TYPING_REST.undone);
  }

  /** Lets the band hear what was typed. */
  settle(): void {
    if (this.#typing === null) return;
    clearTimeout(this.#typing);
    this.#typing = null;
    const before = this.#typedFrom;
    this.#typedFrom = null;
    if (before !== null) this.#hear('bar', followOf(before, this.reading));
  }

  /** Ends a run of typing or sliding: what comes next is undone by itself. */
  rest(): void {
    if (this.#run !== null) clearTimeout(this.#run);
    this.#run = null;
    this.#ear.rest();
    this.settle();
    this.#history = settle(this.#history);
  }

  /** Moves the whole chart to another key. */
  transpose(to: HomeKey): void {
    this.rest();
    this.change(moved(this.chart, this.key, to, this.#semitones === 0 ? this.key : this.project.key), 'Key');
    this.#hear('bar');
  }

  rename(title: string): void {
    this.change({ title }, 'Title', 'title');
  }

  /** Gives the chart words to find it by. */
  tag(tags: readonly string[]): void {
    this.change({ tags }, 'Tags');
  }

  // --- the band -----------------------------------------------------------------------------------

  set(change: SettingsChange, what: string): void {
    this.change({ settings: changed(this.settings, change) }, what, what);
    this.#hear('bar');
  }

  /** Sets the tempo to the nearest one the band can play, in quarter notes a minute. */
  setTempo(value: number): void {
    if (!Number.isFinite(value)) return;
    const tempo = bpm(Math.min(TEMPO_RANGE.max, Math.max(TEMPO_RANGE.min, Math.round(value))));
    if (tempo === this.practising.tempo || this.practising.takeTempo(tempo)) return;
    this.playing.setTempo(tempo);
    this.set({ tempo }, 'Tempo');
  }

  /** Loops a stretch of the form; null plays the whole form. */
  setLoop(stretch: Stretch | null): void {
    const loop = stretch === null ? null : loopOf(stretch, this.reading.written);
    this.change({ loop }, stretch === null ? 'Loop off' : 'Loop');
    this.#hear('bar');
  }

  // --- treatments ---------------------------------------------------------------------------------

  /** Lays a treatment over a stretch of the form, at every pass of the written bars. */
  place(stretch: Stretch, kind: TreatmentKind): void {
    this.#layer(withPlaced(this.layers, this.form, stretch, kind), 'Treatment');
  }

  /** Writes the hits anew. */
  setHits(hits: Project['hits'], what: string): void {
    this.change({ hits }, what);
    this.#hear('beat');
  }

  /** Picks a scale for the span of the form that begins at `start`; null leaves it to the suggestion. */
  pickScale(start: Ticks, scale: string | null): void {
    const { form, changes } = this;
    const place = placeOf(form, changes, indexAt(changes.spans, start));
    if (place === null) return;
    const { bar, at } = place;
    const others = this.project.scales.filter((pick) => pick.bar !== bar || pick.at !== at);
    const scales = scale === null ? others : [...others, { bar, at, scale }];
    if (scales.length === 0 && this.project.scales.length === 0) return;
    this.change({ scales }, 'Scale', `scale ${bar} ${at}`);
  }

  /** Keeps what was altered live since the band began, as if it had been placed by hand. */
  keepTouches(): void {
    this.#layer(withHeard(this.layers, this.form, this.playing.heard), 'Keeping what was altered live');
    this.playing.heard = [];
  }

  changePlaced(id: string, change: Partial<PlacedTreatment>): void {
    this.#layer(withChanged(this.layers, id, change), 'Change of treatment');
  }

  removePlaced(id: string): void {
    this.#layer(withoutPlaced(this.layers, id), 'Removal of treatment');
  }

  addRule(): void {
    this.#layer(withRule(this.layers), 'New rule');
  }

  setRules(rules: readonly TreatmentRule[]): void {
    this.setLayers({ ...this.layers, rules }, 'Rule');
  }

  setLayers(layers: TreatmentLayers, what: string): void {
    this.#layer(layers, what);
  }

  // --- the whole ----------------------------------------------------------------------------------

  /**
   * Changes the project by one step that undo takes back.
   * @param what what was done, in words for the undo button
   * @param run changes of one run (typing, a slider) are undone together; null stands alone
   */
  change(change: Partial<Project>, what: string, run: string | null = null): void {
    this.#history = go(this.#history, { ...this.project, ...change }, what, run);
    this.#ports.keep?.(this.project);
    this.mixing.tell();
  }

  /** Keeps the chart under another name of the library's from now on. */
  keepAs(id: string): void {
    this.#history = { ...this.#history, present: { ...this.project, id } };
  }

  /**
   * Another chart in place of this one; undo brings this one back.
   * @param what what was done, in words for the undo button
   */
  open(project: Project, what = `Opening ${project.title}`): void {
    this.rest();
    this.playing.stop();
    const mixed = this.mixing.adopt(project);
    this.change({ ...mixed, id: project.id || freshId() }, what);
  }

  undo(): void {
    this.#travel(undo(this.#history));
  }

  redo(): void {
    this.#travel(redo(this.#history));
  }

  /** Plays from a tick of the form, or from the start of what loops; must come from a user's gesture. */
  async play(from: Ticks = ticks(0)): Promise<void> {
    this.rest();
    if (this.drill?.stays === false) this.drill = null;
    if (roundLength(this.played) === 0) {
      this.say('There is nothing to play yet. Type a chord, e.g. C7alt, or choose a chart.');
      return;
    }
    this.notice = null;
    if (this.playing.on) this.playing.stop();
    this.practising.begin();
    await this.playing.start(this.played, from, this.preferences.values.countIn);
  }

  /** @param answer true where undo takes it back */
  say(text: string, answer: Answer | boolean = false): void {
    const undoing = { label: 'Take back', run: () => this.undo() };
    this.notice = { text, answer: answer === true ? undoing : answer || null };
  }

  /** The chart's text after an edit in the ribbon; the band hears it from its next beat on. */
  edit(text: string, what: string): void {
    if (text === this.text) return;
    this.#ear.rest();
    const before = this.reading;
    this.#write(text, what);
    this.#hear('beat', followOf(before, this.reading));
  }

  #write(text: string, what: string, run: string | null = null) {
    const tied = isTied(this.project) ? carryTied(this.project, this.reading, readText(text)) : {};
    this.change({ ...tied, text }, what, run);
  }

  #layer(layers: TreatmentLayers, what: string) {
    if (layers === this.layers) return;
    this.change({ layers }, what);
    this.#hear('beat');
  }

  #travel(history: History<Project>) {
    this.settle();
    this.#ear.rest();
    const before = this.reading;
    const { tempo } = this.settings;
    const { practice } = this.project;
    this.#history = history;
    this.#ports.keep?.(this.project);
    this.mixing.tell();
    this.practising.follow(practice);
    if (this.settings.tempo !== tempo && this.project.practice.ladder === null) {
      this.playing.setTempo(this.settings.tempo);
    }
    this.#hear('bar', followOf(before, this.reading));
  }

  /** Lets the band hear what was changed, from its next bar on. */
  hear(): void {
    this.#hear('bar');
  }

  #hear(from: 'beat' | 'bar', follow?: Follow) {
    if (this.playing.on) this.playing.revise(this.played, from, follow);
  }
}

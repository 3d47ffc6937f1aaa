import { MediaQuery } from 'svelte/reactivity';
import {
  chordPitchClasses,
  nearestForm,
  scaleForms,
  tonesOf,
  type NeckSetting,
  type NoteEvent,
  type ScaleForm,
  type Stop,
  type Tone,
} from '../../engine/index.ts';
import { writtenFor } from '../chord/written.ts';
import { movesInto } from '../harmony/moves.ts';
import type { Session } from '../session.svelte.ts';
import { sounding, type Harmony } from '../stage/sounding.ts';
import { gripFor, type HeldChord } from './grip.ts';
import { hintsOn, marksOn, type Hint, type Mark } from './layers.ts';
import { USUAL_LAST } from './geometry.ts';
import { LAST_FRET, type KeptForm, type NeckValues } from './settings.ts';

/** What the neck and the keys show, from what sounds and from what the player likes. */
export class NeckState {
  readonly #session: Session;
  readonly #cursor: () => number;

  /** Room for a neck beside the stage and the ribbon. */
  readonly #roomy = new MediaQuery('(width >= 700px) and (height >= 760px)', false);

  readonly values: NeckValues = $derived.by(() => this.#session.preferences.values.neck);
  readonly written = $derived.by(() => writtenFor(this.#session.preferences.values.written));
  readonly shown: boolean = $derived.by(() => this.values.shown ?? this.#roomy.current);
  readonly #view = $derived.by(() => sounding(this.#session, this.#cursor()));
  /** These change with the harmony, not with every beat. */
  readonly #now: Harmony | null = $derived(this.#view?.now ?? null);
  readonly scale = $derived(this.#now?.scale ?? null);
  readonly chord = $derived(this.#now?.chord ?? null);
  /** True in the last beat before another chord. */
  readonly #changes = $derived(this.#view?.until === 1 && this.#view.next !== null);

  readonly neck: NeckSetting = $derived({
    tuning: this.values.tuning,
    capo: this.values.capo,
    lastFret: LAST_FRET,
  });
  /** The frets that forms are offered in. */
  readonly #offered = $derived.by(() => {
    const { range, capo } = this.values;
    return range ?? ([0, Math.min(LAST_FRET, capo + USUAL_LAST)] as const);
  });
  readonly #layout = $derived({ view: this.values.view, string: this.values.string });
  /** The forms of the scale, from the lowest up; empty where no scale sounds. */
  readonly forms: readonly ScaleForm[] = $derived.by(() => {
    if (this.scale === null) return [];
    const all = formsOf(this.scale.notes, this.neck, this.#layout);
    const [first, last] = this.#offered;
    const offered = all.filter(({ firstFret, lastFret }) => firstFret >= first && lastFret <= last);
    return offered.length > 0 ? offered : all;
  });
  /** The form that is kept; null while all notes are shown. */
  readonly form: ScaleForm | null = $derived.by(() => {
    const { form, keeps } = this.values;
    return form === null ? null : kept(this.forms, form, keeps);
  });

  readonly #chordTones: readonly Tone[] = $derived(this.chord === null ? [] : tonesOf(this.chord));
  /** The notes to show, each named as it sounds. */
  readonly tones: readonly Tone[] = $derived.by(() => {
    if (this.scale === null) return this.#chordTones;
    if (this.values.notes === 'scale' || this.chord === null) return this.scale.notes;
    const sounds = chordPitchClasses(this.chord);
    return this.scale.notes
      .filter(({ pc }) => sounds.includes(pc))
      .concat(this.#chordTones.filter(({ pc }) => !this.scale!.notes.some((note) => note.pc === pc)));
  });
  /** The notes of the chord as the band has struck it; empty while it rests. */
  readonly struck: readonly NoteEvent[] = $derived.by(() => {
    const sounds = [...this.#chordTones, ...(this.scale?.notes ?? [])].map(({ pc }) => pc);
    return this.#session.playing.struck(({ pitch }) => sounds.includes(pitch % 12));
  });
  readonly held: HeldChord | null = $derived.by(() => {
    if (!this.values.grip || this.chord === null) return null;
    const near = this.form?.position ?? this.values.form?.firstFret ?? this.neck.capo + 5;
    return gripFor(this.chord, this.struck, { ...this.neck, lastFret: USUAL_LAST + this.neck.capo }, near);
  });
  readonly marks: readonly Mark[] = $derived(
    marksOn(this.tones, this.neck, this.form, this.held?.grip ?? null),
  );

  /** The note of a drill that sounds. */
  played: Stop | null = $state.raw(null);

  constructor(session: Session, cursor: () => number) {
    this.#session = session;
    this.#cursor = cursor;
  }

  set(change: Partial<NeckValues>): void {
    const { preferences } = this.#session;
    preferences.set({ neck: { ...this.values, ...change } });
  }

  /** Where the moving notes go among the frets given, a beat before they do. */
  hints(range: readonly [number, number]): readonly Hint[] {
    if (!this.#changes) return [];
    const { now, next } = this.#view!;
    if (now.chord === null || now.scale === null || next?.chord == null || next.scale === null) return [];
    const moves = movesInto({ chord: now.chord, scale: now.scale }, { chord: next.chord, scale: next.scale });
    // Over the whole neck the two that matter most; under one hand there is room for all.
    return hintsOn(this.form === null ? moves.slice(0, 2) : moves, this.neck, range);
  }

  /** Keeps the next form up the neck, or down it; from all notes the one that begins on its lowest root. */
  step(by: 1 | -1): void {
    const { forms, form } = this;
    if (forms.length === 0) return;
    const at = form === null ? forms.findIndex(({ number }) => number === 1) - by : forms.indexOf(form);
    const next = forms[(at + by + forms.length) % forms.length]!;
    this.keep(next);
  }

  keep(form: ScaleForm | null): void {
    this.set({
      form: form && { number: form.number, firstFret: form.firstFret, lastFret: form.lastFret },
    });
  }

  /** Shows all notes, or the form that was kept before. */
  toggleForm(): void {
    if (this.form !== null) {
      this.#last = this.values.form;
      this.keep(null);
    } else if (this.#last !== null) this.set({ form: this.#last });
    else this.step(1);
  }

  #last: KeptForm | null = null;

  /** Lets one note be heard, as the neck would sound it. */
  hear(mark: { readonly note: { readonly pitch: Mark['note']['pitch'] } }): void {
    const isBass = this.values.tuning[0]! < 34 && this.values.tuning.at(-1)! < 50;
    this.#session.playing.audition(mark.note.pitch, isBass ? 'bass' : 'guitar');
  }
}

const known = new WeakMap<readonly Tone[], { readonly key: string; readonly forms: readonly ScaleForm[] }>();

/** The forms of a scale; those found last for it are remembered. */
function formsOf(
  tones: readonly Tone[],
  neck: NeckSetting,
  layout: { readonly view: NeckValues['view']; readonly string: number },
): readonly ScaleForm[] {
  const key = [neck.tuning, neck.capo, layout.view, layout.string].join(' ');
  const before = known.get(tones);
  if (before?.key === key) return before.forms;
  const forms = scaleForms(tones, neck, { ...layout, string: Math.min(layout.string, neck.tuning.length) });
  known.set(tones, { key, forms });
  return forms;
}

/** The form that follows one that is kept: the nearest of its number, or the nearest of all. */
function kept(forms: readonly ScaleForm[], form: KeptForm, keeps: NeckValues['keeps']): ScaleForm | null {
  if (keeps === 'place') return nearestForm(forms, form);
  const alike = forms.filter(({ number }) => number === form.number);
  return nearestForm(alike.length > 0 ? alike : forms, form);
}

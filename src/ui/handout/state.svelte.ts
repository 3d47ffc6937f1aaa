import { SvelteMap } from 'svelte/reactivity';
import {
  DRILL_KINDS,
  drillSource,
  nameOfKey,
  prettyDegree,
  prettyName,
  printChord,
  printTuning,
  treat,
  TUNINGS,
  type Chord,
  type FormNote,
  type Handout,
  type HandoutPart,
  type KeptDrill,
  type NeckSetting,
  type NoteName,
  type PrintedForm,
  type ScaleForm,
  type ScaleNote,
} from '../../engine/index.ts';
import type { Written } from '../chord/written.ts';
import { codeOf } from '../controls/qr.ts';
import { Ear } from '../harmony/ear.svelte.ts';
import { linkTo } from '../library/address.ts';
import { USUAL_LAST } from '../neck/geometry.ts';
import { readingFor } from '../drills/reading.ts';
import { neckInWords } from '../neck/words.ts';
import { LAST_FRET, type NeckValues } from '../neck/settings.ts';
import type { Session } from '../session.svelte.ts';
import { always, colouredStretches, loopedStretches } from './chart/stretches.ts';
import { rowsOf, type OnChart } from './chart/rows.ts';
import { differentScales, formSets, scalesOf, scalesToPrint, type PlacedScale } from './content.ts';
import type { DrawnDrill } from './drills.ts';
import { leaveOut, paginate } from './flow.ts';
import { roomOf, WIDTH, usualPaper, type PaperName } from './paper.ts';
import { piecesOf } from './pieces.ts';

/** How things are named for the player of this page. */
export interface Naming {
  readonly chord: (chord: Chord) => string;
  readonly written: () => Written;
}

/**
 * The link as a browser prints it to be pressed: one that differs from the page's own address by its fragment
 * alone would be taken for a place in the page, and left out of the PDF.
 */
function pressable(link: string): string {
  const address = new URL(link);
  const before = address.origin + address.pathname;
  return before + (location.search === '' ? '?' : '') + address.hash;
}

/** What the handout shows, from the project as it stands at home: in no round, no key but its own. */
export class HandoutState {
  readonly session: Session;
  readonly naming: Naming;
  readonly #ear: Ear;
  /** Heights of the pieces as they are laid out, px. */
  readonly heights = new SvelteMap<string, number>();
  /** The address that opens the chart as it is set, and the text of its code; null until they are made. */
  link: string | null = $state.raw(null);
  code: string | null = $state.raw(null);
  /** The drills as drawn; none until they are. */
  drawn: readonly DrawnDrill[] = $state.raw([]);

  readonly choices: Handout = $derived.by(() => this.session.project.handout);
  readonly paper: PaperName = $derived.by(() => {
    const { paper } = this.session.preferences.values;
    return paper === 'usual' ? usualPaper(navigator.language) : paper;
  });
  readonly key = $derived.by(() => this.#ear.key);

  readonly on: OnChart = $derived.by(() => {
    const { reading, layers, project } = this.session;
    return {
      coloured: colouredStretches({
        reading,
        layers,
        seed: project.settings.seed,
        nameOf: this.naming.chord,
      }),
      looped: loopedStretches(reading, project.loop),
      hits: project.hits,
    };
  });
  readonly rows = $derived.by(() => rowsOf(this.session.chart.bars, this.on, WIDTH));

  readonly places: readonly PlacedScale[] = $derived.by(() => {
    const { reading, layers, project } = this.session;
    const changes = treat(reading.written, always(layers), { round: 0, seed: project.settings.seed });
    return scalesOf({ form: reading.form, changes, heard: this.#ear.heard, picks: project.scales });
  });
  readonly scales = $derived(differentScales(this.places));
  readonly printedScales = $derived(scalesToPrint(this.scales));
  readonly values: NeckValues = $derived.by(() => this.session.preferences.values.neck);
  readonly neck: NeckSetting = $derived({
    tuning: this.values.tuning,
    capo: this.values.capo,
    lastFret: USUAL_LAST + this.values.capo,
  });
  readonly sets = $derived.by(() => formSets(this.places, this.session.project.forms, this.neck));

  readonly room = $derived(roomOf(this.paper));
  readonly pieces = $derived.by(() => {
    const { project } = this.session;
    return piecesOf({
      words: this.shows('words') ? project.words : '',
      rows: this.shows('chart') ? this.rows : [],
      hits: project.hits,
      scales: this.shows('scales') ? this.printedScales : [],
      sets: this.shows('forms') ? this.sets : [],
      drills: this.shows('drills') ? this.drawn : [],
      room: this.room,
    });
  });
  readonly #height = (id: string): number => this.heights.get(id) ?? 0;
  readonly pages = $derived.by(() => {
    const { pieces } = this;
    return paginate(pieces, this.#height, this.room).map((ids) =>
      pieces.filter(({ id }) => ids.includes(id)),
    );
  });
  readonly tooMuch = $derived.by(() => leaveOut(this.pieces, this.#height, this.room));

  constructor(session: Session, naming: Naming) {
    this.session = session;
    this.naming = naming;
    this.#ear = new Ear(() => ({ reading: session.reading, key: session.project.key }));
  }

  /** A piece was laid out so high. */
  measured(id: string, height: number): void {
    if (height > 0 && this.heights.get(id) !== height) this.heights.set(id, height);
  }

  shows(part: HandoutPart): boolean {
    return !this.choices.without.includes(part);
  }

  show(part: HandoutPart, shown: boolean): void {
    const others = this.choices.without.filter((other) => other !== part);
    this.set({ without: shown ? others : [...others, part] });
  }

  set(change: Partial<Handout>): void {
    this.session.change({ handout: { ...this.choices, ...change } }, 'Handout');
  }

  setForms(forms: readonly PrintedForm[]): void {
    this.session.change({ forms }, 'Forms of the handout');
  }

  /** Makes the link, and its code without what is on the page anyway where it would be too long with it. */
  async makeLink(): Promise<void> {
    const { exchange, project } = this.session;
    if (exchange === null) return;
    const whole = linkTo(location.href, await exchange.link(project));
    const short =
      codeOf(whole) === null
        ? linkTo(
            location.href,
            await exchange.link({ ...project, words: '', tags: [], source: '', licence: '', others: {} }),
          )
        : whole;
    if (project !== this.session.project) return;
    this.link = pressable(whole);
    this.code = codeOf(short) === null ? null : short;
  }

  /** Draws the drills, with code that comes when there is one to draw. */
  async drawDrills(): Promise<void> {
    const { project, reading, preferences } = this.session;
    const printed = project.drills.filter((drill) => drill.printed);
    if (printed.length === 0) {
      this.drawn = [];
      return;
    }
    const { symbols, spelling, written, neck } = preferences.values;
    const { reader, clef } = readingFor({ spelling, written, neck: { ...neck, kind: 'neck' } });
    const { drawDrills } = await import('./draw-drills.ts');
    const drawn = await drawDrills(printed, drillSource(project, reading), {
      neck: { ...this.neck, lastFret: LAST_FRET },
      reader,
      clef,
      symbol: (chord) => (symbols === 'typed' ? chord.text : printChord(chord, symbols)),
    });
    if (project === this.session.project) this.drawn = drawn;
  }

  /** A note's name as the player spells it. */
  noteName(note: ScaleNote | FormNote): NoteName {
    const { name, plain } = this.naming.written().note(note);
    return this.session.preferences.values.spelling === 'degree' ? name : plain;
  }

  scaleName(place: PlacedScale): string {
    return this.naming.written().scale(place.scale).name;
  }

  /** A kept drill by its name. */
  drillTitle({ id, settings }: KeptDrill): string {
    return this.drawn.find((drill) => drill.id === id)?.title ?? DRILL_KINDS[settings.kind].name;
  }

  /** A string's open note, as it sounds. */
  stringName(string: number): string {
    const { tuning, capo } = this.values;
    return prettyName(nameOfKey(tuning[tuning.length - string]! + capo).replace(/-?\d+$/, ''));
  }

  /** A form in words, string by string. */
  formInWords(place: PlacedScale, form: ScaleForm, title: string): string {
    const marks = form.notes.map((note) => ({
      key: '',
      note,
      full: true,
      finger: note.finger,
      gripped: false,
    }));
    const name = (note: FormNote) => `${prettyName(this.noteName(note))} ${prettyDegree(note.degree)}`;
    const notes = neckInWords(marks, this.neck, ({ note }) => name(note as FormNote));
    return `${this.scaleName(place)}, ${title}. ${notes}`;
  }

  /** "Guitar, E A D G B E, capo at fret 2, left hand". */
  readonly instrument = $derived.by(() => {
    const { tuning, capo, hand } = this.values;
    const named = TUNINGS.find(({ open }) => open.join(' ') === tuning.join(' '));
    const open = prettyName(printTuning(tuning)).replaceAll(/-?\d/g, '');
    return [
      named?.name.split(',')[0] ?? '',
      open,
      capo > 0 ? `capo at fret ${capo}` : '',
      hand === 'left' ? 'left hand' : '',
    ]
      .filter(Boolean)
      .join(', ');
  });
}

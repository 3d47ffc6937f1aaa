import {
  PARTS,
  roundChanges,
  type HomeKey,
  type Notice,
  type Opened,
  type Part,
  type PlayPlan,
  type Project,
  type Reading,
} from '../engine/index.ts';
import type { ScorePort, SheetChoices, StaffSheet } from './ports.ts';
import { fileName, saveFile } from './save-file.ts';

/** What files need of the session they belong to. */
interface Chart {
  readonly project: Project;
  readonly reading: Reading;
  readonly plan: PlayPlan;
  readonly key: HomeKey;
  open(project: Project): void;
  say(text: string, undoable?: boolean): void;
}

/** What of the chart is saved for other programs. */
interface Choices {
  /** The whole form, though a stretch loops. */
  readonly wholeForm: boolean;
  readonly rounds: number;
  readonly countIn: boolean;
  readonly ending: boolean;
  readonly timing: 'played' | 'straight';
  readonly treatments: SheetChoices['treatments'];
  readonly compressed: boolean;
}

/** More rounds than this are not offered: a file of hours. Our choice. */
export const MOST_ROUNDS = 50;
/** How many things not understood are said at once; the panel lists all. */
const SAID = 2;

/** What a file's name ends with when it is a lead sheet. */
export const SHEET_ENDINGS = ['.musicxml', '.mxl', '.xml'] as const;

/** True for a file that is a lead sheet by its name. */
export const isSheet = (file: Blob): file is File =>
  file instanceof File && SHEET_ENDINGS.some((ending) => file.name.toLowerCase().endsWith(ending));

/** Files for other programs and from them. */
export class Scores {
  choices: Choices = $state.raw({
    wholeForm: false,
    rounds: 1,
    countIn: false,
    ending: true,
    timing: 'played',
    treatments: 'words',
    compressed: false,
  });
  /** What of the file opened last was not understood. */
  missed: readonly Notice[] = $state.raw([]);
  /** True while a file is made or read. */
  busy = $state(false);

  readonly #session: Chart;
  readonly #port: ScorePort;

  constructor(session: Chart, port: ScorePort) {
    this.#session = session;
    this.#port = port;
  }

  set(change: Partial<Choices>): void {
    this.choices = { ...this.choices, ...change };
  }

  /** False while nothing is typed that could be saved. */
  get possible(): boolean {
    return !this.busy && this.#session.reading.written.length > 0;
  }

  async saveMidi(): Promise<void> {
    const { project, plan, key } = this.#session;
    const { wholeForm, rounds, countIn, ending, timing } = this.choices;
    const played: PlayPlan = wholeForm ? { ...plan, loop: null } : plan;
    const parts = PARTS.filter((part) => project.mix[part]?.mute === false);
    await this.#work(async () => {
      const choices = {
        title: project.title,
        key,
        first: 0,
        rounds,
        countIn: countIn ? 1 : 0,
        timing,
        parts,
        ending,
      };
      saveFile(await this.#port.midi(played, choices), `${fileName(project.title)}.mid`);
    });
  }

  async saveSheet(): Promise<void> {
    const { project, plan, reading, key } = this.#session;
    const { treatments, compressed } = this.choices;
    await this.#work(async () => {
      const changes = roundChanges({ ...plan, loop: null }, 0);
      const choices = { title: project.title, key, tempo: project.settings.tempo, treatments };
      const file = await this.#port.sheet({ chart: reading.chart, changes }, choices, compressed);
      saveFile(file, `${fileName(project.title)}${compressed ? '.mxl' : '.musicxml'}`);
    });
  }

  /** Saves the chords of the first chorus as the band voices them. */
  async saveVoicings(): Promise<void> {
    const { project, plan } = this.#session;
    const { compressed } = this.choices;
    await this.#work(async () => {
      const title = `${project.title || 'Untitled'}: chords`;
      const file = await this.#port.voicings(plan, title, compressed);
      saveFile(file, `${fileName(project.title)} chords${compressed ? '.mxl' : '.musicxml'}`);
    });
  }

  /** Saves notes on a staff, e.g. a drill. */
  async saveStaff(sheet: StaffSheet): Promise<void> {
    const { compressed } = this.choices;
    await this.#work(async () => {
      const file = await this.#port.staff(sheet, compressed);
      saveFile(file, `${fileName(sheet.title)}${compressed ? '.mxl' : '.musicxml'}`);
    });
  }

  /** Saves a drill as it is played, with the band or alone, once through. */
  async saveLine(plan: PlayPlan, title: string): Promise<void> {
    const { key } = this.#session;
    const { timing } = this.choices;
    await this.#work(async () => {
      const parts: readonly Part[] = plan.lead?.alone === true ? ['lead'] : PARTS;
      const choices = { title, key, first: 0, rounds: 1, countIn: 0, timing, parts, ending: false };
      saveFile(await this.#port.midi(plan, choices), `${fileName(title)}.mid`);
    });
  }

  /**
   * Opens a lead sheet in place of the chart. False when it is none.
   * @param take what is done with it instead, e.g. the library receives it
   */
  async open(file: File, take?: (opened: Opened) => Promise<void>): Promise<boolean> {
    let opened = false;
    await this.#work(async () => {
      const read = await this.#port.read(file);
      if (!read.ok) {
        this.#session.say(`${read.error.message} ${read.error.remedy}`);
        return;
      }
      const { project, notices } = read.value;
      const title = project.title || file.name.replace(/\.[^.]+$/, '');
      const named = { ...project, title };
      if (take) await take({ project: named, notices: [] });
      else this.#session.open(named);
      this.missed = notices;
      this.#session.say(sentence(title, notices), true);
      opened = true;
    });
    return opened;
  }

  async #work(work: () => Promise<void>): Promise<void> {
    this.busy = true;
    try {
      await work();
    } catch {
      this.#session.say('The file could not be made. Reload the page and try once more.');
    } finally {
      this.busy = false;
    }
  }
}

function sentence(title: string, notices: readonly Notice[]): string {
  if (notices.length === 0) return `${title} is open.`;
  const said = notices.slice(0, SAID).map(({ place, message }) => `${place}: ${message}`);
  const more = notices.length - said.length;
  const rest = more > 0 ? `; and ${more} more, listed under Charts` : '';
  return `${title} is open, but not everything was understood: ${said.join('; ')}${rest}.`;
}

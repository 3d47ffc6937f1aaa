import type { Opened, Project, Result, Trouble } from '../../engine/index.ts';
import { newProject } from '../../engine/index.ts';
import { freshId } from '../id.ts';
import type {
  ChartVersion,
  LibraryEntry,
  Preset,
  Restored,
  Room,
  StorageNews,
  StoragePort,
} from '../ports.ts';
import { isSheet } from '../scores.svelte.ts';
import type { Session } from '../session.svelte.ts';
import { Arrivals } from './arrivals.ts';
import { LessonSets } from './sets.svelte.ts';
import { megabytes, missed, restoredWords, sentence, titleOf } from './words.ts';

/** How the chart in work is kept. */
export type Keeping =
  | { readonly type: 'kept' | 'waiting' }
  /** A save failed and is tried again, or nothing lasts beyond the page. */
  | { readonly type: 'failed' | 'temporary'; readonly trouble: Trouble };

/** Our choice: long enough not to nag, short enough to be heeded. */
const ROOM_ASKED_EVERY_MS = 60_000;

/**
 * The player's charts on this device, and the way of the chart in work into it. A ready-made chart that
 * is opened lies there without being in the library; with its first change it becomes the player's own.
 */
export class Library {
  /** Latest first. */
  entries: readonly LibraryEntry[] = $state.raw([]);
  removed: readonly LibraryEntry[] = $state.raw([]);
  /** False until the library has been read once. */
  read = $state(false);
  keeping: Keeping = $state.raw({ type: 'kept' });
  room: Room | null = $state.raw(null);
  readonly sets: LessonSets;

  readonly #session: Session;
  readonly #storage: StoragePort;
  readonly #arrivals = new Arrivals();
  #arriving = false;
  #persistenceAsked = false;
  #roomAsked = -Infinity;
  #refreshing: Promise<void> = Promise.resolve();

  /**
   * @param inLibrary false when the session begins with a chart that nobody has made his own
   */
  constructor(session: Session, storage: StoragePort, inLibrary: boolean) {
    this.#session = session;
    this.#storage = storage;
    this.sets = new LessonSets(session, storage);
    if (!inLibrary) this.#arrivals.add(session.project);
    storage.watch((news) => this.#hear(news));
  }

  // --- the chart in work --------------------------------------------------------------------------

  /** Keeps a new state of the project; to be called with each. */
  keep(project: Project): void {
    if (this.#arriving) this.#arrivals.add(project);
    if (this.#arrivals.isAsItCame(project)) this.#storage.lay(project);
    else this.#storage.keep(project);
  }

  /** Lays a ready-made chart open. */
  openReady({ project, title }: Preset): void {
    this.#lay(project, title);
    this.#session.say(`${title} is open. The first change makes it your own.`, true);
  }

  /** Lays an empty chart open, with the band as it is. */
  begin(): void {
    this.#lay(newProject({ title: 'Untitled', settings: this.#session.settings }), 'an empty chart');
    this.#session.say('An empty chart. Type the first chords.', true);
  }

  async open(id: string): Promise<boolean> {
    if (id === this.#session.project.id) return true;
    const opened = await this.#storage.get(id);
    if (!opened.ok) return this.#sayTrouble(opened.error);
    this.#session.open(opened.value.project);
    this.#sayOpened(opened.value);
    return true;
  }

  /** Opens the next chart (1) of the set that the open one stands in, or the one before (-1). */
  async step(by: -1 | 1): Promise<void> {
    if (!this.read) await this.refresh();
    const exists = (id: string) => this.entries.some((entry) => entry.id === id);
    const place = this.sets.beside(this.#session.project.id, by, exists);
    const say = (text: string) => this.#session.say(text);
    if (place === null) return say('This chart stands in no set. Put it into one in Charts, under Sets.');
    const { set, at, chart } = place;
    if (chart === null) return say(`This is the ${by > 0 ? 'last' : 'first'} chart of the set ${set.name}.`);
    this.sets.begin(set.id);
    if (!(await this.open(chart))) return;
    say(`${titleOf(this.#session.project)}: ${at + 1} of ${set.charts.length} in ${set.name}.`);
  }

  /** Opens what came from outside as a chart of the library; one that is there already is opened itself. */
  async receive(opened: Opened): Promise<void> {
    const there = await this.#storage.find(opened.project);
    if (there.ok && there.value !== null) {
      if (await this.open(there.value)) this.#sayOpened(opened);
      return;
    }
    this.#session.open({ ...opened.project, id: '' });
    this.#sayOpened(opened, 'It is kept in your library.');
  }

  /** Opens the chart of a link; the chart in work stays in the library. True when there was one. */
  async openLink(fragment: string): Promise<boolean> {
    const read = await this.#session.exchange?.readLink(fragment);
    if (read === undefined) return false;
    if (!read.ok) return this.#sayTrouble(read.error);
    await this.receive(read.value);
    return true;
  }

  /** Opens a chart file or a lead sheet of another program, or brings a backup in, whichever it is. */
  async openFile(file: Blob): Promise<boolean> {
    const { scores } = this.#session;
    if (scores !== null && isSheet(file)) return scores.open(file, (opened) => this.receive(opened));
    const text = await file.text();
    const read = this.#session.exchange?.read(text);
    if (read?.ok) {
      await this.receive(read.value);
      return true;
    }
    if (text.includes('"vampwright-library"')) return this.restore(text);
    return read === undefined ? false : this.#sayTrouble(read.error);
  }

  // --- the others ---------------------------------------------------------------------------------

  async rename(id: string, title: string): Promise<void> {
    if (id === this.#session.project.id) this.#session.rename(title);
    else await this.#do(this.#storage.label(id, { title }));
  }

  async tag(id: string, tags: readonly string[]): Promise<void> {
    if (id === this.#session.project.id) this.#session.tag(tags);
    else await this.#do(this.#storage.label(id, { tags }));
  }

  /** Opens a copy, which is kept from the start. */
  async duplicate(id: string): Promise<void> {
    const opened = await this.#storage.get(id);
    if (!opened.ok) return void this.#sayTrouble(opened.error);
    const { project } = opened.value;
    this.#session.open({ ...project, id: freshId(), title: `${titleOf(project)} (copy)` });
    this.#session.say(`A copy of ${titleOf(project)} is open.`, true);
    await this.#storage.settle();
  }

  async remove(id: string): Promise<void> {
    const entry = this.entries.find((one) => one.id === id);
    const removed = await this.#storage.remove(id);
    if (!removed.ok) return void this.#sayTrouble(removed.error);
    const wasOpen = id === this.#session.project.id;
    if (wasOpen) await this.#openAnother(id);
    await this.refresh();
    this.#session.say(`${titleOf(entry)} is removed. For thirty days it can be taken back.`, {
      label: 'Take back',
      run: () => void this.takeBack(id, wasOpen),
    });
  }

  /** @param open true to open it as well */
  async takeBack(id: string, open = false): Promise<void> {
    if (await this.#do(this.#storage.takeBack(id))) if (open) await this.open(id);
  }

  // --- versions -----------------------------------------------------------------------------------

  async versions(id: string): Promise<readonly ChartVersion[]> {
    const versions = await this.#storage.versions(id);
    return versions.ok ? versions.value : [];
  }

  async version(id: string): Promise<Project | null> {
    const version = await this.#storage.version(id);
    return version.ok ? version.value.project : null;
  }

  /** The chart `id` as it is now. */
  async current(id: string): Promise<Project | null> {
    if (id === this.#session.project.id) return this.#session.project;
    const opened = await this.#storage.peek(id);
    return opened.ok ? opened.value.project : null;
  }

  /** Makes the chart in work the player's own, though it may be as it came: something hangs on it. */
  own(): void {
    const { project } = this.#session;
    if (this.#arrivals.makeOwn(project.id)) this.#storage.keep(project);
  }

  async keepVersion(id: string, name: string): Promise<void> {
    if (id === this.#session.project.id) this.own();
    if (await this.#do(this.#storage.keepVersion(id, name))) this.#session.say('This version is kept.');
  }

  /** Goes back to a version: a step that undo takes back, and what stood before it is a version, too. */
  async goBack(version: Project): Promise<void> {
    await this.#storage.keepVersion(version.id, '');
    this.#session.open(version, 'Going back to a version');
    this.#session.say(`${titleOf(version)} is as it was then.`, true);
  }

  // --- everything ---------------------------------------------------------------------------------

  /** @param takes true to put recordings in, too */
  async backup(takes: boolean): Promise<string | null> {
    const preferences = this.#session.preferences.values;
    const text = await this.#storage.backup({ takes, preferences: { ...preferences } });
    if (text.ok) return text.value;
    this.#sayTrouble(text.error);
    return null;
  }

  async restore(text: string): Promise<boolean> {
    const isFirst = this.entries.length === 0 && !this.#session.preferences.own;
    const restored: Result<Restored, Trouble> = await this.#storage.restore(text);
    if (!restored.ok) return this.#sayTrouble(restored.error);
    const { preferences, notices } = restored.value;
    if (isFirst && preferences !== null) this.#session.preferences.adopt(preferences);
    await this.refresh();
    this.#session.say(`${restoredWords(restored.value)}${missed(notices)}`);
    return true;
  }

  /** Reads the library anew, after whatever is being read. */
  refresh(): Promise<void> {
    this.#refreshing = this.#refreshing.then(async () => {
      const [entries, removed] = [await this.#storage.list(), await this.#storage.removed()];
      if (entries.ok) this.entries = entries.value;
      if (removed.ok) this.removed = removed.value;
      await this.sets.refresh();
      this.room = await this.#storage.room();
      this.read = true;
    });
    return this.#refreshing;
  }

  #lay(project: Project, title: string): void {
    this.#arriving = true;
    this.#session.open({ ...project, id: '' }, `Opening ${title}`);
    this.#arriving = false;
  }

  async #openAnother(id: string): Promise<void> {
    const next = this.entries.find((entry) => entry.id !== id);
    const opened = next && (await this.#storage.get(next.id));
    const [ready] = this.#session.presets;
    if (opened?.ok) this.#session.open(opened.value.project);
    else this.#lay(ready?.project ?? newProject({ title: 'Untitled' }), ready?.title ?? 'an empty chart');
  }

  async #do(work: Promise<Result<unknown, Trouble>>): Promise<boolean> {
    const done = await work;
    await this.refresh();
    return done.ok || this.#sayTrouble(done.error);
  }

  #sayTrouble(trouble: Trouble): false {
    this.#session.say(sentence(trouble));
    return false;
  }

  #sayOpened({ project, notices }: Opened, more = ''): void {
    const title = `${titleOf(project)} is open. ${more}`.trim();
    this.#session.say(`${title}${missed(notices)}`, true);
  }

  #hear(news: StorageNews): void {
    switch (news.type) {
      case 'unsaved':
        if (this.keeping.type === 'kept') this.keeping = { type: 'waiting' };
        return;
      case 'saved':
        if (this.keeping.type !== 'temporary') this.keeping = { type: 'kept' };
        if (this.read) void this.refresh();
        void this.#afterSaving();
        return;
      case 'failed':
      case 'temporary': {
        const isNews = !('trouble' in this.keeping) || this.keeping.trouble.message !== news.trouble.message;
        this.keeping = { type: news.type, trouble: news.trouble };
        if (isNews) this.#sayTrouble(news.trouble);
        return;
      }
      case 'kept-both':
        if (news.id === this.#session.project.id) this.#session.keepAs(news.as);
        this.#session.say(
          'Another window has changed this chart. Both are kept: that one, and yours beside it.',
        );
        return;
      case 'changed-elsewhere':
      case 'records-elsewhere':
        if (this.read) void this.refresh();
    }
  }

  /** Asks for lasting room once there is something to lose and the hands are free, and says when it runs out. */
  async #afterSaving(): Promise<void> {
    if (!this.#persistenceAsked && !this.#session.playing.on) {
      this.#persistenceAsked = true;
      void this.#storage.persist();
    }
    if (performance.now() - this.#roomAsked < ROOM_ASKED_EVERY_MS) return;
    this.#roomAsked = performance.now();
    this.room = await this.#storage.room();
    if (this.room?.low !== true) return;
    this.#session.say(
      `The device is nearly full: ${megabytes(this.room.total - this.room.used)} are left. ` +
        'Save your library as a file, then remove takes and charts you no longer need.',
    );
  }
}

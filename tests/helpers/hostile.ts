import { deepEqual, notEqual, ok } from 'node:assert/strict';
import {
  FEELS,
  newProject,
  randomFor,
  TEMPO_RANGE,
  type Opened,
  type Project,
  type Result,
  type Trouble,
} from '../../src/engine/index.ts';
import { readProject, writeProject } from '../../src/storage/file.ts';
import { decodeLink, encodeLink } from '../../src/storage/link.ts';
import { mutate } from './mutate.ts';

/** Counts of what became of hurt files or links. */
export interface Tally {
  opened: number;
  withNotices: number;
  refused: number;
  /** The longest that one took, ms; to be read, not to be judged by. */
  slowest: number;
}

/** Reads `count` hurt copies of the given files and says what became of them. */
export function readHurtFiles(files: readonly string[], count: number, seed: number): Tally {
  const tally: Tally = { opened: 0, withNotices: 0, refused: 0, slowest: 0 };
  for (let i = 0; i < count; i++) {
    const random = randomFor(seed, 'file', i);
    const hurt = mutate(random.pick(files), random);
    const start = performance.now();
    const result = readProject(hurt);
    judge(result, performance.now() - start, tally);
  }
  return tally;
}

/** The same with links. */
export async function readHurtLinks(
  projects: readonly Project[],
  count: number,
  seed: number,
): Promise<Tally> {
  const links = await Promise.all(projects.map(encodeLink));
  const tally: Tally = { opened: 0, withNotices: 0, refused: 0, slowest: 0 };
  for (let i = 0; i < count; i++) {
    const random = randomFor(seed, 'link', i);
    const hurt = mutate(random.pick(links), random);
    const start = performance.now();
    const result = await decodeLink(hurt);
    judge(result, performance.now() - start, tally);
  }
  return tally;
}

/** Whatever was opened is a project the engine can take, and comes back from a file the same. */
function judge(result: Result<Opened, Trouble>, took: number, tally: Tally): void {
  tally.slowest = Math.max(tally.slowest, took);
  if (!result.ok) {
    tally.refused++;
    notEqual(result.error.message, '');
    return;
  }
  const { project, notices } = result.value;
  tally.opened++;
  if (notices.length > 0) tally.withNotices++;
  deepEqual(faults(project), []);
  const written = writeProject(project);
  const again = readProject(written);
  ok(again.ok && writeProject(again.value.project) === written, written);
  deepEqual(Object.keys(Object.prototype), []);
}

/** True where the drill of its step is among those kept with it. */
const knowsDrill = ({ step, drills }: Project) =>
  step?.drill == null || drills.some(({ id }) => id === step.drill);

/** What no project may have, whatever it was read from. */
function faults(project: Project): string[] {
  const { settings, layers, loop, scales, step } = project;
  const spans = [...layers.placed, ...(loop ? [loop] : [])];
  const isWhole = (value: number, min: number) => Number.isSafeInteger(value) && value >= min;
  const isPart = (value: number) => value >= 0 && value <= 1;
  const checks: Record<string, boolean> = {
    fields: Object.keys(project).sort().join() === Object.keys(newProject()).sort().join(),
    tempo: settings.tempo >= TEMPO_RANGE.min && settings.tempo <= TEMPO_RANGE.max,
    shares: isPart(settings.density) && isPart(settings.intensity),
    feel: FEELS.has(settings.feel),
    seed: Number.isSafeInteger(settings.seed),
    text: typeof project.text === 'string' && typeof project.title === 'string',
    lengths: spans.every((span) => isWhole(span.length, 1)),
    places: [...spans, ...scales].every((place) => isWhole(place.bar, 0) && isWhole(place.at, 0)),
    names: new Set(layers.placed.map((item) => item.id)).size === layers.placed.length,
    levels: Object.values(project.mix).every(({ level, mute }) => isPart(level) && typeof mute === 'boolean'),
    pans: Object.values(project.mix).every(({ pan = 0 }) => pan >= -1 && pan <= 1),
    step: step === null || (isPart(step.minutes / 240) && step.minutes > 0 && knowsDrill(project)),
    tone: [project.tone.low, project.tone.high].every((shelf) => Math.abs(shelf) <= 12),
  };
  return Object.keys(checks).filter((name) => checks[name] !== true);
}

import {
  drillOf,
  prettyDegree,
  prettyName,
  sheetOf,
  transposedFor,
  type Chord,
  type Drill,
  type DrillSource,
  type KeptDrill,
  type NeckSetting,
  type Reader,
  type TransposingId,
} from '../../engine/index.ts';
import { engrave } from '../notation/engrave.ts';
import { loadStaffFace } from '../notation/faces.ts';
import type { DrawnDrill } from './drills.ts';
import { HAIR, WIDTH } from './paper.ts';

/** How drills are to be read. */
export interface Reading {
  readonly neck: NeckSetting;
  readonly spelling: Reader['spelling'];
  readonly written: TransposingId;
  /** A chord symbol as it is shown. */
  readonly symbol: (chord: Chord) => string;
}

/** A staff is 7.9 mm high. Our choice: a little larger than in books, to be read from a stand. */
const SCALE = 0.75;

/** The drills of a handout, drawn in black. */
export async function drawDrills(
  drills: readonly KeptDrill[],
  source: DrillSource,
  reading: Reading,
): Promise<readonly DrawnDrill[]> {
  await loadStaffFace();
  await document.fonts.ready;
  return drills.map((kept): DrawnDrill => {
    const made = drillOf(kept, source, reading.neck);
    const { id } = kept;
    if (!made.ok) {
      return { id, title: '', systems: [], words: [], problem: `${made.error.message} ${made.error.remedy}` };
    }
    const { title, problem } = made.value;
    return {
      id,
      title,
      problem,
      ...(problem === null ? drawn(made.value, reading) : { systems: [], words: [] }),
    };
  });
}

function drawn(
  drill: Drill,
  { neck, spelling, written, symbol }: Reading,
): Pick<DrawnDrill, 'systems' | 'words'> {
  const isBass = neck.tuning.at(-1)! < BASS;
  const reader = {
    spelling,
    written: transposedFor(isOctaveLower(neck) && written === 'concert' ? 'octave-lower' : written),
  };
  const systems = engrave(sheetOf(drill, reader), {
    width: WIDTH,
    scale: SCALE,
    clef: isBass ? 'bass' : 'treble',
    strings: neck.tuning.length,
    degrees: true,
    symbol,
  });
  for (const { svg } of systems) blacken(svg);
  return {
    systems,
    words: systems.map(({ from, to }) =>
      drill.notes
        .filter(({ at }) => at >= from && at < to)
        .map(
          ({ plain, degree }) => `${prettyName(plain)}${degree === null ? '' : ` ${prettyDegree(degree)}`}`,
        )
        .join(', '),
    ),
  };
}

/** The highest string of a bass is lower than this, and that of a guitar higher; MIDI keys. */
const BASS = 50;
/** Fretted instruments whose lowest string is lower than this are written an octave higher. Common practice. */
const LOW = 55;
const isOctaveLower = ({ tuning }: NeckSetting): boolean => Math.min(...tuning) < LOW;

/** Black, and no line thinner than prints sharp. */
function blacken(svg: SVGSVGElement): void {
  svg.setAttribute('color', '#000');
  const least = HAIR / SCALE;
  svg.setAttribute('stroke-width', least.toFixed(2));
  // Fields that are there to be pointed at.
  for (const field of svg.querySelectorAll('rect[opacity="0"]')) field.remove();
  for (const line of svg.querySelectorAll('[stroke-width]')) {
    const width = Number(line.getAttribute('stroke-width'));
    if (width > 0 && width < least) line.setAttribute('stroke-width', least.toFixed(2));
  }
}

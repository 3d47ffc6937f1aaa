import {
  drillOf,
  prettyDegree,
  prettyName,
  sheetOf,
  type Chord,
  type Drill,
  type DrillSource,
  type KeptDrill,
  type NeckSetting,
} from '../../engine/index.ts';
import type { Reading } from '../drills/reading.ts';
import { engrave } from '../notation/engrave.ts';
import { loadStaffFace } from '../notation/faces.ts';
import type { DrawnDrill } from './drills.ts';
import { HAIR, WIDTH } from './paper.ts';

/** How drills are to be drawn. */
export interface Drawing extends Pick<Reading, 'reader' | 'clef'> {
  readonly neck: NeckSetting;
  /** A chord symbol as it is shown. */
  readonly symbol: (chord: Chord) => string;
}

/** A staff is 7.9 mm high. Our choice: a little larger than in books, to be read from a stand. */
const SCALE = 0.75;

/** The drills of a handout, drawn in black. */
export async function drawDrills(
  drills: readonly KeptDrill[],
  source: DrillSource,
  drawing: Drawing,
): Promise<readonly DrawnDrill[]> {
  await loadStaffFace();
  await document.fonts.ready;
  return drills.map((kept): DrawnDrill => {
    const made = drillOf(kept, source, drawing.neck);
    const { id } = kept;
    if (!made.ok) {
      return { id, title: '', systems: [], words: [], problem: `${made.error.message} ${made.error.remedy}` };
    }
    const { title, problem } = made.value;
    return {
      id,
      title,
      problem,
      ...(problem === null ? drawn(made.value, drawing) : { systems: [], words: [] }),
    };
  });
}

function drawn(drill: Drill, { neck, reader, clef, symbol }: Drawing): Pick<DrawnDrill, 'systems' | 'words'> {
  const systems = engrave(sheetOf(drill, reader), {
    width: WIDTH,
    scale: SCALE,
    clef,
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

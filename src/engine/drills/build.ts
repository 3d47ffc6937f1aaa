import type { Changes } from '../harmony/index.ts';
import type { NeckSetting } from '../neck/index.ts';
import { beatLength, PPQ, ticks } from '../units/index.ts';
import { approaches } from './approach.ts';
import { DRILL_KINDS } from './data.ts';
import { dominantDrill, phrasesThrough } from './dominant.ts';
import { Beats, startOf, unitOf, type Draft, type Stroke } from './pen.ts';
import { placed } from './place.ts';
import { ladderOf, restingTones, rungsOf } from './rungs.ts';
import { groupOf, rootRun, shapes } from './scale-drills.ts';
import { guideLine, leadsThrough, through, type Road } from './through.ts';
import type { Drill, DrillNote, DrillSettings, DrillGround, Passage, DrillChord } from './types.ts';
import { barsOf, snapped, vampOf } from './vamp.ts';

/**
 * A drill by its settings. The same settings, ground and neck give the same drill.
 * @param ground one chord, or the changes of a round with the scale of each span
 * @returns a drill without notes, and the reason, where there is no room for it
 * @throws RangeError when this kind of drill is not made over this kind of ground
 */
export function buildDrill(settings: DrillSettings, ground: DrillGround, neck: NeckSetting): Drill {
  const info = DRILL_KINDS[settings.kind];
  if (!(info.over as readonly string[]).includes(ground.over)) {
    throw new RangeError(
      `"${settings.kind}" is made over ${info.over.join(' or ')}, not over ${ground.over}`,
    );
  }
  const draft =
    ground.over === 'chord'
      ? overChord(settings, ground.place, neck)
      : overChanges(settings, ground.passage, neck);
  const { strokes, changes, reach, from } = draft;
  const stops = placed(strokes, neck, reach);
  const isAccented = accentsOf(settings, changes);
  const notes = strokes.map(({ rung, at, length, why, head }, i): DrillNote => ({
    at: ticks(at),
    length: ticks(length),
    pitch: rung.pitch,
    name: rung.name,
    plain: rung.plain,
    degree: rung.degree,
    stop: stops[i]!,
    accent: isAccented(at, head, i),
    why,
  }));
  const cell = settings.kind === 'cells' ? ` ${settings.cell}` : '';
  return {
    title: from === null ? info.name : `${info.name}${cell}, ${from}`,
    settings,
    changes,
    notes,
    problem: notes.length > 0 ? null : problemOf(settings, ground),
  };
}

function problemOf({ kind }: DrillSettings, ground: DrillGround): string {
  const isPhrases = kind === 'phrases' && ground.over === 'changes';
  return isPhrases && !ground.passage.scales.some((scale) => scale?.id === 'altered')
    ? 'No chord here takes the altered scale. Alter a dominant, or choose one for the drill.'
    : 'There is no room for this drill here. Choose a wider range, or a free hand.';
}

function overChord(settings: DrillSettings, place: DrillChord, neck: NeckSetting): Draft {
  const { kind, rhythm } = settings;
  const { chord, scale, metre } = place;
  const { rungs, reach } = ladderOf(scale.notes, settings, neck);
  const { bars } = barsOf(metre, 1);
  const unit = unitOf(rhythm, bars);
  const beats = new Beats({ bars });
  const from = startOf(settings, metre);
  const name = scale.name;
  if (kind === 'plain-altered' || kind === 'phrases') return dominantDrill(settings, place, reach);
  const desk = { rungs, unit, beats, from, scale: name };
  const group = groupOf(settings);
  const strokes =
    group !== null
      ? shapes(desk, group, settings)
      : kind === 'root-run'
        ? rootRun(desk)
        : approaches(
            desk,
            rungsOf(restingTones(chord), reach),
            kind === 'approach' ? 'approach' : 'enclosure',
            (PPQ / unit) as 1 | 2 | 3 | 4,
          );
  return { strokes, changes: vampOf(chord, metre, endOf(strokes)), reach, from: name };
}

function overChanges(settings: DrillSettings, passage: Passage, neck: NeckSetting): Draft {
  const { scales } = passage;
  const unit = unitOf(settings.rhythm, passage.changes.bars);
  const changes = snapped(
    passage.changes,
    settings.rhythm === 'triplet' && unit % (PPQ / 3) === 0 ? PPQ / 3 : PPQ / 4,
  );
  const metre = changes.bars[0]!.metre;
  const first = scales.find((scale) => scale !== null);
  const { reach } = ladderOf(first?.notes ?? [], settings, neck);
  const { start, skipped, length } = changes.bars[0]!;
  const from = Math.max(start, Math.min(startOf(settings, metre) - skipped, length - beatLength(metre)));
  const road: Road = {
    passage: { changes, scales },
    reach,
    unit,
    beats: new Beats(changes),
    from,
    settings,
  };
  return { strokes: strokesThrough(road), changes, reach, from: null };
}

function strokesThrough(road: Road): readonly Stroke[] {
  switch (road.settings.kind) {
    case 'guide-tones':
      return guideLine(road);
    case 'approach':
      return leadsThrough(road, 'approach');
    case 'enclosure':
      return leadsThrough(road, 'enclosure');
    case 'phrases':
      return phrasesThrough(road);
    case 'chord-tones':
      return through(road, 'chord');
    default:
      return through(road, 'scale');
  }
}

function accentsOf({ accents }: DrillSettings, changes: Changes) {
  const beats = new Beats(changes);
  return (at: number, head: boolean, index: number): boolean => {
    switch (accents) {
      case 'groups':
        return head;
      case 'beats':
        return beats.isOnBeat(at);
      case 'off-beats':
        return !beats.isOnBeat(at);
      case 'threes':
        return index % 3 === 0;
      case 'none':
        return false;
    }
  };
}

const endOf = (strokes: readonly Stroke[]): number => {
  const last = strokes.at(-1);
  return last === undefined ? 0 : last.at + last.length;
};

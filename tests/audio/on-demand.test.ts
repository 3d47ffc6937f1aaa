import { afterEach, describe, expect, it } from 'vitest';
import type { Instrument, Lineup, Sounds } from '../../src/audio/index.ts';
import { playerOnDemand } from '../../src/audio/on-demand.ts';
import { beats, bpm, FEELS, lineupOf, midi, ticks, type NoteSource } from '../../src/engine/index.ts';
import { loopOf, TRIO } from '../helpers/music.ts';
import { impulses } from '../helpers/sounds.ts';

const BRUSHES: Lineup = { comp: 'piano', bass: 'bass', drums: 'brushes', click: 'click' };
const STICKS: Lineup = { ...BRUSHES, comp: 'guitar', drums: 'sticks' };

let asked: Set<Instrument>;
let player: ReturnType<typeof playerOnDemand>;

function make() {
  asked = new Set();
  const silent = impulses(48000);
  const sounds: Sounds = {
    pick(instrument, key, random) {
      asked.add(instrument);
      return silent.pick(instrument, key, random);
    },
  };
  player = playerOnDemand({ sounds });
  return player;
}

const source = (lineup?: Lineup): NoteSource => ({
  ...loopOf(TRIO, 8),
  ...(lineup && { lineup }),
});
const start = (lineup?: Lineup) => player.start(source(lineup), bpm(120), ticks(0));

afterEach(() => player.stop());

describe('a player whose code comes with the first press', () => {
  it('plays what a source says it is played on, from the first note', async () => {
    make();
    await start(BRUSHES);
    expect([...asked].sort()).toEqual(['bass', 'brushes', 'piano']);
  });

  it('remembers who was to play before there was anybody', async () => {
    make().setLineup(STICKS);
    await start();
    expect([...asked].sort()).toEqual(['bass', 'guitar', 'sticks']);
  });

  it('changes players when the next source names others', async () => {
    make();
    await start(STICKS);
    asked.clear();
    player.replace(source(BRUSHES), beats(2));
    expect([...asked].sort()).toContain('brushes');
    expect(asked.has('guitar')).toBe(false);
  });

  it('knows every instrument that a feel can ask for', async () => {
    make();
    for (const feel of FEELS.keys()) {
      asked.clear();
      await start(lineupOf({ feel, chords: 'piano' }));
      expect(asked, feel).toContain(FEELS.get(feel)!.kit);
    }
  });

  it('sounds a single note before anything has been played, and beside the band', async () => {
    make();
    await player.audition(midi(64));
    expect([...asked]).toEqual(['guitar']);
    await start(BRUSHES);
    asked.clear();
    await player.audition(midi(40), 'bass');
    expect(asked.has('guitar')).toBe(false);
    expect(asked.has('bass')).toBe(true);
    expect(player.position()).not.toBeNull();
  });
});

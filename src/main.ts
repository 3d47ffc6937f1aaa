import { mount } from 'svelte';
import { earlyContext, heard, takePlace } from './arrival/index.ts';
import type { LayDrill } from './engine/index.ts';
import { SOUND_CREDITS } from './audio/credits.ts';
import { playerOnDemand } from './audio/on-demand.ts';
import { recorderOnDemand } from './audio/take/on-demand.ts';
import { keepOffline, startNewest } from './offline/index.ts';
import { midiOutput } from './midi/index.ts';
import {
  decodeLink,
  encodeLink,
  FILE_ENDING,
  openDevice,
  readFirstPreset,
  readProject,
  writeProject,
} from './storage/index.ts';
import App from './ui/App.svelte';
import { fetchBand } from './ui/band.ts';
import type { Drilling } from './ui/drills/drilling.svelte.ts';
import { freshId } from './ui/id.ts';
import { Library } from './ui/library/library.svelte.ts';
import { missed, sentence } from './ui/library/words.ts';
import { Routine } from './ui/plan/routine.svelte.ts';
import { speak } from './ui/plan/speak.ts';
import type { PreferenceKeeper } from './ui/preferences.svelte.ts';
import type { RenderPort, SoundFormat, ScorePort } from './ui/ports.ts';
import { Session } from './ui/session.svelte.ts';

/** The first press of play comes before the app is put by for later: it waits this long, ms. Our choice. */
const OFFLINE_AFTER_MS = 5000;

/** The one place where the page, the sound and the device are put together. */
async function main(): Promise<void> {
  if (import.meta.env.PROD && (await startNewest())) return;
  const midiOut = midiOutput();
  const player = playerOnDemand({ outside: midiOut }, earlyContext());
  const device = openDevice();
  const last = await device.last();
  const lying = last.ok ? last.value : null;

  const first = readFirstPreset();
  const session: Session = new Session({
    player,
    presets: [first],
    readPresets: async () => (await import('./storage/presets.ts')).readPresets(),
    project: lying?.project ?? { ...first.project, id: freshId() },
    keep: (changed) => library.keep(changed),
    preferences: localPreferences(),
    exchange: {
      write: writeProject,
      read: readProject,
      link: encodeLink,
      readLink: decodeLink,
      ending: FILE_ENDING,
    },
    render: renderOnDemand,
    credits: SOUND_CREDITS,
    scores: scoresOnDemand,
    midiOut,
  });
  const library = new Library(session, device, lying?.inLibrary ?? false);
  const routine = new Routine(session, {
    book: planBook,
    plans: device.plans,
    log: device.log,
    open: (project) => library.openReady({ id: '', title: project.title, sentence: '', project }),
    drills: async (asked) => (await drillSheet()).drillsOf(asked),
    speak,
  });
  if (!last.ok) session.say(sentence(last.error));
  else if (lying !== null && lying.notices.length > 0) session.say(missed(lying.notices).trim());
  await openLinked();
  // Each takes a while, and is kept for what is drawn from it.
  for (const work of [() => session.plan, () => session.sources]) {
    await heard();
    work();
  }
  await heard();
  const take = {
    recorder: recorderOnDemand(() => player.deck(), wavEncoder),
    takes: device.takes,
    drills: async () => (await drillSheet()).layDrill,
    own: () => library.own(),
  };
  const coming = {
    pause: heard,
    ready: () => void takePlace().then((pressed) => (pressed ? session.play() : undefined)),
    whole: () =>
      whenIdle(() => {
        fetchBand().catch(() => undefined);
        player.prepare();
      }),
  };
  mount(App, {
    target: document.getElementById('app')!,
    props: { session, library, routine, take, coming },
  });
  addEventListener('hashchange', () => void openLinked());
  addEventListener('pagehide', () => void device.settle());
  if (import.meta.env.PROD) setTimeout(() => whenIdle(() => void keepOffline(sayNewer)), OFFLINE_AFTER_MS);

  /** Says, once the band is silent, that there is a newer version. */
  function sayNewer(use: () => void): void {
    const end = player.watch(({ type }) => {
      if (type !== 'idle' && type !== 'failed') return;
      // Not from within the call that begins to watch.
      queueMicrotask(() => end());
      session.say('A newer version of the page is here. It comes by itself at the next start.', {
        label: 'Use it now',
        run: () => void device.settle().then(use),
      });
    });
  }

  /** The chart in the address becomes one of the library; then the address is that of the page again. */
  async function openLinked(): Promise<void> {
    if (location.hash.length < 2) return;
    if (await library.openLink(location.hash)) {
      history.replaceState(null, '', location.pathname + location.search);
    }
  }
}

const wavEncoder = async () => {
  const { wavWriter } = await import('./export/wav/index.ts');
  return (format: SoundFormat, frames: number) => wavWriter({ ...format, channels: 2 }, frames);
};

/** Plans, whose code comes when the first is asked for. */
const planBook = async () => {
  const { planFromData, planToData, readPlans } = await import('./storage/plans.ts');
  return { suggested: readPlans(), fromData: planFromData, toData: planToData };
};

/** What the sheet of drills brings along. */
interface DrillSheet {
  readonly drillsOf: (session: Session) => Drilling;
  readonly layDrill: LayDrill;
}
const drillSheet = async () => (await import('./ui/drills/Drills.svelte')) as unknown as DrillSheet;

/** Sound files, whose code comes when the first is asked for. */
const renderOnDemand: RenderPort = {
  async compressed() {
    return (await import('./export/compressed/index.ts')).compressedExtension();
  },
  async render(request, watch) {
    const { compressed } = request;
    const encoder = compressed === null ? wavEncoder() : compressor(compressed.title);
    const [{ renderFiles }, encode] = await Promise.all([import('./audio/index.ts'), encoder]);
    return renderFiles(request, encode, watch);
  },
};

const compressor = async (title: string) => {
  const { compressedWriter } = await import('./export/compressed/index.ts');
  return () => compressedWriter(title);
};

/** Files of other programs, whose code comes when the first is asked for. */
const scoresOnDemand: ScorePort = {
  midi: async (...asked) => (await import('./export/index.ts')).scores.midi(...asked),
  sheet: async (...asked) => (await import('./export/index.ts')).scores.sheet(...asked),
  staff: async (...asked) => (await import('./export/index.ts')).scores.staff(...asked),
  voicings: async (...asked) => (await import('./export/index.ts')).scores.voicings(...asked),
  read: async (file) => (await import('./export/index.ts')).scores.read(file),
};

/** What the player likes, kept by the browser; a browser that keeps nothing is no error. */
function localPreferences(): PreferenceKeeper {
  const name = 'vampwright-preferences';
  return {
    read() {
      try {
        const kept: unknown = JSON.parse(localStorage.getItem(name) ?? 'null');
        return typeof kept === 'object' ? kept : null;
      } catch {
        return null;
      }
    },
    write(values) {
      try {
        localStorage.setItem(name, JSON.stringify(values));
      } catch {
        // Nothing is lost but the wish itself: the page goes on with the values it has.
      }
    },
  };
}

function whenIdle(work: () => void): void {
  if ('requestIdleCallback' in window) requestIdleCallback(work, { timeout: 3000 });
  else setTimeout(work, 1000);
}

void main();

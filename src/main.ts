import { mount } from 'svelte';
import { playerOnDemand } from './audio/on-demand.ts';
import type { Opened, Trouble } from './engine/index.ts';
import {
  decodeLink,
  encodeLink,
  FILE_ENDING,
  openDevice,
  readPresets,
  readProject,
  writeProject,
} from './storage/index.ts';
import App from './ui/App.svelte';
import type { PreferenceKeeper } from './ui/preferences.svelte.ts';
import { Session } from './ui/session.svelte.ts';

/** The one place where the page, the sound and the device are put together. */
async function main(): Promise<void> {
  const player = playerOnDemand();
  const device = openDevice();
  const presets = readPresets();
  const { opened, trouble } = await firstChart();
  const project = opened?.project ?? presets[0]!.project;

  const session = new Session({
    player,
    presets,
    project,
    keep: (changed) => device.keep(changed),
    preferences: localPreferences(),
    exchange: { write: writeProject, read: readProject, link: encodeLink, ending: FILE_ENDING },
  });
  device.watch((news) => {
    if (news.type === 'failed' || news.type === 'temporary') session.say(sentence(news.trouble));
    if (news.type === 'kept-both') {
      session.keepAs(news.as);
      session.say('Another window has changed this chart. Both are kept: that one, and yours beside it.');
    }
  });
  mount(App, { target: document.getElementById('app')!, props: { session } });
  if (trouble !== null) session.say(sentence(trouble));
  else if (opened !== null && opened.notices.length > 0) {
    session.say(`Opened, but not everything was understood: ${opened.notices.map(noticed).join('; ')}.`);
  }
  addEventListener('pagehide', () => void device.settle());
  whenIdle(() => player.prepare());

  /** The chart in the link, else the one last worked on, else none. */
  async function firstChart(): Promise<{ opened: Opened | null; trouble: Trouble | null }> {
    const fragment = location.hash.slice(1);
    if (fragment !== '') {
      const linked = await decodeLink(fragment);
      if (linked.ok) return { opened: linked.value, trouble: null };
      const last = await device.last();
      return { opened: last.ok ? last.value : null, trouble: linked.error };
    }
    const last = await device.last();
    return last.ok ? { opened: last.value, trouble: null } : { opened: null, trouble: last.error };
  }
}

const sentence = ({ message, remedy }: Trouble) => `${message} ${remedy}`;
const noticed = ({ place, message }: { place: string; message: string }) => `${place}: ${message}`;

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

/**
 * Runs before anything is drawn: shows the page in the light that was chosen, and keeps a press of Play until
 * the band is there. A script of its own, sent ahead of the rest; see `index.ts` for the page's side.
 */

interface Arrival {
  /** Whether the band is asked to play. */
  pressed: boolean;
  /** Made within the press, as browsers demand. */
  context: AudioContext | null;
}

(() => {
  const root = document.documentElement;
  const arrival: Arrival = { pressed: false, context: null };
  Object.assign(globalThis, { arrival });

  const kept = (name: string): Readonly<Record<string, unknown>> | null => {
    try {
      const value: unknown = JSON.parse(localStorage.getItem(name) ?? 'null');
      return typeof value === 'object' ? (value as Readonly<Record<string, unknown>>) : { value };
    } catch {
      return null;
    }
  };
  const preferences = kept('vampwright-preferences');
  const theme = preferences?.['theme'];
  if (theme === 'day' || theme === 'night') root.dataset['theme'] = theme;
  if (preferences?.['tour'] === 'answered') root.dataset['toured'] = '';
  const hasBeenHere = preferences !== null || kept('vampwright-visited') !== null;
  const isInstalled = 'serviceWorker' in navigator && navigator.serviceWorker.controller !== null;
  if (hasBeenHere || isInstalled || location.hash.length > 1) root.dataset['known'] = '';

  const button = () => document.querySelector<HTMLElement>('#shell .play button');

  function press() {
    arrival.pressed = !arrival.pressed;
    if (arrival.pressed) {
      arrival.context ??= new AudioContext({ latencyHint: 'interactive' });
      void arrival.context.resume();
    }
    const word = button()?.querySelector('.word');
    if (word) word.textContent = arrival.pressed ? 'Loading' : 'Play';
  }

  addEventListener('click', ({ target }) => {
    if (target instanceof Node && button()?.contains(target)) press();
  });
  addEventListener('keydown', (event) => {
    if (event.code !== 'Space' || event.repeat || event.ctrlKey || event.metaKey || event.altKey) return;
    if (button() === null || event.target !== document.body) return;
    event.preventDefault();
    press();
  });
  addEventListener(
    'error',
    ({ target }) => {
      if (target instanceof HTMLScriptElement) document.querySelector('.missing')?.removeAttribute('hidden');
    },
    true,
  );
})();

// A module to the type checker; the build takes this line out.
export {};

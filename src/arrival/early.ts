/**
 * Runs before anything is drawn: shows the page in the light that was chosen and in its own faces, and keeps
 * what is pressed until the app is there to do it. A script of its own, sent ahead of the rest; see `index.ts`
 * for the page's side.
 */

interface Arrival {
  /** Whether the band is asked to play. */
  pressed: boolean;
  /** What else was pressed, in this order: buttons by their names, and keys. */
  readonly asked: (string | KeyboardEventInit)[];
  /** Made within the press, as browsers demand. */
  context: AudioContext | null;
  /** Resolves once the first view may be drawn. */
  drawn: Promise<void>;
}

/** What the first view is set in: a face, and of which letters. */
const FACES = [
  ['450 1em Text', 'a'],
  ['680 1em Chords', 'C'],
  ['450 1em Signs', '♭'],
  ['680 1em Signs', '♭'],
] as const;
/** Longer than this after the styles the faces are not waited for, ms: others stand in until they come. */
const PATIENCE_MS = 500;

(() => {
  const root = document.documentElement;
  let draw = () => {};
  const arrival: Arrival = {
    pressed: false,
    asked: [],
    context: null,
    drawn: new Promise((resolve) => (draw = resolve)),
  };
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

  root.dataset['faces'] = '';
  void arrival.drawn.then(() => delete root.dataset['faces']);
  // A window does not hear of what its parts have loaded.
  document.addEventListener(
    'load',
    ({ target }) => {
      if (!(target instanceof HTMLLinkElement) || target.rel !== 'stylesheet') return;
      const faces = FACES.map(([face, letters]) => document.fonts.load(face, letters));
      void Promise.all(faces).then(draw, draw);
      setTimeout(draw, PATIENCE_MS);
    },
    true,
  );

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
    const pressed = target instanceof Element && target.closest<HTMLElement>('#shell button');
    if (!pressed) return;
    if (pressed === button()) return press();
    pressed.dataset['asked'] = '';
    arrival.asked.push((pressed.ariaLabel ?? pressed.textContent).trim());
  });
  addEventListener('keydown', (event) => {
    const { code, key, shiftKey } = event;
    if (event.repeat || event.ctrlKey || event.metaKey || event.altKey) return;
    if (button() === null || event.target !== document.body) return;
    if (code !== 'Space') {
      arrival.asked.push({ code, key, shiftKey, bubbles: true, cancelable: true });
      return;
    }
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

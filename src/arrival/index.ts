/** The page's side of what happens before the app is there: see `early.ts`. */

interface Arrival {
  readonly pressed: boolean;
  readonly asked: readonly (string | KeyboardEventInit)[];
  readonly context: AudioContext | null;
  readonly drawn: Promise<void>;
}

const arrival = () => (globalThis as { readonly arrival?: Arrival }).arrival;

/** What a press of Play has made before the app was there; null when there was none. */
export const earlyContext = (): AudioContext | null => arrival()?.context ?? null;

/** How long a picture is waited for, ms: a page that nobody sees paints none. */
const PATIENCE_MS = 200;

/** Resolves once whatever was pressed meanwhile has been heard; a timer would wait 4 ms each time. */
export const heard = (): Promise<void> =>
  'scheduler' in globalThis && 'yield' in scheduler
    ? scheduler.yield()
    : new Promise((resolve) => setTimeout(resolve));

/** Resolves once what stands in the page has been painted. */
export async function painted(): Promise<void> {
  await arrival()?.drawn;
  await new Promise((resolve) => {
    requestAnimationFrame(() => setTimeout(resolve));
    setTimeout(resolve, PATIENCE_MS);
  });
}

/**
 * Puts the app, which stands ready, in place of what was drawn before it, and does what was pressed meanwhile.
 * @returns true when Play was pressed, too
 */
export async function takePlace(): Promise<boolean> {
  const shell = document.querySelector('#shell');
  if (shell === null) return false;
  const focused = shell.querySelector<HTMLElement>('button:focus');
  const play = shell.querySelector('.play button');
  // A finger that still lies on it would come up over the app's.
  const pressed = (arrival()?.pressed ?? false) !== (play?.matches(':active') ?? false);
  shell.remove();
  if (focused === play) document.querySelector<HTMLElement>('.dock .play button')?.focus(STILL);
  else if (focused !== null) named(nameOf(focused))?.focus(STILL);
  remember();
  for (const one of arrival()?.asked ?? []) {
    if (typeof one === 'string') named(one)?.click();
    else for (const type of ['keydown', 'keyup']) document.body.dispatchEvent(new KeyboardEvent(type, one));
    await heard();
  }
  return pressed;
}

const STILL = { preventScroll: true };

const nameOf = (button: HTMLElement) => (button.ariaLabel ?? button.textContent).trim();

/** The app's button of this name. */
const named = (name: string) =>
  [...document.querySelectorAll<HTMLElement>('#app button')].find(
    (button) => nameOf(button) === name && button.checkVisibility(),
  );

/** Says that the app is not there, and what to do. */
export function sayMissing(): void {
  document.querySelector('.missing')?.removeAttribute('hidden');
}

/** The next visit does not begin with the chart of the first. */
function remember() {
  try {
    localStorage.setItem('vampwright-visited', 'true');
  } catch {
    // A browser that keeps nothing has no chart to mistake it for either.
  }
}

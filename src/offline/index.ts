/** The page's side of working without a network: see `worker.ts`. */

/** How often a page that stays open asks for a newer version, ms; our choice. */
const ASK_EVERY_MS = 60 * 60 * 1000;
/** How long the start waits for a newer version to take over, ms. */
const PATIENCE_MS = 3000;

const container = (): ServiceWorkerContainer | undefined =>
  'serviceWorker' in navigator ? navigator.serviceWorker : undefined;

/**
 * At the start, before anything is open: if a newer version has been waiting, it takes over and the page
 * loads again. True when it does; nothing more should be done then.
 */
export async function startNewest(): Promise<boolean> {
  const workers = container();
  if (!workers?.controller) return false;
  const registration = await workers.getRegistration().catch(() => undefined);
  if (!registration?.waiting) return false;
  const late = new Promise<false>((resolve) => setTimeout(() => resolve(false), PATIENCE_MS));
  const tookOver = await Promise.race([takeOver(registration.waiting), late]);
  if (tookOver) location.reload();
  return tookOver;
}

/**
 * Keeps the app on this device from now on.
 * @param onNewer is called when a newer version is ready, with what puts it in place and loads the page
 *   again; uncalled, it comes at the next start
 */
export async function keepOffline(onNewer: (use: () => void) => void): Promise<void> {
  const registration = await container()
    ?.register('./sw.js', { updateViaCache: 'none' })
    .catch(() => undefined);
  if (!registration) return;
  const look = (worker: ServiceWorker | null) => {
    if (worker?.state === 'installed' && container()?.controller)
      onNewer(() => void takeOver(worker).then(() => location.reload()));
  };
  look(registration.waiting);
  registration.addEventListener('updatefound', () => {
    const worker = registration.installing;
    worker?.addEventListener('statechange', () => look(worker));
  });
  setInterval(() => {
    if (document.visibilityState === 'visible') registration.update().catch(() => undefined);
  }, ASK_EVERY_MS);
}

/** Resolves once `worker` answers for this page. */
function takeOver(worker: ServiceWorker): Promise<true> {
  return new Promise((resolve) => {
    container()?.addEventListener('controllerchange', () => resolve(true), { once: true });
    worker.postMessage('take over');
  });
}

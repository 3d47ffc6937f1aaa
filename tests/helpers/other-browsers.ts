import { spawn, type ChildProcess } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { WebSocket } from 'ws';
import { needPrograms } from '../../src/tools/programs.mjs';

/** A browser of another make with one page. */
export interface OtherBrowser {
  open(address: string): Promise<void>;
  /** What an expression is worth in the page; it may be a promise. */
  ask(expression: string): Promise<unknown>;
  /** Presses a key and lets it go. */
  press(key: string): Promise<void>;
  close(): Promise<void>;
}

const later = (milliseconds: number) => new Promise((resolve) => setTimeout(resolve, milliseconds));

/** A press of a key, as both standards write it. */
const pressed = (value: string) => [
  { type: 'key', id: 'keys', actions: ['keyDown', 'keyUp'].map((type) => ({ type, value })) },
];

/** What Firefox answers to a command, or says of itself. */
interface Answer {
  readonly id: number;
  readonly type: 'success' | 'error' | 'event';
  readonly result: never;
  readonly message: string;
}

/** Firefox, driven by WebDriver BiDi (W3C). */
export async function openFirefox(): Promise<OtherBrowser> {
  const [firefox = ''] = await needPrograms({ 'firefox-esr': 'firefox-esr' });
  const profile = mkdtempSync(join(tmpdir(), 'firefox-'));
  const program = spawn(firefox, ['--headless', '--remote-debugging-port=0', '--profile', profile]);
  const socket = new WebSocket(`${await said(program, /listening on (ws:\S+)/)}/session`);
  await new Promise((resolve, reject) => socket.once('open', resolve).once('error', reject));
  const waiting = new Map<number, { resolve: (result: never) => void; reject: (reason: Error) => void }>();
  socket.on('message', (data: Buffer) => {
    const { id, type, result, message } = JSON.parse(data.toString()) as Answer;
    if (type === 'error') waiting.get(id)?.reject(new Error(message));
    else waiting.get(id)?.resolve(result);
  });
  let sent = 0;
  const send = <T>(method: string, params: object = {}) =>
    new Promise<T>((resolve, reject) => {
      waiting.set(++sent, { resolve, reject });
      socket.send(JSON.stringify({ id: sent, method, params }));
    });
  await send('session.new', { capabilities: {} });
  const { contexts } = await send<{ contexts: { context: string }[] }>('browsingContext.getTree');
  const { context } = contexts[0]!;
  return {
    open: async (url) => void (await send('browsingContext.navigate', { context, url, wait: 'complete' })),
    async ask(expression) {
      const answer = await send<{ result?: { value: string }; exceptionDetails?: { text: string } }>(
        'script.evaluate',
        {
          expression: `(async () => JSON.stringify(await (${expression})))()`,
          target: { context },
          awaitPromise: true,
        },
      );
      if (answer.result === undefined) throw new Error(answer.exceptionDetails?.text);
      return JSON.parse(answer.result.value) as unknown;
    },
    press: async (key) => void (await send('input.performActions', { context, actions: pressed(key) })),
    async close() {
      await send('session.end').catch(() => {});
      socket.close();
      await ended(program);
      rmSync(profile, { recursive: true, force: true });
    },
  };
}

const DRIVER_PORT = 4717;
const DISPLAY = ':47';

/** WebKit, of which Safari is made, in its plainest window; driven by WebDriver (W3C). */
export async function openWebKit(): Promise<OtherBrowser> {
  const [driver = '', xvfb = ''] = await needPrograms({ WebKitWebDriver: 'webkit2gtk-driver', Xvfb: 'xvfb' });
  const screen = spawn(xvfb, [DISPLAY, '-screen', '0', '1440x900x24']);
  await later(1000);
  const program = spawn(driver, [`--port=${DRIVER_PORT}`], {
    env: {
      ...process.env,
      DISPLAY,
      LIBGL_ALWAYS_SOFTWARE: '1',
      WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS: '1',
    },
  });
  await later(1000);
  const call = async <T>(method: string, path: string, body?: object): Promise<T> => {
    const answer = await fetch(`http://127.0.0.1:${DRIVER_PORT}/session${path}`, {
      method,
      ...(body && { body: JSON.stringify(body) }),
    });
    const { value } = (await answer.json()) as { value: (T & { error?: string; message?: string }) | null };
    if (value !== null && value.error !== undefined) throw new Error(`${value.error}: ${value.message}`);
    return value as T;
  };
  const { sessionId } = await call<{ sessionId: string }>('POST', '', { capabilities: {} });
  await call('POST', `/${sessionId}/window/rect`, { x: 0, y: 0, width: 1440, height: 900 });
  return {
    open: (url) => call('POST', `/${sessionId}/url`, { url }),
    async ask(expression) {
      const script = `const done = arguments[0]; (async () => JSON.stringify(await (${expression})))().then(done);`;
      return JSON.parse(
        await call<string>('POST', `/${sessionId}/execute/async`, { script, args: [] }),
      ) as unknown;
    },
    press: (key) => call('POST', `/${sessionId}/actions`, { actions: pressed(key) }),
    async close() {
      await call('DELETE', `/${sessionId}`).catch(() => {});
      await ended(program);
      await ended(screen);
    },
  };
}

/** A sound card that nobody hears, without which a browser's audio clock may not move. Returns what ends it. */
export async function silentSoundCard(): Promise<() => Promise<void>> {
  const [server = ''] = await needPrograms({ pulseaudio: 'pulseaudio' });
  const load = ['module-null-sink', 'module-native-protocol-unix'].map((name) => `--load=${name}`);
  const program = spawn(server, ['-n', '--exit-idle-time=-1', ...load]);
  await later(1000);
  return () => ended(program);
}

/** What a program says about itself that fits a pattern's group. */
function said(program: ChildProcess, pattern: RegExp): Promise<string> {
  return new Promise((resolve, reject) => {
    let text = '';
    program.stderr?.on('data', (part: Buffer) => {
      text += part.toString();
      const found = pattern.exec(text)?.[1];
      if (found !== undefined) resolve(found);
    });
    program.once('exit', () => reject(new Error(`it ended, saying: ${text}`)));
  });
}

async function ended(program: ChildProcess): Promise<void> {
  if (program.exitCode !== null) return;
  const gone = new Promise((resolve) => program.once('exit', resolve));
  program.kill();
  await gone;
}

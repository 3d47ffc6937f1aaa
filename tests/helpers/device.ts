import { newProject, type Project } from '../../src/engine/index.ts';
import { openDevice } from '../../src/storage/device.ts';
import type { StorageNews, StoragePort } from '../../src/ui/ports.ts';

const open: StoragePort[] = [];
let count = 0;

/** A name that no library has yet. */
export const freshName = () => `library-${++count}`;

/** A tab on the library called `name`, and what it is told. */
export function tab(name: string, now?: () => number) {
  const port = openDevice({ name, ...(now && { now }) });
  open.push(port);
  const news: StorageNews[] = [];
  port.watch((item) => news.push(item));
  return { port, news };
}

/** Closes every tab that was opened. */
export async function closeTabs(): Promise<void> {
  await Promise.all(open.splice(0).map((port) => port.close()));
}

export const chart = (id: string, text: string, title = 'Study'): Project => newProject({ id, title, text });

/** What was asked for. @throws what went wrong, in words */
export function got<T>(result: { ok: true; value: T } | { ok: false; error: { message: string } }): T {
  if (!result.ok) throw new Error(result.error.message);
  return result.value;
}

/** The texts of all charts in the library, in the order of the alphabet. */
export async function textsIn(port: StoragePort): Promise<string[]> {
  const texts: string[] = [];
  for (const { id } of got(await port.list())) texts.push(got(await port.get(id)).project.text);
  return texts.sort();
}

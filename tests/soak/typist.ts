import { newProject } from '../../src/engine/index.ts';
import { openDevice } from '../../src/storage/index.ts';

/** A page that says what it finds in the library, then types without rest and says what it has typed. */
const ID = 'kept';
const device = openDevice({ name: 'killed-again-and-again' });
const say = (path: string, text: string) => fetch(path, { method: 'POST', body: text });

const [last, list] = [await device.last(), await device.list()];
const found = last.ok ? Number(last.value?.project.text ?? 0) : NaN;
await say('/found', JSON.stringify({ found, charts: list.ok ? list.value.length : NaN }));

let typed = found;
setInterval(() => {
  typed++;
  device.keep(newProject({ id: ID, text: String(typed) }));
  void say('/typed', String(typed));
}, 25);

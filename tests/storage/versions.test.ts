import 'fake-indexeddb/auto';
import fc from 'fast-check';
import { afterEach, describe, expect, it, vi } from 'vitest';
import type { VersionRow } from '../../src/storage/shelf.ts';
import { superfluous } from '../../src/storage/versions.ts';
import type { StoragePort } from '../../src/ui/ports.ts';
import { chart, closeTabs, freshName, got, tab } from '../helpers/device.ts';

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;

afterEach(async () => {
  await closeTabs();
  vi.unstubAllGlobals();
});

async function versionsOf(port: StoragePort, id: string): Promise<string[]> {
  const texts: string[] = [];
  for (const version of got(await port.versions(id))) {
    texts.push(`${version.name}${got(await port.version(version.id)).project.text}`);
  }
  return texts;
}

describe.each([
  ['in the database', false],
  ['in memory', true],
])('versions %s', (_, inMemory) => {
  function at(times: { now: number }) {
    if (inMemory) vi.stubGlobal('indexedDB', undefined);
    return tab(freshName(), () => times.now).port;
  }

  it('keep what stood before the first change after ten minutes', async () => {
    const clock = { now: DAY };
    const port = at(clock);
    await port.put(chart('a', 'first'));
    clock.now += 9 * MINUTE;
    await port.put(chart('a', 'second'));
    expect(await versionsOf(port, 'a')).toEqual([]);
    clock.now += MINUTE;
    await port.put(chart('a', 'third'));
    expect(await versionsOf(port, 'a')).toEqual(['second']);
    clock.now += DAY;
    await port.put(chart('a', 'fourth'));
    expect(await versionsOf(port, 'a')).toEqual(['third', 'second']);
  });

  it('keep a chart at once before most of it goes', async () => {
    const clock = { now: DAY };
    const port = at(clock);
    const long = 'Dm7 | G7 | Cmaj7 | A7alt | Dm7 | G7 | Cmaj7 |';
    await port.put(chart('a', long));
    await port.put(chart('a', `${long} C6 |`));
    expect(await versionsOf(port, 'a')).toEqual([]);
    await port.put(chart('a', ''));
    expect(await versionsOf(port, 'a')).toEqual([`${long} C6 |`]);
  });

  it('that have a name stay, and come back as the chart they are a version of', async () => {
    const clock = { now: DAY };
    const port = at(clock);
    await port.put(chart('a', 'lesson'));
    await port.keepVersion('a', 'Tuesday: ');
    await port.put(chart('a', 'changed'));
    clock.now += 400 * DAY;
    await port.put(chart('a', 'changed again'));
    expect(await versionsOf(port, 'a')).toContain('Tuesday: lesson');
    const [{ id } = { id: '' }] = got(await port.versions('a')).filter(({ name }) => name !== '');
    expect(got(await port.version(id)).project).toEqual(chart('a', 'lesson'));
  });

  it('go with the chart when it is forgotten for good', async () => {
    const clock = { now: DAY };
    const name = freshName();
    const port = inMemory ? at(clock) : tab(name, () => clock.now).port;
    await port.put(chart('a', '1'));
    await port.keepVersion('a', 'kept');
    await port.remove('a');
    if (inMemory) return expect(await versionsOf(port, 'a')).toHaveLength(1);
    clock.now += 31 * DAY;
    expect(await versionsOf(tab(name, () => clock.now).port, 'a')).toEqual([]);
  });
});

describe('as versions grow old', () => {
  const version = (at: number, name = ''): VersionRow => ({
    id: `${at} ${name}`,
    chart: 'a',
    at,
    name,
    file: '',
  });
  const left = (versions: readonly VersionRow[], now: number) => {
    const gone = new Set(superfluous(versions, now));
    return versions.filter((one) => !gone.has(one));
  };

  it('one in ten minutes, an hour, a day and a week is left', () => {
    const now = 1000 * DAY;
    const every = Array.from({ length: 60 * 24 * 60 }, (_, minutes) => version(now - minutes * MINUTE));
    const ages = left(every, now).map(({ at }) => now - at);
    const within = (from: number, to: number) => ages.filter((age) => age >= from && age < to).length;
    expect(within(0, HOUR)).toBe(6);
    expect(within(2 * HOUR, DAY)).toBe(22);
    expect(within(2 * DAY, 30 * DAY)).toBe(28);
    expect(within(37 * DAY, 58 * DAY)).toBe(3);
  });

  it('thinning as one goes leaves what thinning at the end would leave', () => {
    const times = fc.array(fc.integer({ min: 0, max: 90 * 24 * 60 }), { maxLength: 200 });
    fc.assert(
      fc.property(times, (minutes) => {
        const all = [...new Set(minutes)].sort((a, b) => a - b).map((minute) => version(minute * MINUTE));
        const end = 90 * DAY;
        let kept: readonly VersionRow[] = [];
        for (const one of all) kept = left([...kept, one], one.at);
        expect(left(kept, end)).toEqual(left(all, end));
      }),
    );
  });

  it('a name keeps it', () => {
    const named = [version(1, 'a'), version(2, 'b'), version(3)];
    expect(left(named, 1000 * DAY)).toEqual(named);
  });
});

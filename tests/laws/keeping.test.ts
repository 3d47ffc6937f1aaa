import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MOST_BEATS, beatsText, readBeats } from '../../src/storage/beats.ts';
import { readProject, writeProject } from '../../src/storage/file.ts';
import { decodeLink, encodeLink } from '../../src/storage/link.ts';
import { PPQ, ticks } from '../../src/engine/index.ts';
import { anyProject } from '../helpers/projects.ts';

describe('what is kept comes back', () => {
  it('any chart through a file is the same chart', () => {
    fc.assert(
      fc.property(anyProject, (project) => {
        const read = readProject(writeProject(project));
        expect(read.ok && read.value.project).toEqual(project);
      }),
      { numRuns: 500 },
    );
  });

  it('any chart through a link is the same chart', async () => {
    await fc.assert(
      fc.asyncProperty(anyProject, async (project) => {
        const read = await decodeLink(await encodeLink(project));
        expect(read.ok && read.value.project).toEqual(project);
      }),
      { numRuns: 500 },
    );
  });

  it('says nothing about a chart it has written itself', async () => {
    const ours = anyProject.map((project) => ({ ...project, others: {} }));
    await fc.assert(
      fc.asyncProperty(ours, async (project) => {
        const fromFile = readProject(writeProject(project));
        const fromLink = await decodeLink(await encodeLink(project));
        expect(fromFile.ok && fromFile.value.notices).toEqual([]);
        expect(fromLink.ok && fromLink.value.notices).toEqual([]);
      }),
    );
  });

  it('any number of ticks as beats and back is the same number', () => {
    const anyTicks = fc.integer({ min: 0, max: MOST_BEATS * PPQ }).map(ticks);
    fc.assert(
      fc.property(anyTicks, (length) => {
        expect(readBeats(beatsText(length))).toBe(length);
        expect(readBeats(JSON.parse(JSON.stringify(beatsText(length))) as string)).toBe(length);
      }),
      { numRuns: 2000 },
    );
  });
});

import { describe, expect, it } from 'vitest';
import { beats, bpm, newProject, type Project } from '../../src/engine/index.ts';
import { fromBase64Url, toBase64Url } from '../../src/storage/base64url.ts';
import { decodeLink, encodeLink } from '../../src/storage/link.ts';
import { mend } from '../../src/storage/mend.ts';
import { deflate } from '../../src/storage/squeeze.ts';
import { readPresets } from '../../src/storage/presets.ts';

/** Thirty-two bars without a repeat sign, two chords in most bars, two treatments and a rule. */
const FULL: Project = newProject({
  title: 'Thirty-two bars',
  text: [
    '[A] Bbmaj7 G7 | Cm7 F7 | Dm7 G7 | Cm7 F7 | Fm7 Bb7 | Ebmaj7 Ab7 | Dm7 G7 | Cm7 F7 ||',
    '[A] Bbmaj7 G7alt | Cm7 F7alt | Dm7 G7 | Cm7 F7 | Fm7 Bb7 | Ebmaj7 Edim7 | Cm7 F7 | Bb6 ||',
    '[B] Am7b5 | D7(#9,b13) | Dm7b5 | G7b9 | Gm7 | C13(#11) | Cm7 | F7sus4 F7 ||',
    '[A] Bbmaj7 G7 | Cm7 F7 | Dm7 G7 | Cm7 F7 | Fm7 Bb7 | Ebmaj7 Ab7 | Dm7 G7 | Bb6',
  ].join('\n'),
  key: { tonic: 'Bb', mode: 'major' },
  settings: { ...newProject().settings, tempo: bpm(152) },
  layers: {
    placed: [
      { id: 't1', kind: 'altered', bar: 1, at: beats(2), length: beats(2), when: { type: 'every', nth: 2 } },
      { id: 't2', kind: 'altered', bar: 17, at: beats(0), length: beats(4), when: { type: 'always' } },
    ],
    rules: [
      {
        id: 'r1',
        kind: 'altered',
        scope: 'falling-fifth',
        extent: { type: 'last', length: beats(2) },
        bars: null,
        when: { type: 'always' },
      },
    ],
  },
  loop: { bar: 8, at: beats(0), length: beats(8) },
});

/** Made from {@link FULL} when the format was young. */
const V1_LINK =
  '1.Y3BKyk3MMldwl3bONVdwk3bJRbDdcs0VnJKkXSEqHJOQJc0VampkHGMVYNolwaKSuLW7pmRKQMSdksxAmp1iFRylahRczDWULXWSDI01FWoUXKRqFNzNkywVahTcJZwNjTWUDQ1B4s4SbubFpcUmmPYS72ynJDOmkIzMopJK3ZLyfIWkxKJiZqckFh02U6NaHQ4jfgFOQws-k9pYHS5eo9raWB2lHCWraiUnJStLPovaWgCoYw';

async function opened(link: string) {
  const read = await decodeLink(link);
  if (!read.ok) throw new Error(read.error.message);
  return read.value;
}

/** A link of version `version` that holds `json`, its check left out. */
async function linkOf(version: number, json: unknown): Promise<string> {
  const body = await deflate(new TextEncoder().encode(JSON.stringify(json)));
  return `${version}.${toBase64Url(body)}AAA`;
}

describe('a link', () => {
  it('carries a full chart of thirty-two bars in under 300 characters', async () => {
    const link = await encodeLink(FULL);
    expect(link.length).toBeLessThan(300);
    expect(await opened(link)).toEqual({ project: FULL, notices: [] });
  });

  it('needs nothing escaped in the fragment of an address', async () => {
    for (const { project } of readPresets()) {
      const link = await encodeLink(project);
      expect(new URL(`https://example.org/#${link}`).hash).toBe(`#${link}`);
      expect(link).toMatch(/^1\.[\w-]+$/);
    }
  });

  it('made by the first version opens for ever', async () => {
    expect(await opened(V1_LINK)).toEqual({ project: FULL, notices: [] });
  });

  it('opens with its # and with what a letter or a chat puts round it', async () => {
    const link = await encodeLink(FULL);
    for (const around of [`#${link}`, ` ${link}`, `${link}.`, `${link}>`, `${link}\n`, `${link}%20`]) {
      expect((await opened(around)).project, around).toEqual(FULL);
    }
  });

  it('that breaks off gives the chart as far as it came, and says so', async () => {
    const link = await encodeLink(FULL);
    for (let length = 60; length < link.length; length++) {
      const { project, notices } = await opened(link.slice(0, length));
      expect(FULL.text.startsWith(project.text), `${length}: ${project.text}`).toBe(true);
      expect(project.text).not.toBe('');
      expect(notices[0]!.message).toMatch(/breaks off|changed on the way/);
    }
  });

  it('with one letter changed is never taken for the chart it was', async () => {
    const link = await encodeLink(FULL);
    for (let at = 2; at < link.length - 1; at++) {
      const other = link[at] === 'A' ? 'B' : 'A';
      const read = await decodeLink(link.slice(0, at) + other + link.slice(at + 1));
      if (read.ok) expect(read.value.notices, String(at)).not.toEqual([]);
    }
  });

  it('that was damaged on the way opens as far as the damage, and a little beyond at most', async () => {
    const link = await encodeLink(FULL);
    let opened = 0;
    for (let at = 100; at < link.length - 1; at++) {
      const other = link[at] === 'A' ? 'B' : 'A';
      const read = await decodeLink(link.slice(0, at) + other + link.slice(at + 1));
      if (!read.ok) continue;
      opened++;
      expect(read.value.project.text.slice(0, 60)).toBe(FULL.text.slice(0, 60));
    }
    expect(opened).toBeGreaterThan((link.length - 100) / 2);
  });

  it('of a newer version opens with what is understood, and says what was not', async () => {
    const { project, notices } = await opened(
      await linkOf(7, { c: 'C7alt', t: 'New', Q: { deep: 1 }, b: { T: 90, q: 1 }, x: { lights: 'dim' } }),
    );
    expect(project).toMatchObject({ text: 'C7alt', title: 'New', settings: { tempo: 90 } });
    expect(project.others).toEqual({ Q: { deep: 1 }, lights: 'dim' });
    expect(notices.map((notice) => notice.place)).toEqual(
      expect.arrayContaining(['the file', 'band, q', 'Q', 'lights']),
    );
  });

  it('cannot pass a field off as another, nor reach a prototype', async () => {
    const { project } = await opened(
      await linkOf(1, JSON.parse('{"c":"C7","x":{"chart":["H7"],"vampwright":9,"__proto__":{"x":1}}}')),
    );
    expect(project.text).toBe('C7');
    expect(Object.keys(project.others)).toEqual([]);
  });

  it.each([
    ['nothing', ''],
    ['a bare sign', '#'],
    ['another fragment', '#about'],
    ['a version alone', '1.'],
    ['a version that is none', '0.AAAA'],
    ['other letters', '1.****'],
    ['an escape', '%'],
    ['no deflate data', '1.AAAA'],
    ['three million letters', `1.${'A'.repeat(3_000_000)}`],
  ])('that is %s is refused with a reason', async (_, fragment) => {
    const read = await decodeLink(fragment);
    expect(read.ok).toBe(false);
    if (!read.ok) expect(read.error.remedy).not.toBe('');
  });

  it.each([
    ['brackets without end', '['.repeat(900_000)],
    ['commas without end', `{"c":"C7"${','.repeat(900_000)}`],
    ['phrases without end', '\u0012'.repeat(900_000)],
    ['a string without end', `{"c":"${'\\"'.repeat(400_000)}`],
  ])('that holds %s is answered all the same', async (_, json) => {
    const body = await deflate(new TextEncoder().encode(json));
    const read = await decodeLink(`1.${toBase64Url(body)}AAA`);
    if (read.ok) expect(read.value.notices).not.toEqual([]);
    else expect(read.error.message).not.toBe('');
  });

  it('that would unpack to fifty million letters is refused', async () => {
    const body = await deflate(new TextEncoder().encode(`{"c":"${' '.repeat(50_000_000)}"}`));
    const read = await decodeLink(`1.${toBase64Url(body)}`);
    expect(read).toMatchObject({
      ok: false,
      error: { message: expect.stringMatching(/more than a chart/) as string },
    });
  });
});

describe('what links are made of', () => {
  it('base64url agrees with the examples of RFC 4648 but for the padding', () => {
    const examples = {
      '': '',
      f: 'Zg',
      fo: 'Zm8',
      foo: 'Zm9v',
      foob: 'Zm9vYg',
      fooba: 'Zm9vYmE',
      foobar: 'Zm9vYmFy',
    };
    for (const [plain, coded] of Object.entries(examples)) {
      expect(toBase64Url(new TextEncoder().encode(plain))).toBe(coded);
      expect(new TextDecoder().decode(fromBase64Url(coded)!)).toBe(plain);
    }
    expect(toBase64Url(Uint8Array.of(251, 255, 191))).toBe('-_-_');
  });

  it('a JSON object cut anywhere is mended into one that lacks only what came after', () => {
    const whole = '{"c":"a\\"\\u266d|","p":[{"B":12,"L":3},{"B":2}],"t":"x"}';
    for (let end = 6; end <= whole.length; end++) {
      const mended = JSON.parse(mend(whole.slice(0, end))) as { c: string; p?: { B?: number }[] };
      expect('a"♭|'.startsWith(mended.c), mended.c).toBe(true);
      expect([undefined, 12]).toContain(mended.p?.[0]?.B);
    }
  });
});

import type { Random } from '../../src/engine/index.ts';

/** What breaks careless readers. */
const POISON = [
  '"__proto__":{"x":1},',
  '"constructor":{"prototype":{"x":1}},',
  '[[[[[[[[',
  '{"a":'.repeat(50),
  '1e999',
  '-0',
  '1e-400',
  '99999999999999999999',
  'null',
  'true',
  '""',
  '"\\ud800"',
  '\u0000',
  '"1/0"',
  '"999999 1/3"',
  '\\',
  '"',
  ',',
  '</script><script>alert(1)</script>',
  'javascript:alert(1)',
  '%00',
  '….',
  '🎸',
];

/** `text` with one to four hurts: letters changed, lost, doubled, moved, cut off or replaced by poison. */
export function mutate(text: string, random: Random): string {
  let hurt = text;
  for (let times = 1 + random.below(4); times > 0; times--) hurt = mutateOnce(hurt, random);
  return hurt;
}

function mutateOnce(text: string, random: Random): string {
  const at = random.below(text.length + 1);
  const length = 1 + random.below(random.chance(0.5) ? 3 : 40);
  const before = text.slice(0, at);
  const after = text.slice(at + length);
  const piece = text.slice(at, at + length);
  switch (random.below(6)) {
    case 0:
      return (
        before + String.fromCharCode(random.below(random.chance(0.9) ? 128 : 65536)) + text.slice(at + 1)
      );
    case 1:
      return before + after;
    case 2:
      return before + piece + piece + after;
    case 3:
      return before;
    case 4:
      return before + random.pick(POISON) + (random.chance(0.5) ? after : text.slice(at));
    default:
      return after + piece + before;
  }
}

import type * as v from 'valibot';
import { bpm, newProject, ticks, type Practice } from '../engine/index.ts';
import { beatsText, readBeats, type BeatsText } from './beats.ts';
import { readObject } from './fields.ts';
import type { Notices } from './notices.ts';
import { PracticeFields } from './schema.ts';

type File = v.InferOutput<v.ObjectSchema<typeof PracticeFields, undefined>>;

/** What is practised, as the chart file holds it; nothing where all is off. */
export function practiceToFile(practice: Practice): { practice?: File } {
  const { runUp, landing, rest, countIn, ladder, keys, dropout } = practice;
  const file: File = {
    ...(runUp > 0 && { runUp: beatsText(runUp) }),
    ...(landing > 0 && { landing: beatsText(landing) }),
    ...(rest > 0 && { rest }),
    ...(countIn > 0 && { countIn }),
    ...(ladder && { ladder }),
    ...(keys && { keys }),
    ...(dropout && { dropout }),
  };
  return Object.keys(file).length === 0 ? {} : { practice: file };
}

export function readPractice(raw: unknown, notices: Notices): Practice {
  const usual = newProject().practice;
  const { ladder, dropout, ...file } = readObject(raw, PracticeFields, 'practice', notices);
  const length = (beats: BeatsText | undefined) =>
    (beats === undefined ? null : readBeats(beats)) ?? ticks(0);
  const possible = dropout === undefined || dropout.bars < dropout.every;
  if (!possible) notices.refuse('practice, dropout', dropout, 'fewer bars than those they are taken from');
  return {
    runUp: length(file.runUp),
    landing: length(file.landing),
    rest: file.rest ?? usual.rest,
    countIn: file.countIn ?? usual.countIn,
    ladder: ladder === undefined ? null : { ...ladder, from: bpm(ladder.from), to: bpm(ladder.to) },
    keys: file.keys ?? null,
    dropout: dropout !== undefined && possible ? dropout : null,
  };
}

export * from './types.ts';
export { courseOf, type Course } from './course.ts';
export { groupOf, layNotes } from './lay.ts';
export { performanceOf, scriptOf, type LayDrill } from './script.ts';
export { summarize, type ChorusSummary } from './summary.ts';
export { summaryWords } from './words.ts';

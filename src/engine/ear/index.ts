export * from './record.ts';
